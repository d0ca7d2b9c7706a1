"""The running order in the browser: kept, moved, stepped, saved to a file, kept over a reload, brought again; bad files are told."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from dashboard.visit import saved_views as prepared
from dashboard.visit.saved_views import View
from tests.browser import pages

HOSTILE = '<img src=x onerror=window.hurt=1> & "quotes"'


def presenting(page: Page) -> Page:
    pages.open_sheet(page, "Present")
    expect(page.get_by_role("heading", name="Prepared views")).to_be_visible()
    return page


def keep(page: Page, name: str) -> None:
    page.get_by_label("name of this view").fill(name)
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_role("button", name=name, exact=True)).to_be_visible()
    expect(page.get_by_label("name of this view")).to_have_value("")


def listed(page: Page) -> list[str]:
    return page.locator("ol button.open").all_inner_texts()


def bring(page: Page, path: Path) -> None:
    page.get_by_label("Open a list").set_input_files(path)


@pytest.mark.slow
def test_a_running_order_is_made_stepped_through_saved_and_brought(demo_site, visit, chromium, tmp_path):
    page = presenting(visit(demo_site, "", chromium.new_context(accept_downloads=True)))
    keep(page, "everything")
    pages.tick(page, "white").check()  # a press beside the sheet closes it
    keep(presenting(page), HOSTILE)
    assert listed(page) == ["everything", HOSTILE]
    assert "everything" not in page.url
    page.get_by_role("button", name="Move down: everything").click()
    expect(page.locator("ol button.open").first).to_have_text(HOSTILE)

    page.get_by_role("button", name="Next view").click()
    expect(page.locator('[aria-current="true"]')).to_have_text(HOSTILE)
    page.get_by_role("button", name="Next view").click()
    expect(pages.tick(page, "white")).not_to_be_checked()
    expect(page.get_by_role("button", name="Next view")).to_be_disabled()
    page.get_by_role("button", name="Previous view").click()
    expect(pages.tick(page, "white")).to_be_checked()

    with page.expect_download() as saved:
        page.get_by_role("button", name="Save the list").click()
    path = tmp_path / "evening.toml"
    saved.value.save_as(path)
    views, faults = prepared.read(path.read_bytes())
    assert ([view.name for view in views], faults) == ([HOSTILE, "everything"], [])

    page.reload()
    presenting(pages.awaited(page))
    expect(page.locator("ol button.open")).to_have_text([HOSTILE, "everything"])
    page.get_by_role("button", name="Take off: everything").click()
    expect(page.locator("ol button.open")).to_have_text([HOSTILE])
    bring(page, path)
    expect(page.locator("ol button.open")).to_have_text([HOSTILE, "everything"])
    assert page.locator("ol img").count() == 0
    assert pages.hurt(page) is None
    page.context.close()


def test_a_bad_list_is_told_and_a_large_one_is_not_sent(demo_site, visit, tmp_path):
    page = presenting(visit(demo_site))
    bad = tmp_path / "bad.toml"
    bad.write_text("view = [", encoding="utf-8")
    bring(page, bad)
    faults = page.locator(".faults p")
    expect(faults).to_have_count(1)
    expect(faults).to_contain_text("is not TOML")

    sizes: list[int] = []
    page.on("websocket", lambda _socket: sizes.append(-1))
    page.evaluate(
        "() => { const send = WebSocket.prototype.send; window.most = 0; WebSocket.prototype.send = function (d) { window.most = Math.max(window.most, d.length ?? d.byteLength ?? 0); send.call(this, d); }; }"
    )
    large = tmp_path / "large.toml"
    large.write_text("#" * 120_001, encoding="utf-8")
    bring(page, large)
    expect(faults).to_contain_text("120 kB")
    assert sizes == []  # the connection held

    half = tmp_path / "half.toml"
    half.write_text(
        prepared.written([View("good", "?v=1&units=si")]) + '\n[[view]]\nname = "x"\n', encoding="utf-8"
    )
    bring(page, half)
    expect(page.locator("ol button.open")).to_have_text(["good"])
    assert 0 < page.evaluate("window.most") < 10_000  # of all that was sent, this list was the largest
    expect(faults).to_have_count(1)
    expect(faults).to_contain_text("view 2")


@pytest.mark.slow
def test_views_outlive_a_closed_tab_and_two_tabs_lose_nothing(demo_site, visit, chromium):
    context = chromium.new_context(viewport=pages.DESK)
    one = presenting(visit(demo_site, "?v=1&flesh_colour=white", context))
    keep(one, "first")
    two = presenting(visit(demo_site, "", context))
    expect(two.get_by_role("button", name="first", exact=True)).to_be_visible()
    keep(two, "second")
    expect(one.get_by_role("button", name="second", exact=True)).to_be_visible()
    one.get_by_text("Name and notes").first.click()
    one.get_by_label("Notes: first").fill("Ask who sells in June.")
    one.get_by_label("Notes: first").blur()
    expect(two.get_by_text("Notes: Ask who sells in June.")).to_be_visible()
    two.get_by_role("button", name="Take off: second").click()
    expect(one.get_by_role("button", name="second", exact=True)).to_have_count(0)
    one.close()
    two.close()
    again = presenting(visit(demo_site, "", context))
    again.get_by_role("button", name="first", exact=True).click()
    expect(again).to_have_url(re.compile("flesh_colour=white"))
    expect(again.get_by_text("Notes: Ask who sells in June.")).to_be_visible()
    expect(again.locator("ol button.open")).to_have_count(1)
    context.close()
