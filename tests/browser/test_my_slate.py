"""My slate in a browser: the whole job of a first visit in few presses, the strip by hand and by keys, a gap pressed, on a desk and a phone."""

from __future__ import annotations

import re
from urllib.parse import parse_qs, urlparse

import pytest
from playwright.sync_api import Page, expect

from dashboard.answers.question import Question
from dashboard.wording.figures import limits_short
from tests.browser import pages

SEASON = "opens=06-10&closes=08-31"
SOME = "?v=1&year=any&market=roadside_stand&shortlist=Mundrel,Narvelo,Hudilam,Sibbrel&" + SEASON


class Presses:
    """Counts what a visitor presses; typing goes with the field that was pressed."""

    def __init__(self) -> None:
        self.count = 0

    def __call__(self, what) -> None:
        what.click()
        self.count += 1


def field(page: Page, which: str):
    return page.get_by_label(f"{which} selling day", exact=True).and_(page.locator("input"))


def order_a_season(page: Page, press: Presses, open_choices=None, close_choices=None, open_days=None) -> None:
    """Who buys, yellow and white, Jun 10 to Aug 31, and what fills it; on a phone the choices and the days have to be opened first."""
    if open_choices:
        press(open_choices)
    press(page.get_by_label("Roadside stand").first)
    flesh = page.locator('fieldset[data-field="flesh_colour"]')
    for word in ("yellow", "white"):
        press(flesh.locator(f'input[value="{word}"]'))
        expect(flesh.locator(f'input[value="{word}"]')).to_be_checked()
    if close_choices:
        press(close_choices)
    press(open_days or field(page, "First"))
    expect(field(page, "First")).to_be_focused()
    for day, key in (("Jun 10", "Tab"), ("Aug 31", "Enter")):
        page.keyboard.press("Control+a")
        page.keyboard.type(day)
        page.keyboard.press(key)
    expect(page.locator(".covered")).to_have_text("0 of 83 days, 8 years in 10")
    press(page.get_by_role("button", name="Build a slate"))
    press(page.get_by_role("button", name=re.compile(r"^Put all \d+ on my slate")))
    expect(page.locator(".covered")).to_have_text("83 of 83 days, 8 years in 10")


def sound(page: Page, demo) -> None:
    """No gap at 8 years in 10, in any kind of year, and both colors on it."""
    asked = told_by_the_link(page, demo)
    (row,) = asked.strip.rows
    assert asked.certainty == 8
    assert row.covered.all()
    assert set(demo.cultivars.loc[list(asked.shortlist), "flesh_colour"]) == {"yellow", "white"}


def told_by_the_link(page: Page, demo) -> Question:
    asked = {key: tuple(value[0].split(",")) for key, value in parse_qs(urlparse(page.url).query).items()}
    return Question(
        demo, market=asked["market"][0], flesh_colour=asked["flesh_colour"], shortlist=asked["shortlist"],
        opens=asked["opens"][0], closes=asked["closes"][0], season_kind=asked["year"][0],
    )  # fmt: skip


def test_a_first_visit_fills_the_season_in_six_presses(demo_site, demo, visit, chromium):
    laptop = chromium.newcomer(viewport={"width": 1366, "height": 768}, locale="en-US")
    page, press = visit(demo_site, "", laptop), Presses()
    order_a_season(page, press)
    assert press.count <= 6
    sound(page, demo)
    laptop.close()


@pytest.mark.slow
def test_and_in_eight_on_a_phone(demo_site, demo, visit, chromium):
    phone = chromium.newcomer(**pages.PHONE, locale="en-US")
    page, press = visit(demo_site, "", phone), Presses()
    order_a_season(
        page, press,
        page.get_by_role("button", name="Who do you sell to?"),
        page.get_by_role("button", name="Show the cultivars"),
        page.get_by_role("button", name=re.compile("^Days")),
    )  # fmt: skip
    assert press.count <= 8
    sound(page, demo)
    phone.close()


_BOXES = """first => [...first.getRootNode().host.parentNode.querySelectorAll("*")].flatMap(one => [...(one.shadowRoot?.querySelectorAll("fieldset, summary") ?? [])])
  .filter(one => one.checkVisibility()).map(one => [one.textContent.slice(0, 12), Math.round(one.getBoundingClientRect().top)])"""


@pytest.mark.slow
@pytest.mark.parametrize(
    "how", [pages.PHONE, {"viewport": {"width": 1366, "height": 768}}], ids=["phone", "laptop"]
)
def test_whoever_buys_no_box_moves_away_from_under_the_finger(demo_site, demo, visit, chromium, how):
    """What a buyer asks for is a line of its own height, whoever it is; the rest opens under it."""
    newcomer = chromium.newcomer(**how, locale="en-US")
    page = visit(demo_site, "", newcomer)
    if how == pages.PHONE:
        page.get_by_role("button", name="Who do you sell to?").click()
    buyers = page.locator('fieldset[data-field="market"]').filter(visible=True).first
    before = buyers.evaluate(_BOXES)
    assert sum("Flesh" in words or "Fruit" in words for words, _ in before) >= 2
    for market in demo.markets.values():
        buyers.get_by_label(market.name).click()
        asks = page.locator("details.line summary").first
        expect(asks).to_have_text(limits_short(market, "us"))
        now = buyers.evaluate(_BOXES)  # from the first on: a press may scroll the drawer
        assert [at - now[0][1] for _, at in now] == [at - before[0][1] for _, at in before], market.name
    asks.click()
    expect(page.get_by_text(re.compile("^Ranks what qualifies by")).first).to_be_visible()
    newcomer.close()


@pytest.mark.slow
@pytest.mark.parametrize(
    "how", [pages.PHONE, {"viewport": {"width": 1366, "height": 768}}], ids=["phone", "laptop"]
)
def test_whoever_presses_only_what_lies_in_front_needs_no_more_than_eight(
    demo_site, demo, visit, chromium, how
):
    """Build a slate first, knowing nothing: it asks who buys, from when to when and which fruit, and only then builds."""
    newcomer = chromium.newcomer(**how, locale="en-US")
    page, press = visit(demo_site, "", newcomer), Presses()
    press(page.get_by_role("button", name="Build a slate").filter(visible=True))
    expect(page.get_by_role("heading", name="Build a slate")).to_be_in_viewport()
    press(page.get_by_label("Roadside stand").filter(visible=True).first)
    for end, day in (("from", "Jun 10"), ("to", "Aug 31")):
        press(page.get_by_label(f"Sell {end}", exact=True))
        page.keyboard.type(day)
    flesh = page.locator('fieldset[data-field="flesh_colour"]').filter(visible=True).first
    for word in ("yellow", "white"):
        press(flesh.locator(f'input[value="{word}"]'))
    expect(page.locator(".covered")).to_have_text("0 of 83 days, 8 years in 10")
    press(page.get_by_role("button", name="Build it"))
    expect(page.get_by_role("heading", name="Each of the 83 days has fruit")).to_be_in_viewport()
    press(page.get_by_role("button", name=re.compile(r"^Put all \d+ on my slate")))
    expect(page.locator(".covered")).to_have_text("83 of 83 days, 8 years in 10")
    assert press.count <= 8
    sound(page, demo)
    newcomer.close()


@pytest.mark.slow
def test_a_crowded_strip_names_what_has_room_and_the_rest_where_the_focus_rests(demo_site, demo, visit):
    slate = ",".join(
        list(Question(demo, market="roadside_stand", opens="06-10", closes="08-31").ranking.index[:30])
    )
    page = visit(demo_site, f"?v=1&year=any&market=roadside_stand&shortlist={slate}&{SEASON}")
    bars = page.locator(".bars .bar")
    expect(bars).to_have_count(30)
    names = bars.locator(".name")
    shown = [at for at in range(30) if names.nth(at).is_visible()]
    assert 5 <= len(shown) < 30
    boxes = [names.nth(at).bounding_box() for at in shown]
    for n, one in enumerate(boxes):
        for other in boxes[n + 1 :]:
            apart = one["y"] + one["height"] <= other["y"] + 1 or other["y"] + other["height"] <= one["y"] + 1
            assert (
                apart
                or one["x"] + one["width"] <= other["x"] + 1
                or other["x"] + other["width"] <= one["x"] + 1
            )
    hidden = next(at for at in range(30) if at not in shown)
    bars.nth(hidden).focus()
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Tab")  # by keys, so that the focus is seen
    expect(names.nth(hidden)).to_be_visible()


def test_an_end_of_the_season_is_dragged_and_moved_by_keys(demo_site, visit):
    page = visit(demo_site, SOME)
    handle = page.get_by_role("slider", name="First selling day")
    at, cells = handle.bounding_box(), page.locator(".cells").first.bounding_box()
    page.mouse.move(at["x"] + 5, at["y"] + 10)
    page.mouse.down()
    page.mouse.move(at["x"] + 5 + 5 * cells["width"] / 83, at["y"] + 10, steps=4)
    page.mouse.up()
    expect(field(page, "First")).to_have_value("Jun 15")
    handle.press("ArrowLeft")
    expect(field(page, "First")).to_have_value("Jun 14")
    page.wait_for_url(re.compile("opens=06-14"))


@pytest.mark.slow
def test_a_day_that_is_none_is_told_and_the_field_says_again_what_stands(demo_site, visit):
    page = visit(demo_site, SOME)
    field(page, "First").fill("<b>soon</b>")
    page.keyboard.press("Enter")
    expect(page.get_by_role("alert").filter(has_text="is no day")).to_be_visible()
    page.keyboard.press("Tab")
    expect(field(page, "First")).to_have_value("Jun 10")


def test_a_gap_is_pressed_and_a_star_closes_some_of_it(demo_site, visit):
    page = visit(demo_site, SOME)
    page.locator(".chip").first.click()
    panel = page.locator("h2").filter(has_text="without enough fruit")
    expect(panel).to_be_visible()
    star = page.get_by_role("button", name=re.compile("^Put on ")).first
    star.click()
    expect(page.locator(".strip h2")).to_have_text("5 on my slate")
    expect(page.locator(".bars .bar")).to_have_count(5)
    page.get_by_role("button", name="Close", exact=True).click()
    expect(panel).to_be_hidden()


@pytest.mark.slow
@pytest.mark.parametrize("tab", pages.TABS)
def test_the_strip_stands_over_every_tab(demo_site, visit, tab):
    page = visit(demo_site, SOME)
    pages.open_tab(page, tab)
    expect(page.locator(".strip h2")).to_be_visible()
    assert page.locator(".cells i").count() == 83


@pytest.mark.slow
def test_a_bar_opens_its_cultivar(demo_site, visit):
    page = visit(demo_site, SOME)
    page.get_by_role("button", name=re.compile("^Sibbrel, usually picked")).click()
    expect(page.get_by_role("tab", name="One cultivar")).to_have_attribute("aria-selected", "true")
