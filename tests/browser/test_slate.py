"""A published slate in a browser: no server, no request, filters as on the live page, everything in the address."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from markupsafe import escape
from playwright.sync_api import Browser, BrowserContext, Page, expect

from dashboard import places
from dashboard.answers import catalogue as catalogues
from dashboard.answers.filters import left_out
from dashboard.answers.my_site import MySite
from dashboard.answers.planning import plan
from dashboard.answers.planting import nurseries
from dashboard.answers.question import Question
from dashboard.answers.replacing import closers
from dashboard.answers.selling import filling
from dashboard.answers.standing import fits
from dashboard.handout.standings import ranked
from dashboard.page import app
from dashboard.ripening.filling import greedy
from dashboard.slate import publish, published
from dashboard.slate.publishing import html
from dashboard.wording.figures import qualify_told, stretches
from dashboard.wording.my_site import slate_told
from dashboard.wording.strip import drawn
from tests.browser import sets
from tests.browser.conftest import Watched
from tests.browser.pages import DESK, PHONE
from tests.site.places import place as warm

PROFILE = places.MARKETS / "regional_wholesale.toml"
DRAWN = "() => window.Bokeh && Bokeh.documents.length && Bokeh.documents[0].is_idle"
MINE = "() => /shortlist=([^&]*)/.exec(location.hash)[1].split(',').map(decodeURIComponent)"
SHOWN = "() => Bokeh.documents[0].get_model_by_name('shown').indices.length"


@pytest.fixture(scope="module")
def slate(demo, tmp_path_factory) -> Path:
    app.prepare()
    place = tmp_path_factory.mktemp("slate") / "slate.html"
    publish(demo, PROFILE, place)
    return place


@pytest.fixture(scope="module")
def for_two(demo, tmp_path_factory) -> Path:
    app.prepare()
    place = tmp_path_factory.mktemp("slate") / "two.html"
    publish(demo, PROFILE, place, second="Roadside stand", first="Jun 10", last="Aug 31")
    return place


@pytest.fixture
def look(chromium: Browser) -> Iterator[Callable[..., Page]]:
    contexts: list[BrowserContext] = []
    watched = Watched()

    def open_file(place: Path, after: str = "", **how) -> Page:
        context = chromium.new_context(**(how or {"viewport": DESK, "accept_downloads": True}))
        contexts.append(context)
        page = watched.page(context)
        page.goto(place.as_uri() + after)
        if how.get("java_script_enabled", True):
            page.wait_for_function(DRAWN)
            page.wait_for_function("() => document.getElementById('page').textContent")
        return page

    yield open_file
    for context in contexts:
        context.close()
    assert [fault for fault in watched.faults if "file://" not in fault] == []


def count(page: Page):
    return page.locator("#count")


def box(page: Page, field: str, value: str):
    return page.locator(f'#groups input[name="{field}"][value="{value}"]')


def names(page: Page) -> list[str]:
    return page.locator("#rows tbody tr:not([hidden]) th .open").all_inner_texts()


@pytest.mark.slow
def test_whom_the_records_do_not_tell_it_of_is_left_out_and_counted(look, slate, demo):
    page = look(slate, "#v=1&bacterial_spot=1&chill=600h,40cp")
    asked = Question(demo, bacterial_spot=1, chill=("600h", "40cp"))
    told = left_out(demo, asked.filters)
    assert set(told) == {"bacterial_spot", "chill"}
    expect(count(page)).to_contain_text(f"{asked.passes.sum()} of ")
    expect(page.locator("details.more")).to_have_js_property("open", True)
    for field, note in told.items():
        expect(page.locator(f"[data-field={field}] .note")).to_have_text(note)
    number = page.get_by_label("Or type: Winter chill needed at most")
    number.fill("650")
    number.press("Enter")
    typed = Question(demo, bacterial_spot=1, chill=("650h",))
    expect(count(page)).to_contain_text(f"{typed.passes.sum()} of ")
    assert "chill=650h" in page.url
    number.fill("12")
    number.press("Enter")
    expect(page.locator("[data-field=chill] .note")).to_contain_text("50 to 1,500 hours or 2 to 100 portions")
    page.get_by_role("button", name="Take all filters off").click()
    expect(page.locator("[data-field=chill] .note")).to_have_text("")
    page.go_back()
    expect(number).to_have_value("650")


@pytest.mark.slow
def test_it_says_who_of_my_slate_goes_short_in_the_same_winter(look, well_recorded, tmp_path):
    app.prepare()
    asked = Question(well_recorded, market="packer", weather=MySite(well_recorded, warm(mean=20.0)))
    held = ("Aldermere", "Candover", "Farrowby", "Glenhollow")
    file = tmp_path / "warm.html"
    file.write_bytes(html(asked))
    page = look(file, f"#shortlist={','.join(held)}")
    for line in slate_told(replace(asked, shortlist=held)):
        expect(page.locator("#mine")).to_contain_text(line)
    assert "Enough chill at Warm Flat" in page.locator("#rows thead").inner_text()
    expect(page.get_by_text("Chill figures are estimates, not insurance.").first).to_be_visible()


def test_its_filters_leave_what_the_live_page_leaves(look, slate, demo):
    page = look(slate)
    box(page, "flesh_colour", "white").check()
    box(page, "seasons", "3").check()
    asked = Question(demo, market="regional_wholesale", flesh_colour=("white",), seasons=3)
    expect(count(page)).to_contain_text(
        f"{int(asked.passes.sum())} of 355 cultivars pass your filters; {qualify_told(asked)}."
    )
    assert names(page) == asked.ranking.index[:30].tolist()
    assert page.evaluate(SHOWN) == int(asked.passes.sum())
    left = box(page, "acidity_class", "low").locator("xpath=..").locator(".left")
    expect(left).to_have_text(str(asked.counts["acidity_class"]["low"]))
    ringed = page.evaluate("() => Bokeh.documents[0].get_model_by_name('ringed').indices.length")
    assert ringed == int(asked.not_beaten.sum())


@pytest.mark.slow
def test_my_slate_travels_in_the_address_and_back_takes_it_off(look, slate, demo):
    page = look(slate)
    first, second = names(page)[:2]
    for name in (first, second):
        page.get_by_role("button", name=f"Put on my slate: {name}", exact=True).click()
    expect(page.locator("#mine")).to_contain_text(f"2: {first}, {second}.")
    address = page.url
    assert "shortlist=" in address
    page.go_back()
    expect(page.locator("#mine")).to_contain_text(f"1: {first}.")
    other = look(slate, "#" + address.split("#")[1])
    expect(other.locator("#mine")).to_contain_text(f"2: {first}, {second}.")
    other.reload()
    other.wait_for_function(DRAWN)
    expect(other.locator("#mine")).to_contain_text(f"2: {first}, {second}.")


@pytest.mark.slow
def test_a_mark_that_is_tapped_stands_out_in_all_pictures_and_the_table(look, slate):
    page = look(slate)
    page.evaluate("() => { Bokeh.documents[0].get_model_by_name('cultivars').selected.indices = [3, 5]; }")
    expect(page.locator("#chosen")).to_contain_text("2 chosen:")
    page.wait_for_function("() => location.hash.includes('chosen=')")
    assert page.locator("#rows tr.chosen").count() == 2


def test_a_damaged_address_opens_with_a_note(look, slate):
    page = look(slate, "#v=7&flesh_colour=blue,white&shortlist=Nobody%20<b>&moon=1&%E0%A4%A")
    expect(page.locator("#note")).to_contain_text("“version 7”, “blue”, “Nobody <b>”, “moon”")
    expect(box(page, "flesh_colour", "white")).to_be_checked()


@pytest.mark.slow
def test_an_empty_answer_names_the_filter_to_take_off(look, slate):
    page = look(slate)
    box(page, "flesh_colour", "red").check()
    box(page, "fruit_type", "nectarine").check()
    box(page, "seasons", "8").check()
    expect(count(page)).to_contain_text("No cultivar passes.")
    page.get_by_role("button", name="Take all filters off").click()
    expect(count(page)).to_contain_text("355 of 355")


def test_without_javascript_every_row_can_be_read(look, slate):
    page = look(slate, viewport=DESK, java_script_enabled=False)
    assert page.locator("#rows tbody tr").count() == 355
    expect(page.locator("#rows tbody tr").last).to_be_visible()
    expect(page.locator("#groups")).to_be_hidden()
    expect(page.get_by_text("Limits: ")).to_be_visible()


def test_on_a_phone_nothing_is_wider_than_the_screen_and_targets_fit_a_thumb(look, slate):
    page = look(slate, **PHONE)
    wide = page.evaluate("() => document.documentElement.scrollWidth - innerWidth")
    assert wide <= 0
    expect(page.locator("#groups")).to_be_hidden()  # closed at first
    page.locator("#filters > summary").tap()
    sizes = (
        page.locator("#groups label.option, #rows .keep, #filters > summary")
        .filter(visible=True)
        .evaluate_all("all => all.map(at => at.getBoundingClientRect()).map(box => box.height)")
    )
    assert min(sizes) >= 44


def test_my_slate_is_saved_as_text_that_no_spreadsheet_runs(look, tmp_path):
    made = catalogues.load(sets.hostile(tmp_path / "hostile"))
    profile = tmp_path / "market.toml"
    profile.write_text(sets.MARKET, encoding="utf-8")
    place = tmp_path / "hostile.html"
    place.write_text(published(ranked(made, profile), "Hostile"), encoding="utf-8")
    page = look(place)
    for star in page.locator("#rows .keep").all()[:12]:
        star.click()
    with page.expect_download() as saved:
        page.get_by_role("button", name="Save my slate as .csv").click()
    text = Path(saved.value.path()).read_text(encoding="utf-8-sig")
    assert len(text.splitlines()) >= 12
    assert '"=cmd' not in text
    assert page.evaluate("() => window.hurt") is None


DAYS = {"opens": "06-10", "closes": "08-31"}


@pytest.mark.alike(9)
@pytest.mark.parametrize(("ripening", "days"), [((), {}), (("07b",), {}), (("07b",), DAYS)])
def test_the_gaps_of_a_list_are_the_page_s_day_for_day(look, slate, demo, ripening, days):
    """Over the selling days where they were chosen, whatever halves of months are filtered by."""
    whole = Question(demo, market="regional_wholesale")
    late = [name for name in whole.ranking.index if whole.fit["taken"][name]][:4]
    missing = str(whole.ranking.index[whole.ranking["verdict"] == "misses"][0])
    asked = Question(demo, market="regional_wholesale", shortlist=(*late, missing), ripening=ripening, **days)
    after = (
        "#shortlist="
        + ",".join(asked.shortlist).replace(" ", "%20")
        + (f"&ripening={ripening[0]}" if ripening else "")
        + "".join(f"&{end}={key}" for end, key in days.items())
    )
    page = look(slate, after)
    told = page.locator("#mine")
    expect(told).to_contain_text("8 ordinary years in 10")
    gaps = stretches([(gap.first, gap.last) for gap in asked.cover.gaps], demo.south, most=99)
    assert gaps
    expect(told).to_contain_text(f"Gaps, days with fruit in fewer than 8 ordinary years in 10: {gaps}.")
    expect(told).to_contain_text(
        f"1 of 5 misses Regional wholesale, its fruit covers no day here: {missing}."
    )


@pytest.mark.slow
def test_a_browser_that_cannot_unpack_the_seasons_still_says_who_misses(look, slate, demo):
    whole = Question(demo, market="regional_wholesale")
    missing = str(whole.ranking.index[whole.ranking["verdict"] == "misses"][0])
    page = look(slate, f"#shortlist={missing}".replace(" ", "%20"))
    page.context.add_init_script("delete window.DecompressionStream")
    page.reload()
    expect(page.locator("#mine")).to_contain_text(f"its fruit covers no day here: {missing}.")
    expect(page.locator("#mine")).to_contain_text("too old to work out its gaps")


def strip_drawn(page: Page) -> dict:
    """What the strip shows: its cells by their looks, bars by name, and its words."""
    page.locator("#strip .cells i").first.wait_for()
    strip = page.locator("#strip")
    return {
        "cells": strip.locator(".cells").evaluate_all(
            "all => all.map(row => [...row.children].map(at => at.className.slice(1)).join(''))"
        ),
        "bars": strip.locator(".bar").evaluate_all("all => all.map(at => at.dataset.name)"),
        "heading": strip.locator("h2").inner_text(),
        "told": strip.locator(".covered").inner_text(),
        "said": strip.locator(".said p").all_inner_texts(),
    }


def on_the_page(asked: Question) -> dict:
    told = drawn(asked, asked.strip)
    return {
        "cells": [row["cells"] for row in told["rows"]],
        "bars": [bar["name"] for bar in told["bars"]],
        "heading": told["heading"],
        "told": " · ".join(row["told"] for row in told["rows"]),
        "said": told["said"],
    }


def test_the_strip_is_the_page_s_and_a_star_beside_a_gap_redraws_it(look, slate, demo):
    asked = Question(demo, market="regional_wholesale", **DAYS)
    held = tuple(str(name) for name in asked.ranking.index[:3])
    asked = replace(asked, shortlist=held)
    page = look(slate, f"#opens=06-10&closes=08-31&shortlist={','.join(held)}".replace(" ", "%20"))
    assert strip_drawn(page) == on_the_page(asked)
    gap = max(asked.strip.rows[0].gaps, key=lambda one: one.last - one.first)
    page.locator("#strip .chip").first.click()
    page_s = closers(asked.wanted, held, (gap.first, gap.last))
    first = page.locator("#plan tbody tr").first
    expect(page.locator("#plan")).to_contain_text(f"{len(page_s)} cultivars would help")
    assert int(first.locator("td").nth(1).inner_text()) == page_s["closes"].iloc[0]
    name = first.locator("th").inner_text()
    first.get_by_role("button").click()
    expect(page.locator("#strip h2")).to_have_text("4 on my slate")
    assert strip_drawn(page) == on_the_page(replace(asked, shortlist=(*held, name)))
    assert page.locator("#plan th[scope=row]").all_inner_texts().count(name) == 0


@pytest.mark.slow
def test_a_slate_for_two_buyers_is_the_page_s_and_is_filled_for_both(look, for_two, demo):
    asked = Question(demo, market="regional_wholesale", second="roadside_stand", **DAYS)
    verdicts = [fits(demo, buyer, asked.basis)["verdict"] for buyer in asked.buyers]
    held = (*asked.ranking.index[:2], next(name for name in verdicts[0].index if verdicts[0][name] == "misses" and verdicts[1][name] == "qualifies"))  # fmt: skip
    asked = replace(asked, shortlist=held)
    page = look(for_two, f"#shortlist={','.join(held)}".replace(" ", "%20"))
    assert strip_drawn(page) == on_the_page(asked)
    assert len(asked.strip.rows) == 2
    assert asked.strip.rows[0].gaps != asked.strip.rows[1].gaps
    shown = page.locator("#rows tbody tr:not([hidden]) .k-second .unseen").all_inner_texts()
    assert shown == verdicts[1].loc[asked.ranking.index[:30]].tolist()
    for row in asked.strip.rows:
        expect(page.locator("#mine")).to_contain_text(f"{row.buyer}: Gaps, days with fruit in fewer than 8")
    second = max(asked.strip.rows[1].gaps, key=lambda one: one.last - one.first)
    page.locator("#strip .row").nth(1).locator(".gap").nth(asked.strip.rows[1].gaps.index(second)).click()
    page_s = closers(asked.wanted, held, (second.first, second.last), 1)
    expect(page.locator("#plan h2")).to_contain_text("Roadside stand: ")
    expect(page.locator("#plan")).to_contain_text(f"{len(page_s)} cultivars would help")
    page.locator("#strip .fill").click()
    page.get_by_role("button", name="Let them in").click()
    expect(page.get_by_role("button", name="Only what can be bought")).to_be_visible()
    page.locator("#plan button", has_text="Put all").click()
    expect(page.locator("#strip .covered")).to_have_text(
        "Regional wholesale: 83 of 83 days, 8 ordinary years in 10 · Roadside stand: 83 of 83 days, 8 ordinary years in 10"
    )
    whole = replace(asked, shortlist=tuple(page.evaluate(MINE)))
    assert strip_drawn(page) == on_the_page(whole)
    page.get_by_label("in at least").select_option("9")
    page.wait_for_function("() => location.hash.includes('certainty=9')")
    assert strip_drawn(page) == on_the_page(replace(whole, certainty=9))


@pytest.mark.slow
def test_candidates_come_first_under_a_low_header(look, for_two):
    """On a phone, too: strip, then the list's cards; what filters is folded, nothing lies over the page."""
    page = look(for_two, **PHONE)
    strip_drawn(page)
    tops = page.evaluate(
        """() => ['header', '#strip', '#rows tbody tr', '#fruit'].map(at => {
          const box = document.querySelector(at).getBoundingClientRect(); return [box.top, box.height]; })"""
    )
    assert tops[0] == [0, 44]
    assert [top for top, _ in tops] == sorted(top for top, _ in tops)
    assert tops[2][0] + tops[2][1] < page.viewport_size["height"]
    assert page.locator("dialog[open], [role=dialog]").count() == 0
    wide = look(for_two, viewport={"width": 820, "height": 1180})
    strip_drawn(wide)
    assert wide.evaluate("() => document.documentElement.scrollWidth - innerWidth") <= 0
    expect(wide.locator("#further")).to_be_hidden()  # all columns are in sight
    wide.evaluate("() => { document.getElementById('rows').parentElement.style.width = '400px'; }")
    expect(wide.locator("#further")).to_be_visible()


def test_the_gaps_are_filled_by_a_proposal_that_is_taken_one_by_one_or_whole(look, slate, demo, capsys):
    page = look(slate, "#opens=06-10&closes=08-31")
    strip_drawn(page)
    page.evaluate("""() => { window.asked = performance.now(); new MutationObserver((_, seen) => {
        if (document.querySelector("#plan tbody tr")) { window.took = performance.now() - window.asked; seen.disconnect(); }
    }).observe(document.getElementById("plan"), { childList: true, subtree: true }); }""")
    page.locator("#strip .fill").click()
    page.locator("#plan tbody tr").first.wait_for()
    offered = [bool(one) for one in nurseries(demo)[page.locator("#plan tbody th").all_inner_texts()]]
    assert all(offered)
    expect(page.locator("#plan p", has_text="Left out: ")).to_contain_text("that no nursery offered")
    page.get_by_role("button", name="Let them in").click()
    expect(page.locator("#plan h2")).to_contain_text(
        "cultivars. Each of the 83 days has fruit in at least 8 ordinary years in 10."
    )
    names = page.locator("#plan tbody th").all_inner_texts()
    expect(page.locator("#strip h2")).to_have_text("My slate is empty")  # nothing unasked
    page.get_by_role("button", name=f"Put on my slate: {names[2]}", exact=True).first.click()
    expect(page.locator("#strip h2")).to_have_text("1 on my slate")
    page.get_by_role("button", name=f"Put all {len(names) - 1} on my slate", exact=True).click()
    expect(page.locator("#strip .covered")).to_have_text("83 of 83 days, 8 ordinary years in 10")
    asked = Question(demo, market="regional_wholesale", shortlist=tuple(names), **DAYS)
    assert asked.strip.rows[0].covered.all()
    assert len(names) <= len(greedy(filling(replace(asked, shortlist=()).wanted)))
    with capsys.disabled():
        print(
            f"\n{len(names)} proposed in {page.evaluate('window.took') / 1000:.1f} s; the page {len(plan(asked.wanted).names)}"
        )


def test_a_hostile_name_in_strip_gap_and_proposal_stays_text(look, slate, demo, tmp_path):
    asked = Question(demo, market="regional_wholesale", **DAYS)
    name = str(plan(asked.wanted).names[8])
    before, found, after = slate.read_text(encoding="utf-8").partition('<script type="application/json"')
    told = json.dumps(sets.ALERT)[1:-1].replace("<", "\\u003c").replace(">", "\\u003e")
    place = tmp_path / "hostile.html"
    place.write_text(
        before.replace(name, str(escape(sets.ALERT))) + found + after.replace(name, told), encoding="utf-8"
    )
    page = look(place, "#opens=06-10&closes=08-31")
    strip_drawn(page)
    page.locator("#strip .gap").first.click()
    expect(page.locator("#plan tbody tr").first).to_be_visible()
    page.locator("#strip .fill").click()
    page.get_by_role("button", name="Let them in").click()
    expect(page.get_by_role("button", name="Only what can be bought")).to_be_visible()
    page.get_by_role("button", name=re.compile(r"^Put all \d+ on my slate$")).click()
    expect(page.locator("#strip .covered")).to_have_text("83 of 83 days, 8 ordinary years in 10")
    star = page.locator("#rows .keep").and_(page.get_by_label(f"Put on my slate: {sets.ALERT}", exact=True))
    if star.count():  # it is in no proposal of the slate's
        star.first.dispatch_event("click")
    assert sets.ALERT in strip_drawn(page)["bars"]
    assert page.locator("#strip img, #plan img").count() == 0
    assert page.evaluate("() => window.hurt") is None


@pytest.mark.slow
def test_what_has_no_fruit_for_some_days_is_said_in_the_proposal(look, slate):
    page = look(slate, "#opens=06-10&closes=08-31&flesh_colour=red")
    strip_drawn(page)
    page.locator("#strip .fill").click()
    expect(page.locator("#plan")).to_contain_text("Not covered: ")
    expect(page.locator("#plan")).to_contain_text("together do not have fruit then in 8 years in 10.")


@pytest.mark.slow
def test_selling_days_are_typed_and_what_is_no_day_is_said(look, slate, demo):
    page = look(slate, "#opens=06-10&closes=08-31")
    strip_drawn(page)
    first = page.get_by_label("First selling day").first
    first.fill("july 4")
    first.blur()
    page.wait_for_function("() => location.hash.includes('opens=07-04')")
    asked = Question(demo, market="regional_wholesale", opens="07-04", closes="08-31")
    assert strip_drawn(page) == on_the_page(asked)
    for typed, said in (("soon", "“soon” is no day"), ("Sep 5", "comes before the first, Sep 5")):
        first.fill(typed)
        first.blur()
        expect(page.locator("#plan [role=alert]")).to_contain_text(said)
        assert "opens=07-04" in page.url
        expect(first).to_have_value("Jul 4")
    page.get_by_label("in at least").select_option("6")
    page.wait_for_function("() => location.hash.includes('certainty=6')")
    damaged = look(slate, "#opens=13-40&closes=constructor&certainty=toString")
    expect(damaged.locator("#note")).to_contain_text(
        "“opens 13-40”, “closes constructor”, “certainty toString”"
    )


@pytest.mark.slow
def test_on_a_phone_the_strip_and_what_closes_a_gap_fit(look, slate):
    page = look(slate, "#opens=06-10&closes=08-31", **PHONE)
    strip_drawn(page)
    page.locator("#strip .gap").first.tap()
    page.locator("#plan tbody tr").first.wait_for()
    assert page.evaluate("() => document.documentElement.scrollWidth - innerWidth") <= 0
    heights = page.locator("#plan button, #strip .fill").evaluate_all(
        "all => all.map(at => at.getBoundingClientRect().height)"
    )
    assert min(heights) >= 44


@pytest.mark.slow
def test_what_was_told_of_all_cultivars_is_not_told_of_a_part_of_them(look, demo, tmp_path):
    publish(demo, PROFILE, tmp_path / "slate.html", columns="leads")
    page = look(tmp_path / "slate.html")
    expect(page.get_by_role("columnheader", name="Among first 5")).to_be_visible()
    expect(page.locator("#order")).to_be_visible()
    box(page, "flesh_colour", "white").check()
    expect(page.get_by_role("columnheader", name="Among first 5")).to_be_hidden()
    expect(page.locator("#order")).to_be_hidden()
    expect(page.locator("#filtered")).to_be_visible()


@pytest.mark.slow
def test_its_rows_are_drawn_as_on_the_page_and_move_with_the_slate(look, slate, demo):
    """Over the gaps of the slate that is gathered, on the selling days that were chosen; with the figures as text."""
    page = look(slate)
    name = names(page)[0]
    row = page.locator("#rows tbody tr", has=page.locator(".open", has_text=re.compile(f"^{name}$")))
    of = Question(demo, market="regional_wholesale").ranking.loc[name]
    expect(row.locator(".k-size .unseen")).to_have_text(re.compile(r"^\d\.\d\d \(.*\)$"))
    assert row.locator(".drawn").count() == 6  # score, picking, size, firmness, sugar, seasons
    gaps = "() => document.getElementById('rows').tBodies[0].style.getPropertyValue('--gaps')"
    assert page.evaluate(gaps) == "none"
    page.get_by_role("button", name=f"Put on my slate: {name}", exact=True).click()
    page.wait_for_function(f"({gaps})().includes('--gap')")
    page.goto(slate.as_uri() + "#v=1&opens=06-10&closes=08-31")
    page.reload()
    page.wait_for_function(DRAWN)
    asked = Question(demo, market="regional_wholesale", opens="06-10", closes="08-31")
    first, last = asked.selling
    page.locator("#strip .cells i").first.wait_for()
    bar = row.locator(".drawn.picking")
    left, right = (float(bar.evaluate(f"at => at.style.getPropertyValue('{end}')")) for end in ("--l", "--h"))
    days = last - first + 1
    assert left == pytest.approx(min(1, max(0, (of["first"] - first) / days)), abs=2e-3)
    assert right == pytest.approx(min(1, max(0, (of["last"] + 1 - first) / days)), abs=2e-3)
