"""A first visit is shown round in four steps, once, and can be left at any."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser import pages
from tests.browser.axe import found
from tests.browser.pages import DESK


def arrived(chromium: Browser, url: str, **how) -> Page:
    page = chromium.newcomer(**(how or {"viewport": DESK})).new_page()
    page.goto(url)
    return pages.awaited(page)


def guide(page: Page):
    return page.get_by_role("complementary", name="First visit")


def test_four_steps_lead_round_and_are_not_shown_again(chromium, demo_site):
    page = arrived(chromium, demo_site.url)
    for number in range(1, 5):
        expect(guide(page)).to_contain_text(f"{number} of 4")
        assert guide(page).locator("p:visible").count() == 1
        guide(page).get_by_role("button", name="Begin" if number == 4 else "Next").click()
    expect(guide(page)).to_be_hidden()
    page.reload()
    pages.awaited(page)
    expect(guide(page)).to_be_hidden()
    page.context.close()


@pytest.mark.slow
def test_it_is_left_at_once_and_lies_within_the_screen(chromium, demo_site):
    page = arrived(chromium, demo_site.url)
    box, size = guide(page).bounding_box(), DESK
    assert box["x"] >= 0
    assert box["x"] + box["width"] <= size["width"]
    assert box["y"] + box["height"] <= size["height"]
    assert box["height"] < 0.4 * size["height"]
    assert found(page) == []
    page.keyboard.press("Escape")
    expect(guide(page)).to_be_hidden()
    page.context.close()


def test_whoever_follows_a_link_is_not_shown_round(chromium, demo_site):
    page = arrived(chromium, demo_site.url + "?v=1&market=roadside_stand")
    expect(guide(page)).to_be_hidden()
    page.context.close()


def test_whoever_does_what_a_step_says_is_led_on(chromium, demo_site):
    page = arrived(chromium, demo_site.url)
    expect(guide(page)).to_contain_text("1 of 4")
    pages.market(page, "Pick your own").check()
    expect(guide(page)).to_contain_text("2 of 4")
    pages.tick(page, "white").check()
    expect(guide(page)).to_contain_text("3 of 4")
    pages.tick(page, "yellow").check()
    expect(guide(page)).to_contain_text("3 of 4")
    page.context.close()
