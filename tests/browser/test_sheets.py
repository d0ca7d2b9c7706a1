"""What leaves the page and what is shown in a hall: two sheets under the top line, each opened and closed by press, by keys and beside it."""

from __future__ import annotations

import re
from urllib.parse import urlsplit

import pytest
import segno
from playwright.sync_api import Page, expect

from dashboard.charts.code import QUIET_ZONE
from dashboard.page.sheets import ALL_THAT_PASS, LISTS
from dashboard.visit.network_address import ALONE, own_address
from tests.browser import pages
from tests.browser.axe import found
from tests.charts.modules import modules

LISTED = "?v=1&market=roadside_stand&shortlist=Albavik,Aldrum"
SLOW = 60_000  # ms: the process beside the server is started for the first file, and reads the records


def opener(page: Page, name: str):
    return page.get_by_role("button", name=name, exact=True)


@pytest.mark.slow
@pytest.mark.parametrize("device", ["desk", "phone"])
def test_each_is_opened_and_closed_by_press_by_escape_and_beside_it(demo_site, visit, device, request):
    page = visit(demo_site, LISTED, request.getfixturevalue(device))
    for name in ("Share", "Present"):
        sheet, button = page.get_by_role("dialog", name=name), opener(page, name)
        expect(sheet).to_be_hidden()
        expect(button).to_have_attribute("aria-expanded", "false")
        pages.open_sheet(page, name)
        expect(button).to_have_attribute("aria-expanded", "true")
        assert found(page) == [], name
        box, wide = sheet.bounding_box(), page.viewport_size
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= wide["width"]
        assert box["y"] + box["height"] <= wide["height"]
        sheet.get_by_role("button").first.focus()
        page.keyboard.press("Escape")
        expect(sheet).to_be_hidden()
        expect(button).to_be_focused()
        button.press("Enter")
        expect(sheet).to_be_visible()
        button.click()
        expect(sheet).to_be_hidden()
        button.click()
        expect(sheet).to_be_visible()
        page.mouse.click(2, wide["height"] - 80)  # beside it
        expect(sheet).to_be_hidden()
    opener(page, "Share").click()
    opener(page, "Present").click()  # the one gives way to the other
    expect(page.get_by_role("dialog", name="Share")).to_be_hidden()
    expect(page.get_by_role("dialog", name="Present")).to_be_visible()


@pytest.mark.slow
def test_every_file_the_link_and_the_code_are_to_be_had(demo_site, visit, chromium):
    context = chromium.new_context(accept_downloads=True, permissions=["clipboard-read", "clipboard-write"])
    page = visit(demo_site, LISTED, context)
    sheet = pages.open_sheet(page, "Share")
    for label, file in {**LISTS, **ALL_THAT_PASS}.items():
        with page.expect_download(timeout=SLOW) as coming:
            sheet.get_by_role("button", name=label, exact=True).click()
        assert coming.value.suggested_filename == file
        assert coming.value.path().read_bytes()[:4] == {"pdf": b"%PDF", "xlsx": b"PK\x03\x04", "csv": b"\xef\xbb\xbfC", "html": b"<!do"}[file.rsplit(".")[-1]]  # fmt: skip
        expect(sheet.get_by_role("button", name=label, exact=True)).to_have_attribute(
            "aria-disabled", "false"
        )
    sheet.get_by_role("button", name="Copy the link to this view").click()
    expect(sheet.get_by_role("button", name="Copied")).to_be_visible()
    assert page.evaluate("navigator.clipboard.readText()") == page.url
    assert "shortlist=Albavik,Aldrum" in page.url
    expect(sheet).to_contain_text(ALONE)  # this server lets nobody else in
    context.close()


@pytest.mark.slow
def test_the_code_is_of_the_view_that_stands(open_site, visit):
    if not own_address():
        pytest.skip("this machine is in no network")
    page = visit(open_site, LISTED)
    sheet = pages.open_sheet(page, "Share")
    drawn = sheet.locator("svg")
    expect(drawn).to_be_visible()
    query = urlsplit(page.url).query
    address = f"http://{own_address()}:{open_site.port}/?{query}"
    expected = [[bool(one) for one in row] for row in segno.make_qr(address, error="l").matrix]
    seen = modules(drawn.evaluate("svg => svg.outerHTML"))
    assert [row[QUIET_ZONE:-QUIET_ZONE] for row in seen[QUIET_ZONE:-QUIET_ZONE]] == expected
    page.keyboard.press("Escape")
    pages.tick(page, "white").check()
    page.wait_for_url(re.compile("flesh_colour=white"))
    pages.open_sheet(page, "Share")
    expect(drawn).to_be_visible()
    assert modules(drawn.evaluate("svg => svg.outerHTML")) != seen
