"""Windows of all widths: nothing lies over the page on arrival, and enlarged to twice its size every tab is still reached."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser import pages
from tests.browser.test_phone import TOO_WIDE

AGENTS = {"phone's name": pages.PHONE["user_agent"], "desktop's name": None}
HIGH = {390: 844, 600: 900, 820: 1180}
# The middle of each thing that a visitor meets first, and whether it is that thing which stands there.
COVERED = """() => {
  const at = (root, x, y) => { const found = root.elementFromPoint(x, y); return found?.shadowRoot ? at(found.shadowRoot, x, y) ?? found : found; };
  const all = [], look = root => root.querySelectorAll("*").forEach(one => { if (one.shadowRoot) look(one.shadowRoot); all.push(one); });
  look(document);
  const met = all.filter(one => one.matches("h1, h2, button, select, tbody tr, [role=tab]") && one.checkVisibility({ visibilityProperty: true }));
  const inside = met.map(one => [one, one.getBoundingClientRect()])
    .filter(([, box]) => box.width > 2 && box.height > 2 && box.top >= 0 && box.left >= 0 && box.bottom <= innerHeight && box.right <= innerWidth);
  const holds = (one, found) => { for (let up = found; up; up = up.parentNode ?? up.host) if (up === one) return true; return false; };
  const tabs = met.find(one => one.role === "tab").getBoundingClientRect();
  return [inside.length, inside.filter(([one, box]) => !holds(one, at(document, box.left + Math.min(box.width, 60) / 2, box.top + box.height / 2)))
    .filter(([one, box]) => one.role === "tab" || box.bottom <= tabs.top || box.top >= tabs.bottom) // what is scrolled past the tabs along the lower edge
    .map(([one]) => `${one.tagName} ${one.textContent.slice(0, 40)}`)];
}"""


@pytest.mark.alike(2)
@pytest.mark.parametrize("agent", AGENTS)
@pytest.mark.parametrize("width", HIGH)
def test_nothing_lies_over_the_page_on_arrival(demo_site, visit, chromium, width, agent):
    context = chromium.newcomer(
        viewport={"width": width, "height": HIGH[width]}, locale="en-US", user_agent=AGENTS[agent]
    )
    page = visit(demo_site, "", context)
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(page.get_by_role("complementary", name="First visit")).to_be_hidden()
    expect(page.get_by_role("region", name="Market and filters")).to_be_hidden()
    buttons = page.locator("header button:visible, header select:visible").all()
    assert len(buttons) >= 4  # undo, two sheets, units
    for one in buttons:
        expect(one).to_be_in_viewport(ratio=1)
    met, covered = page.evaluate(COVERED)
    assert met > 12
    assert covered == []
    context.close()


@pytest.mark.slow
def test_enlarged_to_twice_its_size_every_tab_is_reached_and_nothing_is_wider(demo_site, visit, chromium):
    """A laptop of 1366 by 768 at 200 %: WCAG 2.2, success criterion 1.4.4."""
    context = chromium.new_context(viewport={"width": 683, "height": 384}, device_scale_factor=2)
    page = visit(demo_site, "?v=1&market=roadside_stand&cultivar=Aldrum&beside=Aldrum,Sibbrel&shortlist=Aldrum", context)  # fmt: skip
    for tab in (*pages.TABS[1:], pages.TABS[0]):
        pages.open_tab(page, tab)
        assert page.evaluate("document.documentElement.scrollWidth") <= 683, tab
        assert page.evaluate(TOO_WIDE) == [], tab
    page.get_by_role("button", name="Filters").click()
    expect(pages.tick(page, "white")).to_be_attached()
    pages.tick(page, "white").check()
    page.get_by_role("button", name="Show the cultivars").click()
    expect(page.get_by_role("region", name="Market and filters")).to_be_hidden()
    context.close()
