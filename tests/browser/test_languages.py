"""Dates are written as the reader writes them, by what the browser says of its languages; numbers as in English, like the words."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.browser import pages
from tests.browser.pages import DESK

_TICKS = """() => [...window.Bokeh.documents[0]._all_models.values()].filter(m => m.type === "LinearAxis")
  .flatMap(axis => Array.from(axis.major_label_overrides.values()))"""


@pytest.mark.alike(9)
@pytest.mark.parametrize(("locale", "first"), [("en-US", True), ("en-GB", False), ("de-DE", False)])
def test_dates_on_the_page_and_in_its_pictures(demo_site, visit, chromium, locale, first):
    context = chromium.new_context(viewport=DESK, locale=locale)
    page = visit(demo_site, "?v=1&market=roadside_stand&tab=classes", context)
    written, other = (r"^Jun \d+$", r"^\d+ Jun$") if first else (r"^\d+ Jun$", r"^Jun \d+$")
    expect(page.locator("label.option", has_text=re.compile(r"Jun")).first).to_contain_text(
        "Jun 1–15" if first else "1–15 Jun"
    )
    pages.until(page, f"({_TICKS})().length > 0")
    ticks = page.evaluate(_TICKS)
    assert any(re.search(written, tick) for tick in ticks)
    assert not any(re.search(other, tick) for tick in ticks)
    pages.open_tab(page, "Season")
    page.get_by_role("button", name="Time of picking of each cultivar").click()
    expect(pages.rows(page).first).to_contain_text(
        re.compile(r"[A-Z][a-z]{2} \d" if first else r"\d [A-Z][a-z]{2}")
    )
    pages.tick(page, "white").check()  # and so it stays
    page.wait_for_url("**/*flesh_colour=white*")
    expect(pages.rows(page).first).to_contain_text(
        re.compile(r"[A-Z][a-z]{2} \d" if first else r"\d [A-Z][a-z]{2}")
    )
    context.close()
