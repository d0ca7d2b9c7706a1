"""The season's calendar: my slate in order of picking under its gaps, the others by class, and nothing outside what is asked for."""

from __future__ import annotations

import json

import pytest

from dashboard.answers.class_weeks import class_of
from dashboard.answers.question import Question
from dashboard.answers.season_classes import picked_each_day, season_classes
from dashboard.charts.calendar_rows import BEGIN, calendar_view
from dashboard.page.tabs.season import season
from dashboard.page.tabs.season_rows import SeasonRows
from dashboard.visit.state import State
from tests.pressing import press

SLATE = ("Brovet", "Zelmor", "Aldrum", "Grimusko")


@pytest.fixture(scope="module")
def asked(demo) -> Question:
    return Question(demo, shortlist=SLATE, market="roadside_stand", season_kind="ordinary")


def test_the_slate_comes_in_order_of_picking_and_keeps_the_strip_s_gaps(asked):
    view = calendar_view(asked)
    assert [row["name"] for row in view["slate"]] == [bar.name for bar in asked.strip.bars]
    assert sorted(row["name"] for row in view["slate"]) == sorted(SLATE)
    assert len(view["gaps"]) == len(asked.strip.rows[0].gaps) >= 1
    assert asked.strip.rows[0].longest > 7
    first, last = asked.selling
    for row in view["slate"]:
        window = asked.catalogue.windows.loc[row["name"]]
        assert row["at"][2] <= row["at"][0] < row["at"][1] <= row["at"][3]
        assert row["kept"]
        assert row["check"] == (row["name"] in asked.catalogue.checks)
        assert window["seasons"] > 0
    assert len(view["marks"]) > 2
    assert view["days"] == last - first + 1


def test_a_bar_stands_on_its_own_days_of_the_selling_days(asked):
    """The first selling day begins at 0; the last ends at 1."""
    own = asked.strip.bars[1]
    narrow = Question(asked.catalogue, shortlist=(own.name,), season_kind="ordinary", opens="06-01", closes="07-30")  # fmt: skip
    row = calendar_view(narrow)["slate"][0]
    opens, closes = narrow.selling
    bar = narrow.strip.bars[0]
    expected = [
        min(max((day - opens + 0.5) / (closes - opens + 1), 0), 1)
        for day in (bar.first - 0.5, bar.last + 0.5)
    ]
    assert row["at"][:2] == pytest.approx(expected, abs=1e-4)


def test_the_others_are_told_by_class_and_only_what_the_buyer_takes_in_the_selling_days(demo, asked):
    within = Question(demo, shortlist=SLATE, market="roadside_stand", season_kind="ordinary", opens="07-01", closes="07-31")  # fmt: skip
    found = season_classes(within)
    shown = [str(name) for windows in found.classes.values() for name in windows.index]
    assert len(shown) == len(set(shown))
    assert not set(shown) & set(SLATE)
    assert within.fit.loc[shown, "taken"].all()
    assert found.outside > 0
    assert found.miss > 0
    others = within.windows[~within.windows.index.isin(SLATE)]
    assert len(shown) + found.outside + found.miss == len(others)
    kinds = class_of(demo)
    for kind, windows in found.classes.items():
        assert set(kinds[windows.index]) == {kind}
        assert (windows["last"] >= within.selling[0] - 0.5).all()
        assert (windows["first"] <= within.selling[1] + 0.5).all()
    assert any(str(found.outside) in line for line in calendar_view(within)["rest"])


def test_a_band_counts_who_is_picked_on_each_day(asked):
    windows = next(iter(season_classes(asked).classes.values()))
    band = picked_each_day(windows, asked.selling)
    day = asked.selling[0] + 40
    expected = sum(first <= day + 0.5 and last >= day - 0.5 for first, last in zip(windows["first"], windows["last"], strict=True))  # fmt: skip
    assert band[40] == expected
    assert calendar_view(asked)["classes"][0]["band"] == band.tolist()


def test_rows_of_a_class_are_sent_when_it_is_opened(demo):
    state = State(demo, "?v=1&tab=season&market=roadside_stand&shortlist=Aldrum")
    layout = season(state)
    (rows,) = layout.select(SeasonRows)
    told = json.loads(rows.told)
    assert not any(one["rows"] for one in told["classes"])
    kind = told["classes"][1]["kind"]
    press(rows, {"fold": kind})
    opened = {one["kind"]: one["rows"] for one in json.loads(rows.told)["classes"]}
    assert len(opened[kind]) == len(season_classes(state.question).classes[kind])
    assert sum(map(bool, opened.values())) == 1
    press(rows, {"keep": opened[kind][0]["name"]})
    assert state.shortlist == ("Aldrum", opened[kind][0]["name"])
    assert [row["name"] for row in json.loads(rows.told)["slate"]] == [bar.name for bar in state.question.strip.bars]  # fmt: skip
    press(rows, {"fold": kind})
    assert not any(one["rows"] for one in json.loads(rows.told)["classes"])
    press(rows, {"open": "Aldrum"})
    assert (state.tab, state.cultivar) == ("cultivar", "Aldrum")
    press(rows, {"fold": ["no", "class"]})


def test_an_empty_slate_says_what_to_press_and_what_qualifies_by_class(demo):
    view = calendar_view(Question(demo, market="regional_wholesale"))
    assert (view["slate"], view["gaps"], view["said"]) == ([], [], [BEGIN])
    assert view["classes"]
    none = calendar_view(Question(demo, seasons=99))
    assert none["classes"] == []
    assert none["others"]


def test_any_records_have_a_calendar(catalogue):
    names = tuple(str(name) for name in catalogue.cultivars.index[:3])
    for asked in (Question(catalogue), Question(catalogue, shortlist=names)):
        view = calendar_view(asked, season_classes(asked).classes)
        json.dumps(view, allow_nan=False)
        assert len(view["slate"]) <= len(asked.shortlist)
