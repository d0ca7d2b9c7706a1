"""No serious or critical fault that axe finds, in the shell that is not ours neither."""

from __future__ import annotations

import re

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import expect

from tests.browser import pages

RULES = {
    "resultTypes": ["violations"],
    "runOnly": {
        "type": "tag",
        "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    },
}


def found(page) -> list[str]:
    """Serious and critical faults, one line a node. What passes is not carried here: on a long tab that takes longer than the looking."""
    page.evaluate(AXE_SCRIPT)
    return [
        f"{fault['impact']} {fault['id']}: {node['target']} {node['html']}"[:300]
        for fault in page.evaluate("rules => axe.run(rules).then(told => told.violations)", RULES)
        if fault["impact"] in ("serious", "critical")
        for node in fault["nodes"]
    ]


def test_no_serious_fault_under_any_tab(demo_site, demo, visit):
    name = demo.cultivars.index[3]
    page = visit(demo_site, f"?v=1&market=roadside_stand&cultivar={name}&shortlist={name}&chosen={name}")
    faults = {}
    for tab in (*pages.TABS[1:], pages.TABS[0]):
        pages.open_tab(page, tab)
        faults[tab] = found(page)
    assert {tab: lines for tab, lines in faults.items() if lines} == {}


def test_the_first_key_leads_past_the_filters_to_the_open_tab(demo_site, visit):
    page = visit(demo_site, "?v=1&tab=season")
    page.keyboard.press("Tab")
    skip = page.locator("#skip")
    expect(skip).to_be_focused()
    expect(skip).to_be_in_viewport()
    page.keyboard.press("Enter")
    held = page.evaluate(
        "() => { let at = document.activeElement; while (at.shadowRoot?.activeElement) at = at.shadowRoot.activeElement; return [at.getAttribute('role'), at.getAttribute('aria-label')]; }"
    )
    assert held == ["tabpanel", "Season"]
    expect(skip).not_to_be_in_viewport()


def test_no_serious_fault_on_a_phone_with_its_filters_open(demo_site, visit, phone):
    page = visit(demo_site, "?v=1&market=roadside_stand&flesh_colour=purple", phone)
    assert found(page) == []
    page.get_by_role("button", name=re.compile("^Filters")).tap()
    expect(pages.tick(page, "white")).to_be_in_viewport()
    assert found(page) == []


def test_no_serious_fault_in_the_hall(demo_site, visit):
    page = visit(demo_site, "?v=1&market=roadside_stand&look=hall")
    for keys in (
        (),
        ("?",),
        ("?", "f"),
        ("Escape", "e"),
        ("e", "d"),
    ):  # the picture, the keys, the finder, the evidence, a dark room
        for key in keys:
            page.keyboard.press(key)
        assert found(page) == [], keys


def test_no_serious_fault_under_any_tab_on_a_phone(demo_site, demo, visit, phone):
    name = demo.cultivars.index[3]
    other = demo.cultivars.index[4]
    page = visit(
        demo_site, f"?v=1&market=roadside_stand&cultivar={name}&shortlist={name}&beside={name},{other}", phone
    )
    faults = {}
    for tab in (*pages.TABS[1:], pages.TABS[0]):
        pages.open_tab(page, tab)
        faults[tab] = found(page)
    assert {tab: lines for tab, lines in faults.items() if lines} == {}
