"""Where the reader asks for high contrast, marks still tell what they mean and the open tab is told from the others."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser import pages

LOOKS = {"system colors": {"forced_colors": "active"}, "system colors, dark": {"forced_colors": "active", "color_scheme": "dark"}, "more contrast": {"contrast": "more"}}  # fmt: skip
_TABS = """tabs => tabs.map(tab => {
  const { color, backgroundColor, borderBottomColor, boxShadow } = getComputedStyle(tab);
  return [tab.getAttribute("aria-selected") === "true", JSON.stringify([backgroundColor, boxShadow]), color !== backgroundColor, borderBottomColor];
})"""
_MARKS = """marks => marks.map(mark => {
  const { backgroundColor, backgroundImage, transform } = getComputedStyle(mark);
  return JSON.stringify([backgroundColor, backgroundImage, transform]);
})"""


@pytest.mark.parametrize("look", LOOKS.values(), ids=LOOKS)
def test_the_open_tab_and_the_marks_of_the_legend_can_be_told(demo_site, visit, chromium, look):
    context = chromium.new_context(**look)
    page = visit(demo_site, "?v=1&shown=pictures&market=roadside_stand", context)
    tabs = page.get_by_role("tab").evaluate_all(_TABS)
    (opened,) = [ground for is_open, ground, *_ in tabs if is_open]
    assert opened not in {ground for is_open, ground, *_ in tabs if not is_open}
    assert all(legible for *_, legible, _line in tabs)
    legend = page.locator("p.legend, div.legend").first.locator(".mark")
    drawn = legend.evaluate_all(_MARKS)
    assert len(drawn) == 5
    assert len(set(drawn)) == 5
    pages.into_hall(page)
    expect(page.locator("dialog .key .mark")).to_have_count(5)
    drawn = page.locator("dialog .key .mark").evaluate_all(_MARKS)
    assert len(set(drawn)) == 5
    context.close()
