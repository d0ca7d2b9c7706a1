"""The ripening calendar holds the windows' own days, a page at a time; the season counts them."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.answers.question import Question
from dashboard.charts import calendar, style
from dashboard.charts.held import Held
from dashboard.ripening import day_label
from tests.charts.conftest import some_of
from tests.charts.drawn import column, one_length, renderers, source_with, sources


@pytest.fixture
def windows(demo) -> pd.DataFrame:
    return demo.windows.dropna(subset="middle").sort_values("middle", kind="stable")


def page_of(
    windows: pd.DataFrame, page: int = 0, shortlist: tuple = (), checks: tuple = (), meets=None
) -> dict:
    meets = pd.Series(True, index=windows.index) if meets is None else meets
    span = calendar.extent(windows)
    rows = calendar.page_rows(windows, meets, page, shortlist, checks, span)
    return {**rows, **calendar.told(windows, page, False)}


def calendar_of(windows: pd.DataFrame, columns: dict):
    held = Held(calendar.drawing(calendar.extent(windows), False))
    calendar.fill_page(held, columns)
    return held, held.figures[2]


@pytest.mark.parametrize("number", [0, 3])
def test_a_bar_runs_over_the_expected_days_and_a_line_over_their_doubt(windows, number):
    figure = calendar_of(windows, page_of(windows, number))[1]
    part = windows.iloc[30 * number : 30 * number + 30]
    usual = source_with(figure, "usual")
    assert list(usual.data["cultivar"]) == list(part.index)
    np.testing.assert_allclose(column(usual, "first"), part["first"] - 0.5)
    np.testing.assert_allclose(column(usual, "last"), part["last"] + 0.5)
    np.testing.assert_allclose(column(usual, "first_low"), part["first_low"])
    np.testing.assert_allclose(column(usual, "last_high"), part["last_high"])
    doubt = renderers(figure)[0].glyph
    assert (doubt.x0.field, doubt.x1.field) == ("first_low", "last_high")
    assert list(usual.data["usual"]) == [
        f"{day_label(a)} to {day_label(b)}" for a, b in zip(part["first"], part["last"], strict=True)
    ]


def test_pages_together_show_everyone_once(windows):
    pages = -(-len(windows) // calendar.PAGE)
    shown = [name for page in range(pages) for name in page_of(windows, page)["cultivar"]]
    assert shown == list(windows.index)


def test_another_page_goes_into_the_same_picture(windows):
    held, figure = calendar_of(windows, page_of(windows))
    before = [source.id for source in sources(figure)]
    last = len(windows) // calendar.PAGE
    calendar.fill_page(held, page_of(windows, last))
    assert [source.id for source in sources(figure)] == before
    assert all(one_length(source) for source in sources(figure))
    rest = windows.iloc[last * calendar.PAGE :]
    assert list(source_with(figure, "usual").data["cultivar"]) == list(rest.index)
    assert (figure.y_range.start, figure.y_range.end) == (max(len(rest), calendar.FEWEST), 0)


def test_dark_is_inside_the_market_and_a_star_is_on_the_shortlist(windows):
    meets = pd.Series(np.arange(len(windows)) % 2 == 0, index=windows.index)
    names = list(windows.index[:3])
    columns = page_of(windows, shortlist=(names[1],), checks=(names[2],), meets=meets)
    assert columns["color"][:2] == [style.LEAF, style.OUT]
    shown = [a or b for a, b in zip(columns["name_before"], columns["name_after"], strict=True)]
    assert shown[0] == names[0][:28]
    assert shown[1].startswith("★ ")
    assert shown[2].endswith("(check)")


def test_a_day_counts_those_usually_picked_on_it(windows):
    """Against counting one by one; a window's ends are rounded to days as they are written."""
    span = calendar.extent(windows)
    chosen = np.arange(len(windows)) % 3 == 0
    by_day = calendar.picked_by_day(windows, chosen, span)
    for at in range(0, len(by_day["day"]), 7):
        day = by_day["day"][at]
        picking = [
            f - 0.5 <= day <= la + 0.5 for f, la in zip(windows["first"], windows["last"], strict=True)
        ]
        assert by_day["all"][at] == sum(picking)
        assert by_day["chosen"][at] == sum(p and c for p, c in zip(picking, chosen, strict=True))


def test_the_season_s_area_is_the_count_of_each_day(windows):
    span = calendar.extent(windows)
    held = Held(calendar.drawing(span, False))
    figure = held.figures[0]
    few = windows.iloc[:5]
    by_day = calendar.picked_by_day(few, np.zeros(5, dtype=bool), span)
    calendar.fill_season(held, by_day)
    assert [renderer.glyph.y.field for renderer in renderers(figure)] == ["all", "chosen"]
    days, area = len(by_day["day"]), source_with(figure, "all", "chosen")
    assert list(column(area, "x")[:days]) == list(by_day["day"])
    assert list(column(area, "all")[:days]) == list(by_day["all"])
    assert not column(area, "chosen").any()
    assert not column(area, "all")[days:].any()
    assert figure.y_range.end >= by_day["all"].max()


@pytest.mark.alike(2)
def test_any_table_is_drawn(windows, which):
    few = some_of(windows, which).copy()
    few["seasons"] = few["seasons"].fillna(0)
    span = calendar.extent(few)
    assert np.isfinite(span).all()
    assert span[0] < span[1]
    if which == "nothing known":
        few = few.dropna(subset="middle")  # as an answer hands them out: never picked is not in it
    held, figure = calendar_of(few, page_of(few))
    season = held.figures[0]
    calendar.fill_season(held, calendar.picked_by_day(few, np.zeros(len(few), dtype=bool), span))
    calendar.fill_cover(held, None)
    assert all(
        one_length(source) for picture in (figure, season, held.figures[1]) for source in sources(picture)
    )
    assert season.y_range.end >= 1


def test_from_empty_to_full_and_back(windows):
    held, figure = calendar_of(windows, page_of(windows.iloc[:0]))
    calendar.fill_page(held, page_of(windows))
    assert list(source_with(figure, "usual").data["cultivar"]) == list(windows.index[:30])
    calendar.fill_page(held, page_of(windows.iloc[:0]))
    assert list(source_with(figure, "usual").data["cultivar"]) == [""]  # a blank row


def test_an_empty_page_has_no_numbers_for_colours(windows):
    """Bokeh takes an empty column of numbers for colours it cannot read, and says so in the browser's console."""
    figure = calendar_of(windows, page_of(windows.iloc[:0]))[1]
    colours = source_with(figure, "usual").data["color"]
    assert isinstance(colours, list) or colours.dtype == object


def test_the_cover_s_area_is_the_chance_and_its_gaps_are_red(demo):
    span = calendar.extent(demo.windows)
    held = Held(calendar.drawing(span, False))
    cover = Question(demo, shortlist=("Aldrum", "Brovet")).cover
    calendar.fill_cover(held, cover)
    area, red = source_with(held.figures[1], "x", "y"), source_with(held.figures[1], "left", "right")
    days = len(cover.days)
    np.testing.assert_allclose(column(area, "y")[:days], 100 * cover.chance, rtol=1e-6)
    assert list(zip(red.data["left"], red.data["right"], strict=True)) == [
        (gap.first - 0.5, gap.last + 0.5) for gap in cover.gaps
    ]
    assert cover.gaps


def test_a_difference_of_no_day_has_no_sign(windows):
    told = calendar.told(windows.head(3).assign(from_check=[-0.3, 0.3, -1.2]), 0, False)
    assert told["beside"] == ["0 days", "0 days", "-1 days"]
