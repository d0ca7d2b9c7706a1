"""On a phone: filters closed at first, everything within the screen, and a thumb scrolls past a picture."""

from __future__ import annotations

import re
from contextlib import suppress

from playwright.sync_api import expect

from tests.browser import pages
from tests.browser.pages import PHONE

WIDTH = PHONE["viewport"]["width"]
_TOO_WIDE = """() => {
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


def test_the_filters_are_closed_at_first_and_a_button_opens_them(demo_site, visit, phone):
    page = visit(demo_site, context=phone)
    expect(pages.tick(page, "white")).not_to_be_in_viewport()
    page.get_by_role("button", name=re.compile("^Filters")).tap()
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


def test_the_count_and_the_way_to_the_filters_stay_in_sight(demo_site, visit, phone):
    page = visit(demo_site, context=phone)
    page.locator("tbody tr").last.scroll_into_view_if_needed()
    assert pages.scrolled(page) > 400
    expect(pages.headline(page)).to_be_in_viewport()
    expect(page.get_by_role("button", name="Market and filters")).to_be_in_viewport()


def test_nothing_is_wider_than_the_screen_under_any_tab(demo_site, demo, visit, phone):
    name = demo.cultivars.index[3]
    page = visit(demo_site, f"?v=1&market=roadside_stand&cultivar={name}&shortlist={name}", phone)
    for tab in (pages.TABS[0], *pages.TABS[1:]):
        page.get_by_role("tab", name=tab).tap()
        expect(page.locator(pages.ANSWERED[tab]).first).to_be_visible()
        assert page.evaluate("document.documentElement.scrollWidth") <= WIDTH, tab
        assert page.evaluate(_TOO_WIDE) == [], tab


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


def test_over_a_picture_a_thumb_scrolls_the_page_and_a_tap_chooses(demo_site, demo, visit, phone):
    page = visit(demo_site, pages.PICTURED, phone)
    picture = page.locator(".bk-Canvas").first
    picture.scroll_into_view_if_needed()
    before = pages.scrolled(page)
    for _ in range(3):  # a busy machine drops a gesture now and then
        area = picture.bounding_box()
        pages.drag_thumb(page, area["x"] + area["width"] / 2, area["y"] + area["height"] * 0.6, by=-180)
        with suppress(AssertionError):
            pages.until(page, f"before => ({pages.SCROLLED})() > before + 60", arg=before, seconds=1)
            break
    assert pages.scrolled(page) > before + 60
    assert pages.chosen(page) == [set(), set(), set()]

    picture.evaluate("at => at.scrollIntoView({ block: 'end' })")  # all of it below what stays in sight
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
