"""A cultivar is found by what people make of its name, on the page and in the hall, by keys alone."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser import pages
from tests.browser.axe import found as faults

FIELD = "Cultivar (type part of its name)"

AT_ONCE = """(field, text) => {
  field.value = text;
  field.dispatchEvent(new Event("input", { bubbles: true }));
  field.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter", bubbles: true, composed: true }));
}"""


def options(page: Page):
    return page.get_by_role("listbox", name="Cultivars found").get_by_role("option")


@pytest.mark.alike(9)
@pytest.mark.parametrize(
    ("typed", "name"), [("k14227", "K14-227"), ("K14 227", "K14-227"), ("trenirin", "Trenirrin")]
)
def test_enter_takes_what_was_meant_and_nothing_lies_over_the_verdict(demo_site, visit, typed, name):
    page = visit(demo_site, "?v=1&market=roadside_stand&tab=cultivar")
    page.get_by_label(FIELD).fill(typed)
    expect(options(page)).to_have_count(1)
    expect(options(page)).to_contain_text(
        re.compile(r"(peach|nectarine).*, picked \w+ \d+ – \w+ \d+|picked \d+ \w+")
    )
    page.keyboard.press("Enter")
    verdict = page.get_by_role("heading", name=name, exact=True)
    expect(verdict).to_be_visible()
    expect(options(page)).to_have_count(0)
    expect(page.get_by_label(FIELD)).to_have_value(name)
    assert verdict.evaluate("""at => {
      const { left, top, width, height } = at.getBoundingClientRect();
      return at.contains(at.getRootNode().elementFromPoint(left + Math.min(width, 40) / 2, top + height / 2));
    }""")


@pytest.mark.slow
def test_arrows_move_among_the_hits_and_how_many_more_there_are_is_said(demo_site, demo, visit):
    names = [name for name in demo.cultivars.index if name.startswith("K14")]
    page = visit(demo_site, "?v=1&tab=cultivar")
    field = page.get_by_label(FIELD)
    field.fill("k14")
    expect(options(page)).to_have_count(8)
    expect(page.get_by_text(f"and {len(names) - 8} more: type on")).to_be_visible()
    for key, place in (("ArrowDown", 1), ("ArrowDown", 2), ("ArrowDown", 3), ("ArrowUp", 2)):
        page.keyboard.press(key)
        expect(page.locator("[role=option][aria-selected=true] .name")).to_have_text(names[place])
    assert faults(page) == []
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name=names[2], exact=True)).to_be_visible()
    field.fill("xyzzy")
    expect(page.get_by_text("No cultivar of that name.")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.get_by_text("No cultivar of that name.")).to_be_hidden()
    expect(field).to_have_value(names[2])


@pytest.mark.slow
def test_in_the_hall_too_and_before_the_answer_has_come(demo_site, demo, visit):
    names = [name for name in demo.cultivars.index if name.startswith("K14")]
    page = visit(demo_site, "?v=1&market=roadside_stand&look=hall")
    spoken = page.locator("dialog h2.name")
    page.keyboard.press("f")
    other = next(
        name for name in reversed(names) if name != spoken.inner_text()
    )  # or nothing could be waited for
    page.keyboard.insert_text(other.replace("-", " "))
    page.keyboard.press("Enter")
    expect(spoken).to_have_text(other)
    page.keyboard.press("f")
    page.keyboard.type("k14")
    expect(options(page)).to_have_count(8)
    assert faults(page) == []
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    expect(spoken).to_have_text(names[2])
    expect(options(page)).to_have_count(0)
    page.keyboard.press("f")
    # Not its name: pressed before the answer, in one breath, it is shown first, and taken by a second press.
    page.locator("dialog input[role=combobox]").evaluate(AT_ONCE, "trenirin")
    expect(options(page)).to_have_count(1)
    expect(spoken).to_have_text(names[2])
    page.keyboard.press("Enter")
    expect(spoken).to_have_text("Trenirrin")


@pytest.mark.slow
def test_on_a_phone_the_hits_fit_and_can_be_tapped(demo_site, demo, visit, phone):
    page = visit(demo_site, "?v=1&tab=cultivar", phone)
    page.get_by_label(FIELD).fill("k14")
    expect(options(page)).to_have_count(8)
    assert page.evaluate("document.documentElement.scrollWidth") <= pages.PHONE["viewport"]["width"]
    boxes = [one.bounding_box() for one in options(page).all()]
    assert all(
        box["height"] >= 44 and box["x"] >= 0 and box["x"] + box["width"] <= pages.PHONE["viewport"]["width"]
        for box in boxes
    )
    options(page).nth(1).tap()
    name = [name for name in demo.cultivars.index if name.startswith("K14")][1]
    expect(page.get_by_role("heading", name=name, exact=True)).to_be_visible()
