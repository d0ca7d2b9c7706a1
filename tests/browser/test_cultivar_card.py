"""One cultivar's card: in sight at a desk, one column on a phone, its star and its folds pressed."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser import pages

OPENED = "?v=1&tab=cultivar&market=roadside_stand&cultivar=Sibbrel"


def boxes(page) -> list[dict]:
    return page.locator(".boxes > *, .boxes > div > *").evaluate_all(
        "all => all.map(at => at.getBoundingClientRect()).map(({ left, top, right }) => ({ left, top, right }))"
    )


@pytest.mark.slow
def test_the_card_and_the_start_of_both_boxes_stand_side_by_side_at_a_desk(demo_site, visit):
    page = visit(demo_site, OPENED)
    expect(page.get_by_role("heading", name="Sibbrel", exact=True, level=2)).to_be_in_viewport()
    expect(page.get_by_role("img", name="Sibbrel: cut across")).to_be_in_viewport()
    expect(page.get_by_text("chance it clears every limit")).to_be_in_viewport()
    for heading in ("How it compares with all 355 cultivars", "Before you order"):
        expect(page.get_by_role("heading", name=heading)).to_be_visible()
    compared, right, *_ = boxes(page)
    assert compared["top"] == right["top"]
    assert compared["right"] < right["left"]


@pytest.mark.slow
def test_a_phone_has_one_column_and_nothing_runs_out_of_it(demo_site, visit, phone):
    page = visit(demo_site, OPENED, phone)
    expect(page.get_by_role("heading", name="Before you order")).to_be_visible()
    assert len({round(box["left"]) for box in boxes(page)}) == 1
    wide = pages.PHONE["viewport"]["width"]
    assert max(box["right"] for box in boxes(page)) <= wide
    assert page.evaluate("document.documentElement.scrollWidth") <= wide
    for part in page.locator(".card *:not(path):not(.unseen):not(.unseen *)").all()[:80]:
        assert (part.bounding_box() or {"x": 0, "width": 0})["x"] < wide
    size = page.get_by_role("button", name="Put on my slate: Sibbrel").bounding_box()
    assert min(size["width"], size["height"]) >= 44


@pytest.mark.slow
def test_a_star_is_pressed_by_keys_and_keeps_the_focus(demo_site, visit):
    page = visit(demo_site, OPENED)
    page.get_by_role("button", name="Put on my slate: Sibbrel").focus()
    page.keyboard.press("Enter")
    kept = page.get_by_role("button", name="Take off my slate: Sibbrel")
    expect(kept).to_have_attribute("aria-pressed", "true")
    expect(kept).to_be_focused()
    expect(page.get_by_text("on my slate", exact=False).filter(visible=True).first).to_be_visible()


def test_folds_hide_their_tables_until_pressed_and_a_stand_in_opens(demo_site, visit):
    page = visit(demo_site, OPENED)
    page.get_by_role("heading", name="Sibbrel", exact=True, level=2).wait_for()
    date = page.get_by_role("columnheader", name="Picked", exact=True)
    expect(date).to_be_hidden()
    page.get_by_text("Its samples and their fruit", exact=True).click()
    expect(date).to_be_visible()
    other = page.locator(".instead button.opens").first
    name = other.inner_text()
    other.click()
    expect(page.get_by_role("heading", name=name, exact=True, level=2)).to_be_visible()
