"""A published slate in a browser: no server, no request, filters as on the live page, everything in the address."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from dashboard import places
from dashboard.answers import catalogue as catalogues
from dashboard.answers.filters import left_out
from dashboard.answers.question import Question
from dashboard.handout.standings import ranked
from dashboard.page import app
from dashboard.slate import publish, published
from dashboard.wording.figures import qualify_told, stretches
from tests.browser import sets
from tests.browser.conftest import Watched
from tests.browser.pages import DESK, PHONE

PROFILE = places.MARKETS / "regional_wholesale.toml"
DRAWN = "() => window.Bokeh && Bokeh.documents.length && Bokeh.documents[0].is_idle"
SHOWN = "() => Bokeh.documents[0].get_model_by_name('shown').indices.length"


@pytest.fixture(scope="module")
def slate(demo, tmp_path_factory) -> Path:
    app.prepare()
    place = tmp_path_factory.mktemp("slate") / "slate.html"
    publish(demo, PROFILE, place)
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
    return page.locator("#rows tbody tr:not([hidden]) th").all_inner_texts()


def test_whom_the_records_do_not_tell_it_of_is_left_out_and_counted(look, slate, demo):
    page = look(slate, "#v=1&bacterial_spot=1&chill=600h,40cp")
    asked = Question(demo, bacterial_spot=1, chill=("600h", "40cp"))
    told = left_out(demo, asked.filters)
    assert set(told) == {"bacterial_spot", "chill"}
    expect(count(page)).to_contain_text(f"{asked.passes.sum()} of ")
    expect(page.locator("details.more")).to_have_js_property("open", True)
    for field, note in told.items():
        expect(page.locator(f"[data-field={field}] .note")).to_have_text(note)
    page.get_by_role("button", name="Take all filters off").click()
    expect(page.locator("[data-field=chill] .note")).to_have_text("")


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


def test_the_shortlist_travels_in_the_address_and_back_takes_it_off(look, slate, demo):
    page = look(slate)
    first, second = names(page)[:2]
    for name in (first, second):
        page.get_by_role("button", name=f"Put on the shortlist: {name}", exact=True).click()
    expect(page.locator("#shortlist")).to_contain_text(f"2: {first}, {second}.")
    address = page.url
    assert "shortlist=" in address
    page.go_back()
    expect(page.locator("#shortlist")).to_contain_text(f"1: {first}.")
    other = look(slate, "#" + address.split("#")[1])
    expect(other.locator("#shortlist")).to_contain_text(f"2: {first}, {second}.")
    other.reload()
    other.wait_for_function(DRAWN)
    expect(other.locator("#shortlist")).to_contain_text(f"2: {first}, {second}.")


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
    expect(page.locator("#filters")).to_be_hidden()


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


def test_the_shortlist_is_saved_as_text_that_no_spreadsheet_runs(look, tmp_path):
    made = catalogues.load(sets.hostile(tmp_path / "hostile"))
    profile = tmp_path / "market.toml"
    profile.write_text(sets.MARKET, encoding="utf-8")
    place = tmp_path / "hostile.html"
    place.write_text(published(ranked(made, profile), "Hostile"), encoding="utf-8")
    page = look(place)
    for star in page.locator("#rows .keep").all()[:12]:
        star.click()
    with page.expect_download() as saved:
        page.get_by_role("button", name="Save the shortlist as .csv").click()
    text = Path(saved.value.path()).read_text(encoding="utf-8-sig")
    assert len(text.splitlines()) >= 12
    assert '"=cmd' not in text
    assert page.evaluate("() => window.hurt") is None


@pytest.mark.parametrize("ripening", [(), ("07b",)])
def test_the_gaps_of_a_list_are_the_page_s_day_for_day(look, slate, demo, ripening):
    whole = Question(demo, market="regional_wholesale")
    late = [name for name in whole.ranking.index if whole.fit["taken"][name]][:4]
    missing = str(whole.ranking.index[whole.ranking["verdict"] == "misses"][0])
    asked = Question(demo, market="regional_wholesale", shortlist=(*late, missing), ripening=ripening)
    after = (
        "#shortlist="
        + ",".join(asked.shortlist).replace(" ", "%20")
        + (f"&ripening={ripening[0]}" if ripening else "")
    )
    page = look(slate, after)
    told = page.locator("#shortlist")
    expect(told).to_contain_text("8 ordinary years in 10")
    gaps = stretches([(gap.first, gap.last) for gap in asked.cover.gaps], demo.south, most=99)
    assert gaps
    expect(told).to_contain_text(f"Gaps, days with fruit in fewer than 8 ordinary years in 10: {gaps}.")
    expect(told).to_contain_text(
        f"1 of 5 misses Regional wholesale, its fruit covers no day here: {missing}."
    )


def test_what_was_told_of_all_cultivars_is_not_told_of_a_part_of_them(look, slate):
    page = look(slate)
    expect(page.get_by_role("columnheader", name="Among first 5")).to_be_visible()
    expect(page.locator("#order")).to_be_visible()
    box(page, "flesh_colour", "white").check()
    expect(page.get_by_role("columnheader", name="Among first 5")).to_be_hidden()
    expect(page.locator("#order")).to_be_hidden()
    expect(page.locator("#filtered")).to_be_visible()
