"""A browser that keeps to the page's policy keeps the whole page working, and stops what text from records must never do."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser import pages
from tests.browser.pages import KEYS, TABS

REPORT = """addEventListener('securitypolicyviolation', (seen) => {
  (globalThis.broken ??= []).push(`${seen.effectiveDirective}: ${seen.blockedURI} ${seen.sample}`);
});"""


@pytest.fixture(scope="module", autouse=True)
def watched(desk) -> None:
    desk.add_init_script(REPORT)


def broken(page: Page) -> list[str]:
    """Where the page went against its policy."""
    return page.evaluate("globalThis.broken ?? []")


def test_no_tab_and_no_picture_goes_against_the_policy(demo_site, visit):
    page = visit(demo_site, f"{pages.PICTURED}&market=roadside_stand&shortlist=")
    for name in TABS:
        pages.open_tab(page, name)
    pages.until(page, "window.Bokeh.documents[0].is_idle")
    assert broken(page) == []


@pytest.mark.slow
def test_what_is_done_by_hand_goes_not_against_the_policy(demo_site, visit):
    page = visit(demo_site, pages.PICTURED)
    first = pages.rows(page).first.get_attribute("data-id")
    page.mouse.move(*pages.mark(page, first))  # what it is called
    page.mouse.click(*pages.mark(page, first))
    pages.draw_box(page)
    pages.until(page, "window.Bokeh.documents[0].is_idle")
    pages.tick(page, "white").check()
    page.wait_for_url("**/*flesh_colour=white*")
    pages.open_tab(page, "My slate")
    pages.open_sheet(page, "Share")
    page.get_by_role("button", name="Copy the link to this view").click()
    expect(
        page.get_by_role("button", name=re.compile("^(Copied|Copy it from the address bar)$"))
    ).to_be_visible()
    pages.until(page, "window.Bokeh.documents[0].is_idle")
    assert broken(page) == []


@pytest.mark.slow
@pytest.mark.parametrize("key", KEYS)
def test_no_tab_in_the_hall_goes_against_the_policy(demo_site, visit, key):
    page = visit(demo_site, f"?v=1&look=hall&tab={key}")
    assert broken(page) == []


@pytest.mark.slow
def test_files_can_be_taken_home_within_the_policy(demo_site, visit):
    page = visit(demo_site, "?v=1&tab=shortlist")
    pages.open_tab(page, "Candidates")
    pages.rows(page).first.locator("button").first.click()
    pages.open_tab(page, "My slate")
    pages.open_sheet(page, "Share")
    for label in ("List as .csv", "List as .xlsx", "Handout as .pdf"):
        with page.expect_download() as taken:
            pages.press_download(page, label)
        assert taken.value.path().stat().st_size > 1000
    assert broken(page) == []


def test_a_handler_written_into_the_page_does_not_run(demo_site, chromium):
    """What would run if text from records ever stood on the page as it is."""
    context = chromium.new_context()
    context.add_init_script(REPORT)
    page = context.new_page()
    page.goto(demo_site.url)
    pages.awaited(page)
    page.evaluate("""() => {
      const put = document.createElement('div');
      put.innerHTML = '<img src="data:," onerror="globalThis.hurt = 1"><a id="trap" href="javascript:globalThis.hurt = 2">x</a>';
      document.body.append(put);
      const script = document.createElement('script');
      script.textContent = 'globalThis.hurt = 3';
      document.body.append(script);
      document.getElementById('trap').click();
    }""")
    pages.until(page, "globalThis.broken?.length >= 3")
    assert pages.hurt(page) is None
    context.close()
