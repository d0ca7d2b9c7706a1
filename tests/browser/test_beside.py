"""Two cultivars set side by side as a grower would, kept over a reload, on a phone, and with names that are markup."""

from __future__ import annotations

import re
from urllib.parse import quote

import pytest
from playwright.sync_api import expect

from dashboard.answers.question import Question
from dashboard.page.tabs.differing import sentence
from tests.browser import pages
from tests.browser.sets import HOSTILE_NAMES

PAIR = ("Ardimor", "Rimsk")
DRAWN = "svg.fruit"


def typed(page, name: str) -> None:
    field = page.get_by_label("Set beside (type part of its name)")
    field.fill(name)
    page.get_by_role("option", name=name, exact=True).click()
    expect(page.get_by_role("checkbox", name=name, exact=True)).to_be_checked()
    expect(field).to_have_value("")


def widths(page) -> list[float]:
    return page.locator(DRAWN).evaluate_all("all => all.map(at => at.getBoundingClientRect().width)")


def test_two_are_chosen_drawn_told_apart_and_still_there_after_a_reload(demo_site, demo, visit):
    page = visit(demo_site, "?v=1&tab=beside")
    for name in PAIR:
        typed(page, name)
    page.wait_for_url(re.compile("beside=Ardimor,Rimsk"))
    asked = Question(demo, beside=PAIR)

    def whole() -> None:
        for name in PAIR:
            expect(page.get_by_role("img", name=re.compile(f"^{name}: cut across"))).to_be_visible()
        expect(page.locator(DRAWN)).to_have_count(2)
        assert len({round(width, 1) for width in widths(page)}) == 1  # one scale
        expect(page.locator(".sides tbody th", has_text="Size (in)")).to_be_visible()
        expect(page.locator(".sides thead b")).to_have_text(list(PAIR))
        for fold in ("Every difference in words", "Everything as a table"):
            page.get_by_text(fold, exact=True).click()
        for told in asked.side_by_side.real:
            expect(page.locator("li", has_text=sentence(told, "us"))).to_be_visible()
        expect(page.locator("thead th.c-side")).to_have_text(list(PAIR))
        expect(page.locator("tbody th[scope=row].c-head", has_text="Size (in)")).to_be_visible()

    whole()
    page.reload()
    pages.awaited(page)
    whole()

    page.get_by_role("checkbox", name="Ardimor", exact=True).uncheck()
    expect(page.get_by_text("Set a second cultivar beside it").first).to_be_visible()
    expect(page.locator(DRAWN)).to_have_count(1)
    page.wait_for_url(re.compile("beside=Rimsk&"))


@pytest.mark.slow
def test_from_the_shortlist_with_one_press(demo_site, visit):
    page = visit(demo_site, "?v=1&tab=shortlist&shortlist=Ardimor,Rimsk")
    page.get_by_role("button", name="Set them side by side").click()
    expect(page.get_by_role("tab", name="Side by side")).to_have_attribute("aria-selected", "true")
    expect(page.locator(DRAWN)).to_have_count(2)


def left(page, what: str) -> float:
    return page.locator(what).first.evaluate("at => at.getBoundingClientRect().left")


@pytest.mark.slow
def test_on_a_phone_six_scroll_in_their_box_beside_names_that_stay(demo_site, demo, visit, phone):
    names = tuple(demo.cultivars.index[[3, 40, 77, 120, 200, 310]])
    page = visit(demo_site, f"?v=1&tab=beside&beside={','.join(map(quote, names))}", phone)
    expect(page.locator(DRAWN)).to_have_count(6)
    assert len({round(width, 1) for width in widths(page)}) == 1
    assert min(widths(page)) > 80
    assert page.evaluate("document.documentElement.scrollWidth") <= pages.PHONE["viewport"]["width"]
    expect(page.get_by_text("Six is the most")).to_be_visible()
    box = page.locator(".sidebox")
    label, value = ".sides tbody th:has-text('Sugar')", ".sides tbody td:nth-child(2)"
    before = left(page, label), left(page, value)
    box.evaluate("at => { at.scrollLeft = 200; at.scrollTop = 150; }")
    assert (left(page, label), left(page, value)) == (before[0], before[1] - 200)
    tops = [
        page.locator(at).first.evaluate("at => at.getBoundingClientRect().top")
        for at in (".sidebox", ".sides thead th.name")
    ]
    assert abs(tops[0] - tops[1]) <= 2  # the row of names stays, too


@pytest.mark.slow
def test_the_best_four_are_set_with_one_press_and_a_name_opens_its_card(demo_site, demo, visit):
    page = visit(demo_site, "?v=1&tab=beside&market=roadside_stand")
    page.get_by_role("button", name="Set the best four side by side").click()
    best = [str(name) for name in Question(demo, market="roadside_stand").ranking.index[:4]]
    expect(page.locator(".sides thead b")).to_have_text(best)
    page.locator(".sides thead").get_by_role("button", name=best[1], exact=True).click()
    expect(page.get_by_role("heading", name=best[1], exact=True, level=2)).to_be_visible()


@pytest.mark.slow
def test_hostile_names_are_drawn_and_written_as_text(hostile_site, visit):
    for some in (HOSTILE_NAMES[:6], HOSTILE_NAMES[5:]):
        listed = ",".join(quote(name, safe="") for name in some)
        page = visit(hostile_site, f"?v=1&tab=beside&market=hostile&beside={listed}")
        expect(page.locator(DRAWN)).to_have_count(len(some))
        expect(page.locator(".sides thead b")).to_have_text(list(some))
        for name in some:
            expect(page.get_by_role("checkbox", name=name, exact=True)).to_be_checked()
        assert pages.hurt(page) is None
    page.get_by_role("checkbox", name=HOSTILE_NAMES[6], exact=True).uncheck()
    expect(page.locator(DRAWN)).to_have_count(len(some) - 1)
    typed(page, HOSTILE_NAMES[0])
    assert pages.hurt(page) is None
