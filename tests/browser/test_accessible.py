"""No serious or critical fault that axe finds, in the shell that is not ours neither; of the tabs: ``test_screens.py``."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.browser import pages
from tests.browser.axe import found


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


@pytest.mark.slow
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
