"""Two cultivars set side by side as a grower would, kept over a reload, on a phone, and with names that are markup."""

from __future__ import annotations

import re
from urllib.parse import quote

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
        expect(page.locator(DRAWN)).to_have_count(3)  # the circle alone, too
        assert len({round(width, 1) for width in widths(page)}) == 1  # one scale
        for told in asked.side_by_side.real:
            expect(page.locator("li", has_text=sentence(told, "us"))).to_be_visible()
        expect(page.locator("thead th.c-side")).to_have_text(list(PAIR))
        expect(page.locator("tbody th[scope=row].c-head", has_text="Size (in)")).to_be_visible()

    whole()
    page.reload()
    pages.awaited(page)
    whole()

    page.get_by_role("checkbox", name="Ardimor", exact=True).uncheck()
    expect(page.get_by_text("Set a second cultivar beside it")).to_be_visible()
    expect(page.locator(DRAWN)).to_have_count(2)
    page.wait_for_url(re.compile("beside=Rimsk&"))


def test_from_the_shortlist_with_one_press(demo_site, visit):
    page = visit(demo_site, "?v=1&tab=shortlist&shortlist=Ardimor,Rimsk")
    page.get_by_role("button", name="Set them side by side").click()
    expect(page.get_by_role("tab", name="Side by side")).to_have_attribute("aria-selected", "true")
    expect(page.locator(DRAWN)).to_have_count(3)


def test_on_a_phone_drawings_wrap_and_keep_one_scale(demo_site, demo, visit, phone):
    names = tuple(demo.cultivars.index[[3, 40, 77, 120, 200, 310]])
    page = visit(demo_site, f"?v=1&tab=beside&beside={','.join(map(quote, names))}", phone)
    expect(page.locator(DRAWN)).to_have_count(7)
    assert len({round(width, 1) for width in widths(page)}) == 1
    assert min(widths(page)) > 120
    tops = page.locator(DRAWN).evaluate_all(
        "all => all.map(at => Math.round(at.getBoundingClientRect().top))"
    )
    assert len(set(tops)) > 1
    assert page.evaluate("document.documentElement.scrollWidth") <= pages.PHONE["viewport"]["width"]
    expect(page.get_by_text("Six is the most")).to_be_visible()


def test_hostile_names_are_drawn_and_written_as_text(hostile_site, visit):
    for some in (HOSTILE_NAMES[:6], HOSTILE_NAMES[5:]):
        listed = ",".join(quote(name, safe="") for name in some)
        page = visit(hostile_site, f"?v=1&tab=beside&market=hostile&beside={listed}")
        expect(page.locator(DRAWN)).to_have_count(len(some) + 1)
        expect(page.locator("thead th.c-side")).to_have_text(list(some))
        for name in some:
            expect(page.locator("figcaption b").get_by_text(name, exact=True)).to_be_visible()
            expect(page.get_by_role("checkbox", name=name, exact=True)).to_be_checked()
        assert pages.hurt(page) is None
    page.get_by_role("checkbox", name=HOSTILE_NAMES[6], exact=True).uncheck()
    expect(page.locator(DRAWN)).to_have_count(len(some))
    typed(page, HOSTILE_NAMES[0])
    assert pages.hurt(page) is None
