"""Small and hostile records: every tab opens without an error, and text from the records stays text."""

from __future__ import annotations

import re
from urllib.parse import quote

import pandas as pd
import pytest
from playwright.sync_api import expect

from tests.browser import pages
from tests.browser.sets import HOSTILE_NAMES

MARK_OF_TAB = {
    "Compare fruit": "Tap a mark",
    "Season": re.compile("Season|No picks"),
    "One cultivar": re.compile("Type a name|Where it stands"),
    "Shortlist": "Shortlist",
    "About the records": "What this page stands on",
}


def test_every_tab_opens_without_an_error(small_site, visit):
    page = visit(small_site)
    for tab in (*pages.TABS[1:], pages.TABS[0]):
        pages.open_tab(page, tab)
        expect(page.get_by_text(MARK_OF_TAB[tab]).first).to_be_visible()
    assert pages.hurt(page) is None


def test_every_tab_opens_with_a_market_a_cultivar_and_a_shortlist(small_site, visit):
    """All at once, as from a link; hostile records name their cultivars otherwise."""
    name = quote(HOSTILE_NAMES[0] if small_site.source.name == "hostile" else "Alvane")
    page = visit(
        small_site, f"?v=1&market=roadside_stand&shortlist={name}&chosen={name}&cultivar={name}&units=si"
    )
    expect(page.locator("p.notice")).to_have_count(0)
    for tab in (*pages.TABS[1:], pages.TABS[0]):
        pages.open_tab(page, tab)
        expect(page.get_by_text(MARK_OF_TAB[tab]).first).to_be_visible()
    assert pages.hurt(page) is None


@pytest.mark.parametrize("name", HOSTILE_NAMES)
def test_a_hostile_name_is_shown_as_it_was_written(hostile_site, visit, name, walked):
    """One page for all names: opened, put on the shortlist, seen under every tab."""
    shown = walked(hostile_site, visit)
    assert name in shown["fruit"]
    assert name in shown["shortlist"]
    assert name in shown["file"]


@pytest.fixture(scope="module")
def walked():
    """What one walk through the hostile page saw; the first to ask walks."""
    seen: dict[str, set[str]] = {}

    def walk(server, visit) -> dict[str, set[str]]:
        if seen:
            return seen
        listed = ",".join(quote(name, safe="") for name in HOSTILE_NAMES)
        page = visit(server, f"?v=1&market=hostile&shortlist={listed}")
        expect(page.locator("p.notice")).to_have_count(0)
        seen["fruit"] = pages.names(page)
        page.get_by_role("button", name=HOSTILE_NAMES[0], exact=True).click()
        expect(page.get_by_role("heading", name=HOSTILE_NAMES[0])).to_be_visible()
        pages.open_tab(page, "Season")
        page.locator(".bk-Canvas").last.hover()
        pages.open_tab(page, "Shortlist")
        expect(pages.rows(page)).to_have_count(len(HOSTILE_NAMES))
        seen["shortlist"] = pages.names(page)
        with page.expect_download() as coming:
            pages.press_download(page, "Shortlist as .xlsx")
        seen["file"] = set(pd.read_excel(coming.value.path(), engine="calamine")["Cultivar"])
        pages.open_tab(page, "About the records")
        expect(page.get_by_text("What this page stands on")).to_be_visible()
        pages.open_tab(page, "Compare fruit")
        for picture in range(3):
            pages.draw_box(page, picture, (0.2, 0.1), (0.95, 0.8))
        expect(page.get_by_text(re.compile("cultivars? chosen:"))).to_be_visible()
        assert pages.hurt(page) is None
        return seen

    return walk


def test_a_hostile_market_is_a_line_of_text(hostile_site, visit):
    page = visit(hostile_site, "?v=1&market=hostile")
    expect(pages.headline(page)).to_contain_text("<img src=x onerror=window.hurt=1> & =1+1")
    expect(page.get_by_text("<svg onload=window.hurt=1>")).to_be_visible()
    assert pages.hurt(page) is None


def test_a_hostile_name_is_found_by_typing_and_runs_nothing(hostile_site, visit):
    page = visit(hostile_site, "?v=1&tab=cultivar")
    page.get_by_label(re.compile("type part of its name")).fill("onerror")
    page.get_by_role("option", name=HOSTILE_NAMES[0]).click()
    expect(page.get_by_role("heading", name=HOSTILE_NAMES[0])).to_be_visible()
    assert pages.hurt(page) is None
