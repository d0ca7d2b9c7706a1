"""Filters, units and keys, on the demo page."""

from __future__ import annotations

import re
from urllib.parse import quote

import pytest
from playwright.sync_api import expect

from dashboard.answers.question import Question
from dashboard.terms.traits import TRAITS
from tests.browser import pages


def test_an_empty_answer_names_the_filter_and_its_button_brings_cultivars_back(demo, walk):
    asked, query = emptied(demo, one_to_blame=True)
    page = walk(query)
    expect(pages.headline(page)).to_have_text(asked.emptied.sentence)
    expect(pages.rows(page)).to_have_count(0)
    page.get_by_role("button", name=asked.emptied.offer).click()
    expect(pages.headline(page)).to_have_text(re.compile(rf"^{asked.emptied.would_leave} of "))
    assert pages.rows(page).count() > 0
    expect(page.get_by_role("button", name=asked.emptied.offer)).to_have_count(0)


def test_where_no_one_filter_is_to_blame_the_button_takes_all_off(demo, walk):
    asked, query = emptied(demo, one_to_blame=False)
    page = walk(query)
    expect(pages.headline(page)).to_have_text(asked.emptied.sentence)
    page.get_by_role("button", name=re.compile(rf"{asked.emptied.would_leave} left")).click()
    expect(pages.headline(page)).to_have_text(re.compile(rf"^{asked.emptied.would_leave} of "))


def emptied(demo, one_to_blame: bool) -> tuple[Question, str]:
    """A question no cultivar of the demo answers, and its link."""
    for half in Question(demo).counts["ripening"]:
        for flesh in ("white", "red", "yellow"):
            for seasons in (1, 3, 8):
                asked = Question(
                    demo, fruit_type=("nectarine",), flesh_colour=(flesh,), shape_type=("flat",), ripening=(half,), seasons=seasons
                )  # fmt: skip
                if asked.emptied is not None and bool(asked.emptied.field) == one_to_blame:
                    words = f"fruit_type=nectarine&flesh_colour={flesh}&shape_type=flat&ripening={half}"
                    return asked, f"?v=1&{words}" + (f"&seasons={seasons}" if seasons > 1 else "")
    raise AssertionError("the demo data no longer have such a question")


def test_the_number_beside_a_box_is_what_ticking_it_leaves(demo, walk):
    page = walk()
    beside = int(
        page.locator("label.option", has=pages.tick(page, "nectarine")).locator(".left").inner_text()
    )
    pages.tick(page, "nectarine").check()
    expect(pages.headline(page)).to_have_text(re.compile(rf"^{beside} of "))


def test_the_rarely_used_filters_lie_folded_and_open_when_one_is_set(demo, walk):
    page = walk()
    folded = page.locator("details", has=page.locator("summary", has_text="More filters"))
    spot = folded.locator("fieldset[data-field=bacterial_spot]")
    expect(folded).to_have_js_property("open", False)
    expect(spot).not_to_be_visible()
    folded.locator("summary").click()
    spot.get_by_label("at most 1").check()
    expect(pages.headline(page)).to_have_text(
        re.compile(rf"^{Question(demo, bacterial_spot=1).passes.sum()} of ")
    )
    left_out = int((demo.cultivars["bacterial_spot"].isna() & (demo.windows["seasons"] > 0)).sum())
    expect(spot.locator(".note")).to_have_text(f"{left_out} left out: not recorded")
    spot.get_by_label("any").check()
    expect(spot.locator(".note")).to_be_hidden()
    page = walk("?v=1&chill=600h")
    folded = page.locator("details", has=page.locator("summary", has_text="More filters"))
    expect(folded).to_have_js_property("open", True)
    expect(folded.get_by_label("600 hours")).to_be_checked()


def test_units_change_the_numbers_and_the_headings_everywhere(demo, walk):
    page = walk(pages.PICTURED)
    name = Question(demo).ranking.index[0]
    row = page.locator(f'tr[data-id="{name}"]')
    size, firmness = (demo.values[key].loc[name, "estimate"] for key in ("size", "firmness"))
    expect(row).to_contain_text(f"{size / 25.4:.2f}")
    expect(page.get_by_role("columnheader", name="Size (in)")).to_be_visible()
    pages.until(page, _FIGURES + ".length >= 3")  # made when they are first asked for
    before = ranges(page)
    page.get_by_label("Units", exact=True).select_option("si")
    expect(page.get_by_role("columnheader", name="Size (mm)")).to_be_visible()
    expect(row).to_contain_text(f"{size:.1f}")
    expect(row).to_contain_text(f"{firmness:.0f}")
    pages.until(page, _LABELS + ".includes('Size (mm)')")
    assert {TRAITS[key].heading("si") for key in ("size", "firmness", "sugar")} <= set(labels(page))
    assert "Size (in)" not in labels(page)
    after = ranges(page)
    assert after[0] == pytest.approx([25.4 * edge for edge in before[0]], rel=0.02)


_FIGURES = """[...window.Bokeh.documents[0]._all_models.values()].filter(m => m.type === "Figure")"""
_LABELS = (
    f"{_FIGURES}.flatMap(f => [...f.below, ...f.left]).map(axis => axis.axis_label).filter(label => label)"
)


def labels(page) -> list[str]:
    return page.evaluate(f"() => {_LABELS}")


def ranges(page) -> list[list[float]]:
    """The ends of each picture's x axis."""
    return page.evaluate(f"() => {_FIGURES}.map(f => [f.x_range.start, f.x_range.end])")


@pytest.mark.slow
def test_a_tick_box_is_reached_and_ticked_with_keys_alone(demo_site, demo, visit):
    page = visit(demo_site)
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate(_FOCUSED + "?.value") == "white":
            break
    else:
        raise AssertionError("sixty times Tab does not reach the box for white flesh")
    page.keyboard.press("Space")
    expect(pages.tick(page, "white")).to_be_checked()
    left = int(Question(demo, flesh_colour=("white",)).passes.sum())
    expect(pages.headline(page)).to_have_text(re.compile(rf"^{left} of "))
    # The answer has come and the focus is still where the reader left it.
    assert page.evaluate(_FOCUSED + "?.value") == "white"
    page.keyboard.press("Space")
    expect(pages.tick(page, "white")).not_to_be_checked()


_FOCUSED = """(() => { let at = document.activeElement; while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement; return at })()"""


def test_the_table_is_sorted_by_a_press_on_a_heading(demo, walk):
    page = walk()
    page.get_by_role("button", name="Size (in)").click()
    largest = demo.values["size"]["estimate"].idxmax()
    expect(pages.rows(page).first).to_have_attribute("data-id", largest)
    heading = page.get_by_role("columnheader", name=re.compile(r"Size \(in\)"))
    expect(heading).to_have_attribute("aria-sort", "descending")


@pytest.mark.slow
def test_two_cultivars_opened_one_after_the_other(demo_site, demo, visit):
    """The second finds the pictures drawn already; nothing may be asked of another site for it."""
    page = visit(demo_site)
    first, second = Question(demo).ranking.index[:2]
    page.get_by_role("button", name=f"Put on my slate: {first}", exact=True).click()
    expect(pages.heading(page)).to_have_text("1 on my slate")
    for name, kept in ((first, "Take off my slate"), (second, "Put on my slate")):
        page.get_by_role("button", name=name, exact=True).click()
        expect(page.get_by_role("heading", name=name, exact=True, level=2)).to_be_visible()
        expect(page.get_by_role("button", name=f"{kept}: {name}", exact=True)).to_be_visible()
        pages.open_tab(page, "Candidates")


@pytest.mark.slow
def test_from_a_sampled_cultivar_to_one_never_sampled_and_back(demo, walk):
    sampled = Question(demo).ranking.index[0]
    never = demo.windows.index[demo.windows["seasons"].to_numpy() == 0][0]
    page = walk(f"?v=1&cultivar={quote(sampled)}&tab=cultivar")
    finder = page.get_by_label(re.compile("type part of its name"))
    finder.fill(never)
    page.get_by_role("option", name=never, exact=True).click()
    expect(page.get_by_role("heading", name=never, exact=True)).to_be_visible()
    expect(page.get_by_text("When it is picked is not on record.")).to_be_visible()
    page.go_back()
    expect(page.get_by_role("heading", name=sampled, exact=True)).to_be_visible()
    expect(page.locator("p.notice")).to_have_count(0)
