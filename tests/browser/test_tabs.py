"""The tabs: by mouse, by keys and by thumb; what a screen reader hears; what was opened stays and is only hidden."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser import pages

WIDTH, HEIGHT = pages.PHONE["viewport"].values()


def tab(page: Page, name: str):
    return page.get_by_role("tab", name=name, exact=True)


def chosen(page: Page) -> list[str]:
    return page.locator('[role="tab"][aria-selected="true"]').all_inner_texts()


def in_sequence(page: Page) -> list[str]:
    """The tabs that the Tab key stops at."""
    return page.locator('[role="tab"][tabindex="0"]').all_inner_texts()


def test_they_are_one_list_of_tabs_and_one_of_them_is_chosen(walk):
    page = walk()
    bar = page.get_by_role("tablist", name="Parts of the page")
    assert bar.get_by_role("tab").all_inner_texts() == list(pages.TABS)
    assert chosen(page) == in_sequence(page) == ["Candidates"]


def test_what_stands_under_a_tab_bears_its_name_and_only_one_is_seen(demo_site, visit):
    page = visit(demo_site)
    assert page.get_by_role("tabpanel").count() == 1
    for name in ("Season", "My slate", "Candidates"):
        pages.open_tab(page, name)
        expect(page.get_by_role("tabpanel")).to_have_count(1)
        expect(page.get_by_role("tabpanel", name=name, exact=True)).to_be_visible()
        assert chosen(page) == in_sequence(page) == [name]


def test_keys_walk_along_the_tabs_and_enter_opens_one(walk):
    page = walk()
    tab(page, "Candidates").focus()
    for key, reached in (
        ("ArrowRight", "Season"), ("ArrowLeft", "Candidates"), ("ArrowLeft", "Records"), ("ArrowRight", "Candidates"),
        ("End", "Records"), ("Home", "Candidates"), ("ArrowRight", "Season"),
    ):  # fmt: skip
        page.keyboard.press(key)
        expect(tab(page, reached)).to_be_focused()
    assert chosen(page) == ["Candidates"]  # walking opens nothing
    page.keyboard.press("Enter")
    expect(tab(page, "Season")).to_have_attribute("aria-selected", "true")
    expect(page.locator(pages.ANSWERED["Season"]).first).to_be_visible()
    expect(tab(page, "Season")).to_be_focused()


def test_the_tab_with_the_focus_is_outlined(walk):
    page = walk()
    tab(page, "Candidates").focus()
    page.keyboard.press("ArrowRight")
    look = tab(page, "Season").evaluate(
        "at => [getComputedStyle(at).outlineStyle, getComputedStyle(at).outlineWidth]"
    )
    assert look == ["solid", "3px"]


@pytest.mark.slow
def test_a_picture_that_was_opened_before_is_the_same_picture(demo_site, visit):
    page = visit(demo_site, pages.PICTURED)
    page.locator(".bk-Canvas").nth(2).wait_for()
    canvas = page.locator(".bk-Canvas").first.element_handle()
    pages.open_tab(page, "Season")
    expect(page.locator(".bk-Canvas").first).to_be_hidden()
    page.set_viewport_size({"width": 1100, "height": pages.DESK["height"]})
    pages.open_tab(page, "Candidates")
    pages.until(page, "window.Bokeh.documents[0].is_idle")
    assert canvas.evaluate("at => at.isConnected")
    held = page.locator(".bk-Canvas").first.bounding_box()  # it has taken the new width
    whole = page.get_by_role("tabpanel").bounding_box()
    assert held["x"] >= whole["x"] - 1
    assert held["x"] + held["width"] <= whole["x"] + whole["width"] + 1
    page.set_viewport_size(pages.DESK)


def test_on_a_phone_four_lie_under_the_thumb_and_the_others_behind_a_word(demo_site, visit, phone):
    page = visit(demo_site, "?v=1&tab=records", phone)
    more = page.locator("button.more")
    expect(more).to_have_text("Records ▴")  # the open one of those behind it
    for name in ("Candidates", "Season", "Side by side", "My slate"):
        expect(tab(page, name)).to_be_in_viewport(ratio=1)
        box = tab(page, name).bounding_box()
        assert box["height"] >= 44
        assert box["width"] >= 44
        assert box["y"] + box["height"] > HEIGHT - 60
    tab(page, "My slate").tap()
    expect(tab(page, "My slate")).to_have_attribute("aria-selected", "true")
    expect(more).to_have_text("More")
    expect(tab(page, "Records")).to_be_hidden()
    more.tap()
    for name in ("By class", "One cultivar", "Records"):
        expect(tab(page, name)).to_be_in_viewport(ratio=1)
        assert tab(page, name).bounding_box()["height"] >= 44
    tab(page, "By class").tap()
    expect(page.locator('[role="tab"][aria-selected="true"]')).to_have_text("By class")
    expect(tab(page, "By class")).to_be_hidden()
    expect(more).to_have_text("By class ▴")
    assert pages.scrolled(page) == 0


@pytest.mark.slow
def test_what_lies_behind_the_word_is_reached_by_keys_and_left_by_escape_or_a_press_beside_it(demo_site, visit, phone):  # fmt: skip
    page = visit(demo_site, "?v=1&tab=season", phone)
    more = page.locator("button.more")
    more.press("Enter")
    expect(tab(page, "By class")).to_be_focused()
    page.keyboard.press("End")
    expect(tab(page, "Records")).to_be_focused()
    page.keyboard.press("Escape")
    expect(tab(page, "Records")).to_be_hidden()
    expect(more).to_be_focused()
    more.tap()
    expect(tab(page, "Records")).to_be_visible()
    page.touchscreen.tap(WIDTH / 2, 60)
    expect(tab(page, "Records")).to_be_hidden()
