"""The line at the top: undo and redo by press and by keys, units, prepared views stepped through; keys are left alone where text is written."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser import pages


def button(page: Page, name: str):
    return page.get_by_role("button", name=name, exact=True)


def test_choices_are_taken_back_and_made_again_by_keys_and_by_press(demo_site, visit):
    page = visit(demo_site)
    for name in ("Undo", "Redo"):
        expect(button(page, name)).to_be_disabled()
    everyone = pages.left(page)
    pages.tick(page, "white").check()
    page.wait_for_url(re.compile("flesh_colour=white"))
    expect(button(page, "Undo")).to_be_enabled()
    white = pages.left(page)
    assert white < everyone
    page.keyboard.press("Control+z")  # the tick box has the focus: no text is written there
    expect(pages.tick(page, "white")).not_to_be_checked()
    expect(button(page, "Undo")).to_be_disabled()
    assert pages.left(page) == everyone
    page.keyboard.press("Control+Shift+Z")
    expect(pages.tick(page, "white")).to_be_checked()
    expect(button(page, "Redo")).to_be_disabled()
    button(page, "Start afresh").click()
    expect(pages.tick(page, "white")).not_to_be_checked()
    assert pages.left(page) == everyone
    button(page, "Undo").click()
    expect(pages.tick(page, "white")).to_be_checked()
    assert pages.left(page) == white


@pytest.mark.slow
def test_a_view_is_kept_by_keys_under_the_tab_it_shows(demo_site, visit, chromium):
    page = visit(demo_site, "?v=1&tab=season", chromium.new_context())
    for name in ("Previous prepared view", "Next prepared view"):  # there is none yet
        expect(button(page, name)).to_be_hidden()
    button(page, "Present").press("Enter")
    page.get_by_label("name of this view").focus()
    page.keyboard.type("<b>The season</b>")
    page.keyboard.press("Enter")
    expect(page.locator(".place")).to_have_text("1 view")
    expect(page.get_by_label("name of this view")).to_be_focused()
    page.keyboard.press("Escape")
    expect(button(page, "Present")).to_be_focused()
    pages.open_tab(page, "Candidates")
    button(page, "Next prepared view").click()
    expect(page.get_by_role("tab", name="Season")).to_have_attribute("aria-selected", "true")
    expect(page.locator(".place")).to_have_text("view 1 of 1")
    page.set_viewport_size(pages.PHONE["viewport"])  # there is no room for it beside the title
    expect(page.locator(".place")).to_be_hidden()
    title, undo = page.get_by_role("heading", name="Orchard Slate"), button(page, "Undo")
    assert title.bounding_box()["x"] + title.bounding_box()["width"] <= undo.bounding_box()["x"]
    page.context.close()


def test_the_keys_belong_to_a_text_field_while_it_has_the_focus(demo_site, visit):
    page = visit(demo_site, "?v=1&tab=cultivar")
    pages.tick(page, "white").check()
    page.wait_for_url(re.compile("flesh_colour=white"))
    expect(button(page, "Undo")).to_be_enabled()
    field = page.get_by_label("Cultivar (type part of its name)")
    field.click()
    page.keyboard.type("Ca")
    page.keyboard.press("Control+z")
    page.wait_for_timeout(300)  # nothing is taken back
    expect(pages.tick(page, "white")).to_be_checked()
    pages.tick(page, "white").focus()
    page.keyboard.press("Control+z")
    expect(pages.tick(page, "white")).not_to_be_checked()
