"""Small and hostile records: every tab opens without an error, and text from the records stays text."""

from __future__ import annotations

import re
from urllib.parse import quote

import pandas as pd
import pytest
from playwright.sync_api import expect

from tests.browser import pages
from tests.browser.sets import HOSTILE_NAMES


def through_every_tab(page) -> None:
    for tab in (*pages.TABS[1:], pages.TABS[0]):
        pages.open_tab(page, tab)


# Every view of each set is built without a browser, too.
@pytest.mark.slow
@pytest.mark.parametrize("small_site", ["hostile", *(pytest.param(name, marks=pytest.mark.slow) for name in ("no_rows", "no_values", "one_cultivar"))], indirect=True)  # fmt: skip
def test_every_tab_opens_without_an_error(small_site, visit):
    """With a market, a shortlist, an opened cultivar and the other units; in one set also with nothing chosen."""
    name = quote(HOSTILE_NAMES[0] if small_site.source.name == "hostile" else "Alvane")
    page = visit(
        small_site, f"?v=1&market=roadside_stand&shortlist={name}&chosen={name}&cultivar={name}&units=si"
    )
    expect(page.locator("p.notice")).to_have_count(0)
    through_every_tab(page)
    if small_site.source.name == "one_cultivar":
        page.goto(small_site.url)
        pages.awaited(page)
        through_every_tab(page)
    assert pages.hurt(page) is None


def test_hostile_names_are_shown_as_they_were_written_and_run_nothing(hostile_site, visit):
    """Opened, chosen in the pictures, put on the shortlist, taken home, and seen under every tab."""
    listed = ",".join(quote(name, safe="") for name in HOSTILE_NAMES)
    page = visit(hostile_site, f"{pages.PICTURED}&market=hostile&shortlist={listed}")
    expect(page.locator("p.notice")).to_have_count(0)
    assert set(HOSTILE_NAMES) <= pages.names(page)
    page.mouse.move(*pages.mark(page, HOSTILE_NAMES[0]))
    expect(page.locator(".bk-Tooltip b")).to_have_text(HOSTILE_NAMES[0])
    pages.draw_box(page, 0, (0.25, 0.15), (0.95, 0.8))
    expect(page.get_by_text(re.compile("cultivars? chosen:"))).to_be_visible()
    for name in HOSTILE_NAMES[:3]:
        page.get_by_role("button", name=name, exact=True).click()
        expect(page.get_by_role("heading", name=name, exact=True, level=2)).to_be_visible()
        pages.open_tab(page, "Candidates")
    pages.open_tab(page, "Season")
    pages.open_tab(page, "My slate")
    expect(pages.rows(page)).to_have_count(len(HOSTILE_NAMES))
    assert pages.names(page) == set(HOSTILE_NAMES)
    pages.open_sheet(page, "Share")
    with page.expect_download() as coming:
        pages.press_download(page, "List as .xlsx")
    assert set(pd.read_excel(coming.value.path(), engine="calamine")["Cultivar"]) == set(HOSTILE_NAMES)
    pages.close_sheet(page)
    pages.open_tab(page, "Records")
    assert pages.hurt(page) is None


def test_a_hostile_market_and_a_name_found_by_typing_run_nothing(hostile_site, visit):
    page = visit(hostile_site, "?v=1&market=hostile&tab=cultivar")
    expect(pages.headline(page)).to_contain_text("<img src=x onerror=window.hurt=1> & =1+1")
    page.get_by_text("Asks for").click()
    expect(page.get_by_text("<svg onload=window.hurt=1>")).to_be_visible()
    page.get_by_label(re.compile("type part of its name")).fill("onerror")
    page.get_by_role("option", name=HOSTILE_NAMES[0]).click()
    expect(page.get_by_role("heading", name=HOSTILE_NAMES[0], exact=True, level=2)).to_be_visible()
    assert pages.hurt(page) is None
