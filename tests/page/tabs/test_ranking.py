"""The ranked table says what it is sorted by."""

from __future__ import annotations

import json

import pytest

from dashboard.page.parts.elements import RowTable
from dashboard.page.tabs.ranking import ranking
from dashboard.visit.state import State
from tests.pressing import press


@pytest.fixture
def table(demo):
    state = State(demo, "?v=1&market=roadside_stand")
    (table,) = ranking(state).select(RowTable)
    return state, table


def title(table) -> str:
    return json.loads(table.told)["title"]


def test_it_begins_by_the_score(table):
    assert "those that qualify first, then those that may, each by the score" in title(table[1])


def test_a_column_sorted_by_hand_is_told_with_its_heading_and_which_way(table):
    _, rows = table
    for key, told in (
        ("size", "by “Size (in)”, the highest first"), ("size", "by “Size (in)”, the lowest first"),
        ("first", "by “Usually picked”, the earliest first"), ("first", "by “Usually picked”, the latest first"),
        ("name", "by “Cultivar”, from A to Z"), ("name", "by “Cultivar”, from Z to A"),
        ("rests", "by “Rests on”, the most seasons first"), ("rests", "by “Rests on”, the fewest seasons first"),
    ):  # fmt: skip
        press(rows, {"sort": key})
        assert told in title(rows)
        assert "by the score" not in title(rows)


def test_it_stays_sorted_by_hand_and_says_so_whatever_is_asked_next(table):
    state, rows = table
    press(rows, {"sort": "sugar"})
    state.choose(market="regional_wholesale", units="si", flesh_colour=("white",))
    assert (
        "those that qualify first, then those that may, each by “Sugar (°Brix)”, the highest first"
        in title(rows)
    )
    state.choose(market="")
    assert "by “Sugar (°Brix)”, the highest first" in title(rows)
    assert "clear every limit" not in title(rows)


def test_a_column_that_was_chosen_is_shown_and_sorted_by(table):
    state, rows = table
    state.choose(columns=("bacterial_spot", "no such column"))
    assert state.question.columns == ("bacterial_spot",)
    assert "&columns=bacterial_spot" in state.link
    told = json.loads(rows.told)
    assert told["columns"][-1]["label"] == "Bacterial spot (0 none to 5)"
    rows._handle_msg({"sort": "bacterial_spot"})
    assert "by “Bacterial spot (0 none to 5)”, the least first" in title(rows)
    spots = [row["cells"][-1] for row in json.loads(rows.told)["rows"]]
    assert spots == sorted(spots)
    state.choose(columns=())
    assert "by the score" in title(rows)


def test_a_column_that_is_gone_sorts_nothing(table):
    state, rows = table
    press(rows, {"sort": "clears"})
    state.choose(market="")
    told = json.loads(rows.told)
    assert "by name" in told["title"]
    assert told["sort"] is None
    names = [row["name"] for row in told["rows"]]
    assert names == sorted(names)
