"""A market changed on the page: by keys, kept by the address, undone by back, taken home as a file and brought along."""

from __future__ import annotations

import re
from importlib.metadata import version
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import Locator, Page, expect

from dashboard.answers.question import Question
from dashboard.market import read_market
from dashboard.market.drafting import Draft
from dashboard.market.statements import statements
from tests.browser import pages
from tests.browser.axe import found
from tests.browser.pages import DESK

EVIL = "<img src=x onerror=window.hurt=1> \"quotes\" & \\ 'more'"
START = "?v=1&market=roadside_stand"
WEIGHT = "Wish for sugar, weight, slider"


def opened(page: Page) -> Locator:
    """The editor, opened."""
    editor = page.locator("details", has=page.get_by_text(re.compile("limits and wishes|market of your own")))
    expect(editor).not_to_have_attribute("open", "")  # closed at first
    editor.locator("summary").click()
    return editor


def own(page: Page) -> tuple[str, ...]:
    return tuple(parse_qs(urlsplit(page.url).query).get("own", [""])[0].split(","))


def stands_first(page: Page, name: str) -> None:
    expect(pages.rows(page).first).to_have_attribute("data-id", name)


def test_a_weight_moved_with_keys_ranks_anew_is_kept_and_undone(demo_site, demo, visit):
    page = visit(demo_site, "?v=1&market=regional_wholesale")
    before = Question(demo, market="regional_wholesale").ranking.index[0]
    stands_first(page, before)
    opened(page)
    page.get_by_label("Wish for firmness, weight, slider").focus()
    page.keyboard.press("End")
    page.wait_for_url(re.compile(r"want\+firmness\+.*?weight\+10"))
    asked = Question(demo, market="regional_wholesale", own=own(page))
    after = asked.ranking.index[0]
    assert after != before
    stands_first(page, after)
    expect(pages.headline(page)).to_contain_text("Regional wholesale, changed")
    expect(page.get_by_label("Wish for firmness, weight", exact=True)).to_have_value("10")

    page.reload()
    pages.awaited(page)
    stands_first(page, after)
    opened(page)
    expect(page.get_by_label("Wish for firmness, weight, slider")).to_have_value("10")

    page.go_back()
    stands_first(page, before)
    expect(page.get_by_label("Wish for firmness, weight, slider")).to_have_value("2")
    expect(page.get_by_text("Regional wholesale, as it is written.")).to_be_visible()


@pytest.mark.slow
def test_a_slide_is_one_step_back_and_the_slider_is_never_taken_from_the_hand(demo_site, visit):
    page = visit(demo_site, START)
    opened(page)
    slider = page.get_by_label(WEIGHT)
    slider.focus()
    slider.evaluate("slider => { window.held = slider; }")
    for _ in range(12):
        page.keyboard.press("ArrowRight")
    page.wait_for_url(
        re.compile(r"want\+sugar\+larger\+from\+9\+to\+14\+weight\+10")
    )  # the last value arrives
    expect(slider).to_have_value("10")
    assert slider.evaluate(
        "slider => slider === window.held && slider.getRootNode().activeElement === slider"
    )
    page.go_back()
    page.wait_for_url(re.compile(r"market=roadside_stand$"))
    expect(slider).to_have_value("4")


@pytest.mark.slow
def test_one_step_of_a_slider_is_one_message_up_and_one_change_of_the_page_down(demo_site, desk):
    page = desk.new_page()
    with pages.messages(page) as heard:
        page.goto(demo_site.url + START)
        pages.awaited(page)
        opened(page)
        page.get_by_label(WEIGHT).focus()
        page.wait_for_timeout(500)  # nothing of the opening comes any more
        heard.clear()
        page.keyboard.press("ArrowRight")
        page.wait_for_url(re.compile("weight\\+4.5"))
        page.wait_for_timeout(500)  # nothing more comes
    page.close()
    # A message of Bokeh's is a header, metadata and content, a frame each; every change is answered with an OK.
    ours = [text for way, text in heard if way == "up" and '"tick"' in text]
    changes = [text for way, text in heard if way == "down" and "PATCH-DOC" in text]
    assert len(ours) == 1
    # Panel 1.10 sends what belongs to one change in a message a part; all follow from the one step.
    assert 1 <= len(changes) <= (20 if version("panel").startswith("1.10") else 1)


@pytest.mark.slow
def test_a_copy_goes_home_and_comes_along_to_another_visit(demo_site, demo, visit, chromium, tmp_path):
    page = visit(demo_site, START)
    opened(page)
    page.get_by_label("Limit on size, at least").fill("2.375")
    page.get_by_label("Name of the copy").fill(EVIL)
    with page.expect_download() as coming:
        page.get_by_role("button", name="Save a copy").click()
    path = tmp_path / coming.value.suggested_filename
    coming.value.save_as(path)
    assert path.name == "img_src_x_onerror_window_hurt_1_quotes_more.toml"
    market = read_market(path)
    assert market.name == EVIL
    assert statements(market) == own(page)
    assert market.limits[0].at_least == 2.375 * 25.4
    assert market.wishes == tuple(demo.markets["roadside_stand"].wishes)

    other = chromium.new_context(viewport=DESK)
    second = visit(demo_site, "", other)
    opened(second)
    second.get_by_label(re.compile("Open a profile")).set_input_files(path)
    second.wait_for_url(re.compile("own="))
    assert own(second) == own(page)
    expect(second.get_by_label("Name of the copy")).to_have_value(EVIL)
    expect(second.get_by_label("Limit on size, at least")).to_have_value("2.375")
    left = Question(demo, own=own(page)).own_count
    expect(pages.headline(second)).to_contain_text(
        f"{left.qualify} qualify for Your own market, {left.may} more may"
    )
    assert pages.hurt(second) is None
    other.close()


@pytest.mark.alike(9)
@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"#" * 120_001, "120001 bytes: larger than the 120 kB a market profile may be"),
        (b"\xff\xfe\x00", "bad.toml: is not text in UTF-8"),
        (f'name = "M"\n[[limit]]\ntrait = "{EVIL[:33]}"'.encode(), f"trait = {EVIL[:33]}: not one of size"),
    ],
)
def test_a_bad_file_is_told_and_nothing_is_lost(demo_site, visit, tmp_path, content, told):
    page = visit(demo_site, START)
    editor = opened(page)
    page.get_by_label("Wish for sugar, weight", exact=True).fill("7")
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile("weight\\+7"))
    path = Path(tmp_path / "bad.toml")
    path.write_bytes(content)
    address = page.url
    page.get_by_label(re.compile("Open a profile")).set_input_files(path)
    expect(editor.get_by_role("alert").filter(has_text=told)).to_be_visible()
    expect(page.get_by_label("Wish for sugar, weight", exact=True)).to_have_value("7")
    assert page.url == address
    assert pages.hurt(page) is None


@pytest.mark.slow
def test_a_bad_figure_is_told_beside_it_and_stays_as_it_was_typed(demo_site, visit):
    page = visit(demo_site, START)
    editor = opened(page)
    box = page.get_by_label("Wish for sugar, from")
    headline = pages.headline(page).inner_text()
    for text, told in (
        (EVIL, "must be a number"),
        ("", "Wish for sugar, from: is missing; write a figure, or remove the wish."),
        ("15", "Wish for sugar, from = 15: must be below to = 14; let from be the smaller of the two."),
    ):
        box.fill(text)
        box.press("Enter")
        expect(editor.get_by_role("alert").filter(has_text=told)).to_be_visible()
        expect(box).to_have_attribute("aria-invalid", "true")
        expect(box).to_have_value(text)
        assert pages.headline(page).inner_text() == headline
        assert page.url.endswith(START)
    box.fill("8")
    box.press("Enter")
    page.wait_for_url(re.compile(r"sugar\+larger\+from\+8"))
    expect(box).to_have_attribute("aria-invalid", "false")
    expect(editor.get_by_role("alert").filter(has_text=re.compile(r"\w"))).to_have_count(0)
    assert pages.hurt(page) is None


def test_an_own_market_is_started_from_nothing(demo_site, demo, visit):
    page = visit(demo_site)
    opened(page)
    page.get_by_label("Add a limit on").select_option("Flesh color")
    page.get_by_role("button", name="Add a limit").click()
    red = page.get_by_role("group", name="Limit on flesh color").get_by_label("red")
    red.uncheck()
    page.wait_for_url(re.compile(r"own=flesh_colour\+any_of\+yellow\+white"))
    left = Question(demo, own=("flesh_colour any_of yellow white",)).own_count
    expect(pages.headline(page)).to_contain_text(
        f"{left.qualify} qualify for Your own market, {left.may} more may"
    )
    page.get_by_label("Add a wish on").select_option("Sugar")
    page.get_by_role("button", name="Add a wish").click()
    way = page.get_by_label("Wish for sugar, which way")
    way.select_option("best at an ideal")
    expect(page.get_by_label("Wish for sugar, ideal")).to_be_visible()
    page.get_by_role("button", name="Remove: Limit on flesh color").click()
    page.wait_for_url(re.compile(r"own=want\+sugar\+target"))
    page.get_by_role("button", name="Take your own market off").click()
    page.wait_for_url(re.compile(r"\?v=1&year=any$"))


_SIZES = "all => all.filter(at => at.offsetParent).map(at => [at.tagName + ' ' + at.textContent.slice(0, 20), ...(box => [box.width, box.height, box.right])(at.getBoundingClientRect())])"


@pytest.mark.slow
def test_on_a_phone_a_thumb_meets_everything_and_nothing_stands_out(demo_site, visit, phone):
    page = visit(demo_site, "?v=1&market=low_acid_white_speciality", context=phone)
    page.get_by_role("button", name=re.compile("^Filters")).tap()
    editor = opened(page)
    edge = editor.bounding_box()
    for things in (
        "summary",
        "button",
        "input[type=text]",
        "select",
        "input[type=range]",
        "input[type=file]",
        "label.option",
    ):
        sizes = editor.locator(things).evaluate_all(_SIZES)
        assert sizes, things
        for (
            named,
            width,
            height,
            right,
        ) in sizes:  # WCAG 2.2, success criterion 2.5.5: at least 44 by 44 CSS pixels
            assert min(width, height) >= 44, (things, named, width, height)
            assert right <= edge["x"] + edge["width"] + 1, (things, named)
    around = page.get_by_role("region", name="Market and filters").bounding_box()
    assert edge["x"] + edge["width"] <= around["x"] + around["width"]


@pytest.mark.slow
def test_the_open_editor_follows_from_market_to_market(demo_site, demo, visit):
    page = visit(demo_site)
    opened(page)
    names = [*demo.markets, *reversed(demo.markets)]  # each after each other kind of neighbour, and back
    for key in names:
        pages.market(page, demo.markets[key].name).check()
        page.wait_for_url(f"**/*market={key}*")
        places = [part.place for part in Draft(demo.markets[key], "us").parts]
        groups = page.locator(".part")
        expect(groups).to_have_count(len(places))
        assert groups.evaluate_all("all => all.map(at => at.getAttribute('aria-label'))") == places
        for place in places:
            (group,) = page.get_by_role("group", name=place, exact=True).all()
            figures = group.locator("input[type=text]").filter(visible=True)
            assert all(
                label.startswith(place)
                for label in figures.evaluate_all("all => all.map(at => at.getAttribute('aria-label'))")
            )
            assert figures.count() == 0 or group.locator("input[type=checkbox]").count() == 0


@pytest.mark.slow
def test_no_serious_fault_of_access_in_the_open_editor(demo_site, visit):
    page = visit(demo_site, "?v=1&market=low_acid_white_speciality")
    editor = opened(page)
    page.get_by_label("Wish for sugar, from").fill("x")
    page.keyboard.press("Enter")
    expect(editor.get_by_role("alert").filter(has_text="must be a number")).to_be_visible()
    assert found(page) == []
    labels = editor.locator("input, select, button").evaluate_all(
        "all => all.filter(at => at.offsetParent).map(at => at.getAttribute('aria-label') || at.labels?.[0]?.textContent || at.textContent)"
    )
    assert len(labels) > 20
    assert all(label.strip() for label in labels)
