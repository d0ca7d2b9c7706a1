"""The hall in the browser: by keys alone, seen from the back row, and the code that opens the same view on a phone."""

from __future__ import annotations

import os
import re
import signal
import sys
from urllib.parse import parse_qs, urlsplit

import pytest
import segno
from playwright.sync_api import Page, expect

from dashboard.answers.question import Question
from dashboard.charts import style
from dashboard.charts.code import QUIET_ZONE
from dashboard.visit import saved_views as prepared
from dashboard.visit.network_address import ALONE, own_address
from dashboard.visit.saved_views import View
from dashboard.wording import set_against
from dashboard.wording.cautions import CAUTIONS
from dashboard.wording.presenting import FOUND
from dashboard.wording.stands_on import counts, unsaid
from tests.browser import pages, sets
from tests.charts.modules import modules

PROJECTOR = {"width": 1920, "height": 1080}
SMALLEST = 24  # CSS pixels on it
MARKET = "roadside_stand"
# Every text that can be seen in the hall, with its size; a drawing's own letters are measured as they are drawn.
_SIZES = """dialog => {
  const seen = [];
  const look = root => {
    const walk = document.createTreeWalker(root, NodeFilter.SHOW_TEXT | NodeFilter.SHOW_ELEMENT);
    while (walk.nextNode()) {
      const one = walk.currentNode, at = one.parentElement;
      if (one.shadowRoot) look(one.shadowRoot);
      if (one.nodeType !== Node.TEXT_NODE || !one.textContent.trim() || !at?.checkVisibility() || at.closest("svg, style, label")) continue;
      seen.push([one.textContent, parseFloat(getComputedStyle(at).fontSize)]);
    }
  };
  look(dialog);
  return seen;
}"""
_CUT = """dialog => [...dialog.querySelectorAll("p, h2, dt, dd, button, .spot, .strip")].filter(at => at.checkVisibility())
  .map(at => [at.className || at.tagName, at.getBoundingClientRect()])
  .filter(([, box]) => box.right > innerWidth + 1 || box.bottom > innerHeight + 1 || box.left < -1 || box.top < -1).map(([what]) => what)"""


@pytest.fixture(scope="module")
def projector(chromium):
    context = chromium.new_context(viewport=PROJECTOR)
    yield context
    context.close()


def hall(page: Page):
    return page.get_by_role("dialog", name="Hall view")


def spoken_of(page: Page, name: str) -> None:
    expect(hall(page).locator("h2.name")).to_have_text(re.compile(rf"^{re.escape(name)}★?$"))


def test_the_whole_path_by_keys_alone(demo_site, demo, visit, projector, tmp_path):
    asked = Question(demo, market=MARKET)
    order = list(asked.ranking.index)
    page = visit(demo_site, f"?v=1&market={MARKET}", projector)
    pages.into_hall(page)
    expect(hall(page)).to_be_visible()
    page.wait_for_url(re.compile("look=hall"))
    press = page.keyboard.press
    spoken_of(page, order[0])
    for key, name in (("ArrowRight", order[1]), ("ArrowRight", order[2]), ("ArrowLeft", order[1])):
        press(key)
        spoken_of(page, name)
    press("s")
    expect(hall(page).locator(".kept")).to_have_text("★")
    page.wait_for_url(re.compile("shortlist="))
    press("u")
    expect(hall(page).locator(".kept")).to_have_text("")
    press("r")
    expect(hall(page).locator(".kept")).to_have_text("★")
    press("Control+z")
    expect(hall(page).locator(".kept")).to_have_text("")

    press("?")
    expect(hall(page).get_by_role("heading", name="Keys")).to_be_visible()
    press("?")
    expect(hall(page).get_by_role("heading", name="Keys")).to_be_hidden()

    press("f")
    named = demo.cultivars.index[40]
    page.keyboard.type(named)  # letters that are keys elsewhere are letters here
    press("Enter")
    spoken_of(page, named)
    press("Escape")  # to whom one spoke of before; the hall stays
    spoken_of(page, order[1])

    press("c")
    expect(hall(page)).to_contain_text(ALONE)
    press("Escape")
    expect(hall(page)).not_to_contain_text(ALONE)
    expect(hall(page)).to_be_visible()
    press("h")
    expect(hall(page)).to_be_hidden()
    expect(pages.headline(page)).to_contain_text("pass your filters")
    assert "look=hall" not in page.url
    pages.into_hall(page)
    expect(hall(page)).to_be_visible()
    press("Escape")
    expect(hall(page)).to_be_hidden()


@pytest.mark.slow
def test_prepared_views_are_stepped_through_by_keys(demo_site, demo, visit, projector, tmp_path):
    views = (
        View("White ones", "?v=1&flesh_colour=white&pair=firmness_sugar"),  # another tab and picture at once
        View("The stand", f"?v=1&market={MARKET}&tab=season&units=si"),
    )
    path = tmp_path / "evening.toml"
    path.write_text(prepared.written(views), encoding="utf-8")
    page = visit(demo_site, "?v=1&tab=shortlist", projector)
    pages.open_sheet(page, "Present")
    page.get_by_label("Open a list").set_input_files(path)
    expect(page.locator("ol button.open")).to_have_count(2)
    pages.into_hall(page)
    expect(hall(page).locator(".view")).to_have_text("2 prepared views")
    for key, at, said in (
        ("n", "1 of 2: White ones", "(white)"),
        ("n", "2 of 2: The stand", "Roadside stand"),
        ("p", "1 of 2: White ones", "(white)"),
    ):
        page.keyboard.press(key)
        expect(hall(page).locator(".view")).to_have_text(at)
        expect(hall(page).locator(".asked")).to_contain_text(said)
        expect(hall(page).locator(".across")).to_contain_text("Firmness" if "white" in said else "Size")
        expect(hall(page).locator(".notices p")).to_have_count(0)
    page.keyboard.press("n")
    expect(hall(page).locator(".limits")).to_contain_text("mm")
    page.keyboard.press("h")
    expect(
        page.locator(pages.ANSWERED["Season"]).first
    ).to_be_visible()  # the tab of the view that was shown last
    page.evaluate(
        "[sessionStorage.clear(), localStorage.clear()]"
    )  # it belongs to this visitor, not to the next test's


@pytest.mark.slow
def test_what_a_prepared_view_holds_is_shown_large(demo_site, demo, visit, projector):
    """Season, By class, Side by side and One cultivar; every interval and every mark of evidence is a thirtieth of the screen or more."""
    slate = ",".join(map(str, Question(demo, market=MARKET).ranking.index[:234:13]))
    asked = f"?v=1&look=hall&market={MARKET}&shortlist={slate}&beside=Aldrum,Sibbrel"
    sides = """dialog => [...dialog.querySelectorAll(".form :not(pattern) > circle, .form rect[stroke-width='3']:not([stroke='none'])")]
      .filter(at => !at.closest('[hidden]')).map(at => at.getBoundingClientRect().height)"""
    for tab, said, marks in (
        ("season", "My slate in", 3),
        ("classes", "Each class, week by week", 0),
        ("beside", "Side by side", 6),
        ("cultivar", "among all", 3),
    ):
        page = visit(demo_site, f"{asked}&tab={tab}", projector)
        expect(hall(page).locator(".form h2")).to_contain_text(said)
        expect(hall(page).locator(".whole")).to_be_hidden()
        found = hall(page).evaluate(sides)
        assert len(found) >= marks
        assert min(found, default=PROJECTOR["height"]) >= PROJECTOR["height"] / 30
        sizes = hall(page).evaluate(
            "dialog => [...dialog.querySelectorAll('.form text')].filter(at => !at.closest('[hidden]')).map(at => at.getBoundingClientRect().height)"
        )
        assert min(sizes) >= SMALLEST
        assert [one for one in hall(page).evaluate(_SIZES) if one[1] < SMALLEST] == []
        assert hall(page).evaluate("dialog => dialog.scrollWidth") == PROJECTOR["width"]
        if tab == "season":
            assert_turned(page, slate.split(","))
        page.close()


def assert_turned(page: Page, slate: list[str]) -> None:
    """Everyone of the slate, page by page, and each page says which they are."""
    names, where = hall(page).locator(".row:visible text"), hall(page).locator(".form .rows")
    first = names.all_text_contents()
    expect(where).to_have_text(f"1–{len(first)} of {len(slate)}, next: →")
    page.keyboard.press("ArrowRight")
    expect(where).to_have_text(f"{len(first) + 1}–{len(slate)} of {len(slate)}, back: ←")
    assert sorted([*first, *names.all_text_contents()]) == sorted(slate)
    page.keyboard.press("ArrowLeft")
    expect(where).to_contain_text(f"1–{len(first)} of")


@pytest.mark.slow
def test_two_are_set_against_each_other_a_limit_is_moved_and_home_leads_back(demo_site, demo, visit, projector):  # fmt: skip
    page = visit(
        demo_site, f"?v=1&look=hall&market={MARKET}&beside=Aldrum,Sibbrel&shortlist=Aldrum", projector
    )
    press = page.keyboard.press
    expect(hall(page).locator("p.slate")).to_contain_text("1 on my slate")
    press("v")
    largest = hall(page).locator(".against p").nth(1)
    first, second = told_of(demo, market=MARKET, beside=("Aldrum", "Sibbrel"))
    expect(largest).to_have_text(first)
    assert float(largest.evaluate("p => parseFloat(getComputedStyle(p).fontSize)")) >= 3.5 * SMALLEST
    press("t")
    expect(largest).to_have_text(second)
    press("f")  # the second of the two
    page.keyboard.type("Brovet")
    press("Enter")
    expect(hall(page).locator(".against p").first).to_contain_text("Aldrum and Brovet")
    expect(hall(page).locator(".against p").last).to_have_text(set_against.AGAIN.format(name="Brovet"))
    press("f")
    page.keyboard.type("Rusvet")
    press("Enter")
    expect(hall(page).locator(".against p").first).to_contain_text("Brovet and Rusvet")
    press("Escape")
    expect(largest).to_be_hidden()
    expect(hall(page)).to_be_visible()

    line = """() => [...Bokeh.documents[0]._all_models.values()].find(m => m.type === "Figure" && m.name === "spotlit").center
      .filter(m => m.type === "Span" && m.visible).map(m => m.location)"""
    before = page.evaluate(line)
    at_first = f"size at least 2.25 in: {Question(demo, market=MARKET).own_count.qualify} qualify"
    press("l")
    expect(hall(page).locator(".limiting")).to_contain_text(at_first)
    press("ArrowUp")
    expect(hall(page).locator(".limiting")).to_contain_text("size at least 2.30 in")
    fewer = Question(demo, market=MARKET, own=_own(page)).own_count
    assert fewer.qualify < Question(demo, market=MARKET).own_count.qualify
    expect(hall(page).locator(".limiting")).to_contain_text(f"{fewer.qualify} qualify")
    expect(hall(page).locator(".question")).to_contain_text(f"{fewer.qualify} qualify")
    assert page.evaluate(line) != before
    press("ArrowDown")
    expect(hall(page).locator(".limiting")).to_contain_text(at_first)
    press("ArrowUp")
    expect(hall(page).locator(".limiting")).to_contain_text("2.30 in")
    press("Escape")
    expect(hall(page).locator(".limiting")).to_have_text("")
    expect(hall(page)).to_be_visible()
    press("ArrowDown")  # it is let go of: the keys scroll again
    expect(hall(page).locator(".limits")).to_contain_text("2.30 in")
    expect(hall(page).get_by_role("button", name="chill (K)")).to_be_visible()
    press("k")
    expect(hall(page).locator(".limiting")).to_contain_text("any number of hours")
    page.keyboard.type("6507")
    press("Backspace")
    expect(hall(page).locator(".limiting")).to_contain_text("→ 650")
    press("Enter")
    expect(hall(page).locator(".limiting")).to_contain_text("at most 650 hours")
    page.wait_for_url(re.compile("chill=650h"))


def told_of(demo, **asked) -> list[str]:
    """The first two sentences in which two are set against each other."""
    question = Question(demo, **asked)
    return set_against.against(question, set_against.pair(question))[1:3]


@pytest.mark.slow
def test_in_a_view_that_speaks_of_nobody_no_key_acts_unseen_and_who_is_found_is_seen(
    demo_site, visit, chromium
):
    context = chromium.new_context(viewport={"width": 1366, "height": 768})
    page = visit(
        demo_site, "?v=1&look=hall&market=regional_wholesale&tab=season&shortlist=Brovet,Sibbrel", context
    )
    title, foot = hall(page).locator(".form h2"), hall(page).locator(".strip button:enabled")
    expect(title).to_contain_text("My slate in")
    expect(hall(page).locator(".form")).to_contain_text("may qualify")
    words = " ".join(foot.all_inner_texts())
    assert "find" in words
    for word in ("before", "next", "my slate", "traits"):
        assert word not in words
    before = page.url
    for key in ("ArrowRight", "s", "t", "Control+z"):
        page.keyboard.press(key)
    pages.until(page, "window.Bokeh.documents[0].is_idle")
    assert page.url == before
    page.keyboard.press("f")
    page.keyboard.type("Aldrum")
    page.keyboard.press("Enter")
    spoken_of(page, "Aldrum")
    expect(title).to_contain_text("Aldrum among all")
    page.keyboard.press("s")
    expect(hall(page).locator(".kept")).to_have_text("★")
    page.keyboard.press("Control+z")
    expect(hall(page).locator(".kept")).to_have_text("")
    page.keyboard.press("?")
    page.keyboard.press("s")  # what lies under the keys is not seen
    page.keyboard.press("?")
    expect(hall(page).locator(".kept")).to_have_text("")
    expect(hall(page).locator(".leads")).to_have_text(FOUND)
    hall(page).get_by_role("button", name="my view (B)").press("Enter")
    expect(title).to_contain_text("My slate in")
    expect(hall(page).locator("h2.name")).to_be_hidden()
    context.close()


@pytest.mark.slow
@pytest.mark.parametrize("size", [(1366, 768), (1920, 1080), (1024, 768)])
def test_what_all_of_it_rests_on_is_read_from_the_back_row_and_a_held_limit_cuts_nothing(demo_site, demo, visit, chromium, size):  # fmt: skip
    context = chromium.new_context(viewport={"width": size[0], "height": size[1]})
    page = visit(demo_site, "?v=1&look=hall&market=regional_wholesale&shortlist=Aldrum,Sibbrel", context)
    page.keyboard.press("e")
    evidence = hall(page).locator(".evidence")
    for line in (*counts(demo), *unsaid(demo), *CAUTIONS):
        expect(evidence.get_by_text(line, exact=True)).to_be_visible()
    sizes = evidence.locator("p, h2").evaluate_all(
        "all => all.map(at => parseFloat(getComputedStyle(at).fontSize))"
    )
    assert min(sizes) >= size[1] / 30
    assert_names(page, Question(demo, market="regional_wholesale"), size)
    expect(evidence).to_be_hidden()
    page.keyboard.press("l")
    expect(hall(page).locator(".limiting")).to_contain_text("qualify")
    spot = hall(page).locator(".spot")
    expect(hall(page).locator(".stands b").first).to_be_in_viewport(ratio=1)
    assert spot.evaluate("spot => spot.scrollHeight - spot.clientHeight") <= 0
    assert hall(page).evaluate(_CUT) == []
    context.close()


def assert_names(page: Page, asked: Question, size: tuple[int, int]) -> None:
    """In letters for the back row, none cut; page by page none is left out, and who is pressed is spoken of."""
    page.keyboard.press("w")
    listed, where = hall(page).locator(".names"), hall(page).locator(".names .where")
    read = "list => [...list.querySelectorAll('li')].map(at => at.innerText.split(/\\s+/)[1])"
    names, every = [], list(asked.ranking.index[: asked.own_count.qualify + asked.own_count.may])
    for _ in range(2):
        expect(where).to_contain_text(f"{len(names) + 1}–")
        names += listed.evaluate(read)
        expect(where).to_contain_text(
            f"–{len(names)} of {len(every)}; {len(every) - len(names)} more: press ↓"
        )
        boxes = listed.locator("li").evaluate_all("""all => all.map(at => [at.getBoundingClientRect(), at.parentElement.getBoundingClientRect()])
          .map(([at, of]) => at.right <= of.right + 1 && at.bottom <= of.bottom + 1)""")
        assert all(boxes)
        page.keyboard.press("PageDown")
    assert names == every[: len(names)]
    letters = listed.locator("span, p").evaluate_all(
        "all => all.map(at => parseFloat(getComputedStyle(at).fontSize))"
    )
    assert min(letters) >= size[1] / 30
    assert hall(page).evaluate(_CUT) == []
    expect(where).to_contain_text(f"{len(names) + 1}–")
    page.keyboard.press("PageUp")
    page.keyboard.press("PageUp")
    listed.locator("button").nth(2).press("Enter")
    spoken_of(page, every[2])
    expect(listed).to_be_hidden()


def _own(page: Page) -> tuple[str, ...]:
    page.wait_for_url(re.compile("own="))
    return tuple(part for part in parse_qs(urlsplit(page.url).query)["own"][0].split(","))


def with_views(page: Page, title: str, views: tuple[View, ...]) -> None:
    """The hall, as a browser opens it that has kept these views for the records of a title."""
    page.evaluate(
        "([title, kept]) => localStorage.setItem(`orchard-slate views: ${title}`, kept)",
        [title, prepared.written(views)],
    )
    page.reload()
    pages.awaited(page)
    pages.into_hall(page)


@pytest.mark.slow
def test_notes_are_shown_when_asked_for_and_home_is_the_first_view(demo_site, demo, visit, chromium):
    context = chromium.new_context(viewport=PROJECTOR)
    page = visit(demo_site, "?v=1", context)
    views = (View("White", "?v=1&flesh_colour=white", "Ask who sells in June."), View("Red", "?v=1&flesh_colour=red"))  # fmt: skip
    with_views(page, demo.records_title, views)
    expect(hall(page).locator(".view")).to_have_text("2 prepared views")
    for said in ("1 of 2", "2 of 2"):
        page.keyboard.press("n")
        expect(hall(page).locator(".view")).to_contain_text(said)
    page.keyboard.press("Home")
    expect(hall(page).locator(".view")).to_contain_text("1 of 2: White")
    expect(hall(page).get_by_text("Ask who sells")).to_be_hidden()
    page.keyboard.press("m")
    expect(hall(page).get_by_text("Ask who sells in June.")).to_be_visible()
    page.keyboard.press("m")
    expect(hall(page).get_by_text("Ask who sells")).to_be_hidden()
    context.close()


def test_every_text_is_large_and_nothing_is_cut_off(demo_site, demo, visit, projector):
    out = Question(demo, market=MARKET).ranking
    worst = max(
        out.index, key=lambda name: len(Question(demo, market=MARKET).reason(name))
    )  # the longest sentence
    page = visit(
        demo_site,
        f"?v=1&market={MARKET}&look=hall&cultivar={worst}&flesh_colour=white,yellow&seasons=2",
        projector,
    )
    spoken_of(page, worst)
    pages.until(page, "window.Bokeh.documents[0].is_idle")
    assert_letters(page)  # from the beginning
    keys, field = hall(page).get_by_role("heading", name="Keys"), hall(page).get_by_role("combobox")
    for key, part, seen in (
        ("", hall(page).locator("h2.name"), True),
        ("?", keys, True),
        ("?", keys, False),
        ("f", field, True),
        ("a", hall(page).get_by_role("option").first, True),
        ("Escape", field, False),
        ("c", hall(page).get_by_text(ALONE), True),
    ):
        if key:
            page.keyboard.press(key)
        expect(part).to_be_visible(visible=seen)
        sizes = hall(page).evaluate(_SIZES)
        assert len(sizes) > 10
        assert [one for one in sizes if one[1] < SMALLEST] == []
        assert hall(page).evaluate(_CUT) == []
    assert_letters(page)


def assert_letters(page: Page) -> None:
    """Those along the axes of the picture."""
    letters = page.evaluate("""() => [...Bokeh.documents[0]._all_models.values()].filter(m => m.type === "Figure" && m.name === "spotlit")
      .flatMap(f => [...f.below, ...f.left]).map(axis => parseFloat(axis.major_label_text_font_size))""")
    assert len(letters) == 2
    assert min(letters) >= SMALLEST


EVENING = (
    View("The stand", f"?v=1&market={MARKET}"),
    View("What the packers in the valley asked for last winter, and what is left", f"?v=1&market={MARKET}&flesh_colour=white"),
    View("More of it", f"?v=1&market={MARKET}&flesh_colour=yellow"),
)  # fmt: skip
_WIDE = _CUT.replace("p, h2, dt, dd, button, .spot, .strip", "h2, .why, .asked, .strip, .strip *")


@pytest.mark.slow
@pytest.mark.parametrize("size", [(1920, 1080), (1366, 768), (911, 512)])
def test_with_prepared_views_the_hall_stays_as_wide_as_the_screen(demo_site, demo, visit, chromium, size):
    context = chromium.new_context(viewport={"width": size[0], "height": size[1]})
    page = visit(demo_site, f"?v=1&market={MARKET}&shortlist=Aldrum", context)
    with_views(page, demo.records_title, EVENING)
    expect(hall(page).locator(".view")).to_have_text("3 prepared views")
    # The view of the long name stands, and every key has something to do.
    for key, part, said in (
        ("n", ".view", "1 of 3: "),
        ("n", ".view", "2 of 3: "),
        ("s", ".kept", "★"),
        ("t", ".across", "Firmness"),
        ("u", ".across", "Size"),
    ):
        page.keyboard.press(key)
        expect(hall(page).locator(part)).to_contain_text(said)
    for name in ("undo (U)", "redo (R)", "view before (P)", "next view (N)"):
        expect(hall(page).get_by_role("button", name=name)).to_be_visible()
    assert hall(page).evaluate("dialog => dialog.scrollWidth") == size[0]
    assert hall(page).evaluate(_WIDE) == []
    context.close()


@pytest.mark.slow
def test_on_a_laptop_s_enlarged_screen_the_verdict_is_seen_and_keys_lead_to_the_rest(
    demo_site, visit, chromium
):
    context = chromium.new_context(viewport={"width": 911, "height": 512})  # 1366 by 768 at 150 %
    page = visit(demo_site, f"?v=1&market={MARKET}&look=hall", context)
    why, rests = hall(page).locator(".why"), hall(page).locator(".rests")
    expect(why).to_be_in_viewport(ratio=1)
    expect(rests).not_to_be_in_viewport()
    further = hall(page).get_by_role("button", name="down (↓)")
    while further.is_visible():
        page.keyboard.press("ArrowDown")
    expect(rests).to_be_in_viewport(ratio=0.9)
    page.keyboard.press("PageUp")
    page.keyboard.press("ArrowUp")
    expect(why).to_be_in_viewport(ratio=1)
    page.keyboard.press("?")
    page.keyboard.press("PageDown")
    expect(hall(page).get_by_text("leave the hall view; Esc does it too")).to_be_in_viewport(ratio=1)
    context.close()


@pytest.mark.slow
@pytest.mark.parametrize("size", [(1366, 768), (1280, 720), (1024, 768)])
def test_on_a_smaller_projector_nothing_is_cut_off(demo_site, visit, chromium, size):
    context = chromium.new_context(viewport={"width": size[0], "height": size[1]})
    page = visit(demo_site, f"?v=1&market={MARKET}&look=hall", context)
    pages.awaited(page)
    assert hall(page).evaluate(_CUT) == []
    context.close()


# The spot's ring, and the ends of its intervals: how large they are, and how far they lie within the canvas and the frame.
_SPOT = """() => {
  const model = [...Bokeh.documents[0]._all_models.values()].find(m => m.type === "Figure" && m.name === "spotlit");
  const view = Bokeh.index.find_one_by_id(model.id), { x_scale, y_scale, bbox } = view.frame, whole = view.canvas_view.bbox;
  const drawn = model.renderers.filter(one => one.view.filter.name === "spot"), data = drawn[0].data_source.data, row = drawn[0].view.filter.indices[0];
  const sizes = drawn.filter(one => one.glyph.size).map(one => one.glyph.size.value), ring = Math.max(...sizes) / 2;
  const across = ["x_low", "x", "x_high"].map(key => x_scale.compute(data[key][row])), up = ["y_low", "y", "y_high"].map(key => y_scale.compute(data[key][row]));
  return { least: Math.min(...sizes), ring: Math.min(across[1] - ring, whole.width - across[1] - ring, up[1] - ring, whole.height - up[1] - ring),
    ends: Math.min(across[0] - bbox.left, bbox.right - across[2], up[2] - bbox.top, bbox.bottom - up[0]) };
}"""


@pytest.mark.slow
@pytest.mark.parametrize("size", [(911, 512), (1366, 768), (1920, 1080)])
def test_no_mark_of_the_one_spoken_of_is_cut_and_the_slate_s_strip_is_as_large(demo_site, demo, visit, chromium, size):  # fmt: skip
    context = chromium.new_context(viewport={"width": size[0], "height": size[1]})
    sugar = demo.values["sugar"]["estimate"]
    page = visit(demo_site, f"?v=1&look=hall&cultivar={sugar.idxmax()}", context)
    days = hall(page).locator(".whole > .days")
    expect(days).to_be_hidden()
    page.keyboard.press("s")
    expect(days.locator(".bar")).to_have_count(1)
    for part in (".length", ".cells"):
        assert days.locator(part).first.bounding_box()["height"] >= size[1] / 30
    for name in (sugar.idxmax(), sugar.idxmin()):
        page.evaluate(
            "query => { history.pushState({}, '', query); dispatchEvent(new PopStateEvent('popstate')); }",
            f"?v=1&look=hall&shortlist={sugar.idxmax()}&cultivar={name}",
        )
        spoken_of(page, name)
        pages.until(page, "window.Bokeh.documents[0].is_idle")
        found = page.evaluate(_SPOT)
        assert found["least"] >= size[1] / 30
        assert min(found["ring"], found["ends"]) >= 0, (name, found)
    page.keyboard.press("u")  # the slate was empty before
    page.keyboard.press("u")
    expect(days).to_be_hidden()
    context.close()


_INKS = """() => { const figure = [...Bokeh.documents[0]._all_models.values()].find(m => m.type === "Figure" && m.name === "spotlit");
  return [...figure.renderers.map(one => one.glyph.line_color.value), ...figure.center.map(one => one.line_color ?? one.grid_line_color), figure.below[0].major_label_text_color]
    .map(one => one?.value ?? one).filter(one => typeof one === "string"); }"""


@pytest.mark.slow
def test_a_dark_room_is_kept_by_the_browser_and_told_in_no_link(demo_site, visit, chromium):
    context = chromium.new_context(viewport=PROJECTOR)
    page = visit(demo_site, f"?v=1&look=hall&market={MARKET}", context)
    ground = "dialog => getComputedStyle(dialog).backgroundColor"
    light, link = hall(page).evaluate(ground), page.url
    page.keyboard.press("d")
    dark, drawn = hall(page).evaluate(ground), page.evaluate(_INKS)
    assert dark != light
    assert {style.DARK[name] for name in ("spot", "leaf", "limit")} <= set(drawn)
    assert style.SPOT not in drawn
    assert page.url == link
    page.reload()
    pages.awaited(page)
    assert hall(page).evaluate(ground) == dark
    pages.until(page, f"({_INKS})().includes('{style.DARK['spot']}')")
    hall(page).get_by_role("button", name="dark (D)").press("Enter")
    assert hall(page).evaluate(ground) == light
    pages.until(page, f"({_INKS})().includes('{style.SPOT}')")
    again = set(page.evaluate(_INKS))
    assert {style.NAMED[name] for name in ("spot", "leaf", "limit")} <= again
    assert not {style.DARK[name] for name in ("spot", "leaf", "limit")} & again
    context.close()


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="a process cannot be held up there")
def test_what_takes_a_while_is_said_to_be_worked_on(demo_site, visit, projector):
    page = visit(demo_site, f"?v=1&look=hall&market={MARKET}", projector)
    working = hall(page).locator(".working")
    expect(working).to_be_hidden()
    os.kill(demo_site.pid, signal.SIGSTOP)
    try:
        page.keyboard.press("ArrowRight")
        expect(working).to_have_text("Working …")
        expect(working).to_be_in_viewport(ratio=1)
    finally:
        os.kill(demo_site.pid, signal.SIGCONT)
    expect(working).to_be_hidden()


@pytest.mark.slow
def test_buttons_for_a_pointer_come_with_the_mouse(demo_site, demo, visit, projector):
    page = visit(demo_site, f"?v=1&market={MARKET}&look=hall", projector)
    edge = "button => getComputedStyle(button).borderTopColor"
    further = hall(page).get_by_role("button", name="next (→)")
    expect(further).to_be_visible()
    before = further.evaluate(edge)
    page.mouse.move(600, 500)
    page.mouse.move(620, 520)
    assert further.evaluate(edge) != before
    further.click()
    spoken_of(page, Question(demo, market=MARKET).ranking.index[1])
    hall(page).get_by_role("button", name="leave (H)").click()
    expect(hall(page)).to_be_hidden()


@pytest.mark.slow
def test_the_code_is_of_this_view_s_address_and_the_address_opens_it(
    open_site, demo, visit, projector, chromium
):
    if not own_address():
        pytest.skip("this machine is in no network")
    page = visit(open_site, f"?v=1&market={MARKET}&flesh_colour=white&look=hall", projector)
    page.keyboard.press("ArrowRight")
    spoken_of(page, Question(demo, market=MARKET, flesh_colour=("white",)).ranking.index[1])
    page.keyboard.press("c")
    address = hall(page).locator(".code .address").inner_text()
    parts = urlsplit(address)
    assert (parts.hostname, parts.port) == (own_address(), open_site.port)
    assert "look" not in parts.query
    drawn = hall(page).locator("svg.code")
    expected = [[bool(one) for one in row] for row in segno.make_qr(address, error="l").matrix]
    found = modules(drawn.evaluate("svg => svg.outerHTML"))
    assert [row[QUIET_ZONE:-QUIET_ZONE] for row in found[QUIET_ZONE:-QUIET_ZONE]] == expected
    box = drawn.bounding_box()
    assert min(box["width"], box["height"]) >= 400
    page.keyboard.press("c")
    expect(drawn).to_have_count(0)
    name = hall(page).locator("h2.name").inner_text()

    phone = chromium.new_context(**pages.PHONE)
    there = phone.new_page()
    there.goto(address)
    expect(pages.headline(there)).to_be_visible(timeout=pages.PATIENCE)
    assert pages.left(there) == int(Question(demo, market=MARKET, flesh_colour=("white",)).passes.sum())
    expect(there.locator('[role="tab"][aria-selected="true"]')).to_have_text("One cultivar")
    expect(there.get_by_role("heading", name=name, exact=True)).to_be_visible()
    expect(there.get_by_role("dialog")).to_have_count(0)
    phone.close()


@pytest.mark.slow
def test_hostile_names_are_text_in_the_hall(hostile_site, visit, projector):
    page = visit(hostile_site, "?v=1&market=hostile&look=hall", projector)
    for name in sets.HOSTILE_NAMES:
        page.keyboard.press("f")
        page.keyboard.insert_text(name)
        page.keyboard.press("Enter")
        spoken_of(page, name)
        assert hall(page).evaluate(_CUT) == []
    assert hall(page).locator("img, script, h2 b").count() == 0
    assert pages.hurt(page) is None


@pytest.mark.slow
def test_a_visit_that_never_asks_for_the_hall_is_sent_nothing_of_it(demo_site, visit):
    page = visit(demo_site)
    told = page.evaluate(
        """() => [...Bokeh.documents[0]._all_models.values()].filter(m => m.name === "spotlit" || m.class_name === "Hall").length"""
    )
    assert told == 0
