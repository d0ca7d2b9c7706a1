"""On a phone: strip and candidates on the first screen, choices away until asked for, everything within the screen, a tap chooses."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser import pages
from tests.browser.pages import PHONE

WIDTH = PHONE["viewport"]["width"]
TOO_WIDE = """() => {
  const wide = [];
  // What lies in a frame that is pushed sideways by itself does not widen the page; the frame has to fit.
  const pushed = at => { const up = at.parentElement ?? at.getRootNode().host; return Boolean(up) && (up.classList.contains("sideways") || pushed(up)); };
  const look = (root) => root.querySelectorAll("*").forEach(at => {
    if (at.shadowRoot) look(at.shadowRoot);
    const box = at.getBoundingClientRect();
    if (box.width > innerWidth + 1 && getComputedStyle(at).visibility !== "hidden" && !at.closest(".wrap, [role=progressbar]") && !pushed(at)) wide.push(at.tagName + "." + at.className);
  });
  look(document);
  return wide;
}"""


_SIZES = "all => all.map(at => at.getBoundingClientRect()).map(box => [box.width, box.height])"

_CHOSEN = (
    f"wanted => {pages.POINTS}.every(p => wanted.every(name => p.chosen.some(row => p.names[row] === name)))"
)


def test_the_first_screen_shows_the_strip_and_three_whole_candidates(demo_site, visit, phone):
    page = visit(demo_site, "?v=1&market=roadside_stand", phone)
    expect(pages.heading(page)).to_be_in_viewport(ratio=1)
    expect(page.locator(".cells").first).to_be_in_viewport(ratio=1)
    bar = page.get_by_role("tablist").bounding_box()
    ends = pages.rows(page).evaluate_all("rows => rows.map(row => row.getBoundingClientRect().bottom)")
    assert len([end for end in ends if end <= bar["y"]]) >= 3
    assert bar["y"] + bar["height"] <= PHONE["viewport"]["height"]
    # A name far down the list opens at the top of its card.
    name = pages.rows(page).last.locator("button.open")
    name.scroll_into_view_if_needed()
    name.tap()
    expect(page.get_by_role("tabpanel", name="One cultivar").locator("h2").first).to_be_in_viewport(ratio=1)


def choices(page: Page) -> Locator:
    return page.get_by_role("region", name="Market and filters")


@pytest.mark.slow
def test_the_choices_lie_away_until_a_button_opens_them(demo_site, visit, phone):
    page = visit(demo_site, context=phone)
    expect(choices(page)).to_be_hidden()
    expect(pages.tick(page, "white")).to_be_hidden()
    filters = page.get_by_role("button", name=re.compile("^Filters"))
    filters.tap()
    expect(pages.tick(page, "white")).to_be_in_viewport()
    for things in (
        "label.option",
        "button.keep",
    ):  # WCAG 2.2, success criterion 2.5.5 (AAA): 44 by 44 CSS pixels, for a thumb
        sizes = page.locator(things).filter(visible=True).evaluate_all(_SIZES)
        assert sizes
        assert min(min(size) for size in sizes) >= 44, things
    pages.tick(page, "white").tap()
    expect(pages.tick(page, "white")).to_be_checked()
    expect(filters).to_have_text("Filters · 1")
    page.get_by_role("button", name="Show the cultivars").tap()
    expect(choices(page)).to_be_hidden()
    expect(filters).to_be_focused()


@pytest.mark.slow
def test_they_go_by_escape_and_by_a_press_beside_them_which_presses_nothing_else(demo_site, visit, phone):
    page = visit(demo_site, "?v=1&market=roadside_stand", phone)
    buyer = page.get_by_role("button", name="Roadside stand")
    buyer.tap()
    expect(pages.market(page, "Roadside stand")).to_be_focused()
    page.keyboard.press("Escape")
    expect(choices(page)).to_be_hidden()
    expect(buyer).to_be_focused()
    buyer.tap()
    expect(choices(page)).to_be_visible()
    page.touchscreen.tap(
        WIDTH - 8, PHONE["viewport"]["height"] - 20
    )  # where the bar of tabs lies under the shade
    expect(choices(page)).to_be_hidden()
    expect(page.get_by_role("tab", name="Candidates")).to_have_attribute("aria-selected", "true")
    expect(page.locator("button.more")).to_have_attribute("aria-expanded", "false")


@pytest.mark.slow
def test_the_top_line_and_the_tabs_stay_in_sight(demo_site, visit, phone):
    page = visit(demo_site, context=phone)
    pages.rows(page).last.scroll_into_view_if_needed()
    assert pages.scrolled(page) > 400
    for one in (page.get_by_role("button", name="Share", exact=True), page.get_by_role("tab", name="Season")):
        expect(one).to_be_in_viewport(ratio=1)


def test_the_rows_of_the_ranking_are_cards_that_lie_within_the_screen(demo_site, visit, phone):
    page = visit(demo_site, "?v=1&market=roadside_stand", phone)
    card = pages.rows(page).first
    cells = card.get_by_role("cell")
    labels = cells.evaluate_all("cells => cells.map(cell => getComputedStyle(cell, '::after').content)")
    assert {'"score"', '"size"', '"firmness"', '"sugar"', '"seasons"'} <= set(labels)
    heights = pages.rows(page).evaluate_all(
        "rows => rows.map(row => row.getBoundingClientRect()).map(box => box.height)"
    )
    assert max(heights) <= 120
    width, height = card.get_by_role("button", name=re.compile("^Put on")).evaluate_all(_SIZES)[0]
    assert min(width, height) >= 44
    bar = card.locator(".drawn.picking").bounding_box()
    assert bar["width"] > WIDTH / 3
    for other in card.locator(".drawn.dot").all():  # the figure alone: there is no room for its drawing
        expect(other).to_be_hidden()
    ends = cells.evaluate_all(
        "cells => cells.map(cell => cell.getBoundingClientRect().left + cell.scrollWidth)"
    )
    assert max(ends) <= WIDTH
    before = card.get_attribute("data-id")
    page.get_by_role("button", name="Size (in)", exact=True).tap()
    expect(page.get_by_role("columnheader", name="Size (in)")).to_have_attribute("aria-sort", "descending")
    expect(card).not_to_have_attribute("data-id", before)


@pytest.mark.slow
def test_a_tap_on_a_mark_chooses_it_and_another_lets_it_go(demo_site, demo, visit, phone):
    page = visit(demo_site, pages.PICTURED, phone)
    picture = page.locator(".bk-Canvas").first
    picture.evaluate(
        "at => at.scrollIntoView({ block: 'center' })"
    )  # past what stays in sight above and below
    sizes = demo.values["size"]["estimate"]
    name = sizes.idxmax()  # the largest stands apart from the crowd
    page.touchscreen.tap(*pages.mark(page, name))
    pages.until(page, f"{pages.POINTS}.every(p => p.chosen.length > 0)")
    assert all(name in picked for picked in pages.chosen(page))
    other = demo.values["sugar"]["estimate"].drop(name).idxmax()
    page.wait_for_timeout(700)  # two at once would be a double tap
    page.touchscreen.tap(*pages.mark(page, other))  # a second is chosen beside it
    pages.until(page, _CHOSEN, arg=[name, other])
    page.wait_for_timeout(700)  # nor here
    page.touchscreen.tap(*pages.mark(page, name))  # and the first let go
    pages.until(page, f"!({_CHOSEN})(['{name}'])")
    assert all(other in picked for picked in pages.chosen(page))
