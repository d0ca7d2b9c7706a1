"""A picture's table: made when asked for, says what the picture shows, and follows the answer while it is open."""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest

from dashboard.answers.question import Question
from dashboard.charts import calendar
from dashboard.page.parts.buttons import Button
from dashboard.page.parts.elements import RowTable
from dashboard.page.parts.twin import twin
from dashboard.page.tabs.by_class import boxes_view
from dashboard.page.tabs.records import variation_rows, variation_view
from dashboard.page.tabs.season_tables import PAGE, weeks_view, windows_view
from dashboard.ripening import day_label
from dashboard.wording.figures import chance, of_hundred
from tests.pressing import press


@pytest.fixture
def asked(demo) -> Question:
    return Question(demo, market="roadside_stand", least=2)


def test_the_weeks_tell_what_the_two_pictures_show(asked, demo):
    view = weeks_view(asked, 1)
    by_day = calendar.picked_by_day(
        asked.windows,
        asked.fit["taken"].reindex(asked.windows.index).to_numpy(),
        calendar.extent(demo.windows),
    )
    cells = [row["cells"] for row in view["rows"]]
    assert max(int(row[1]) for row in cells) == by_day["all"].max()
    assert max(int(row[2]) for row in cells) == by_day["chosen"].max()
    assert chance(asked.cover.chance.min()) in {row[3] for row in cells}
    assert not {row[3] for row in cells} & {"0 %", "100 %"}
    days = {day_label(gap.first, demo.south) for gap in asked.cover.gaps}
    assert days
    assert sum(row[4] != "" for row in cells) >= len(days)
    assert view["columns"][3]["label"].startswith("Chance of at least 2")


def test_every_cultivar_of_the_calendar_is_in_its_table_once(asked):
    first = windows_view(asked, 1)
    views = [first, *(windows_view(asked, page) for page in range(2, first["pages"] + 1))]
    names = [row["name"] for view in views for row in view["rows"]]
    assert names == list(asked.windows.index)
    told = calendar.told(asked.windows, 0, asked.catalogue.south)
    assert [row["cells"][2] for row in first["rows"]] == told["usual"]
    assert [row["cells"][3] for row in first["rows"]] == told["ends"]
    assert windows_view(asked, 99)["page"] == first["pages"] == -(-len(names) // PAGE)


def test_the_boxes_tell_count_and_chance(asked):
    grid, view = asked.class_weeks, boxes_view(asked, 1)
    told = [cell.removesuffix(")").split(" (") for row in view["rows"] for cell in row["cells"][1:]]
    assert np.array([float(count) for count, _ in told]) == pytest.approx(grid.count.ravel(), abs=0.0501)
    assert [share for _, share in told] == [of_hundred(part) for part in grid.chance.ravel()]


def test_the_shares_of_the_variation_are_those_of_the_picture(demo):
    shares = variation_rows(demo)
    rows = variation_view(shares)["rows"]
    assert [row["cells"][0] for row in rows] == list(dict.fromkeys(shares["trait"]))
    for row in rows:
        told = sum(int(cell.removesuffix(" %")) for cell in row["cells"][1:] if cell != "–")
        assert told == pytest.approx(100, abs=3)  # each is rounded


@pytest.mark.parametrize("view", [weeks_view, windows_view])
def test_an_empty_answer_and_one_without_market_have_a_table_too(asked, view):
    for one in (replace(asked, market=""), replace(asked, flesh_colour=("red",), shape_type=("flat",))):
        told = view(one, 1)
        assert all(len(row["cells"]) == len(told["columns"]) for row in told["rows"])
        assert told["rows"] or told["empty"]


def test_it_is_made_when_asked_for_follows_and_goes(state):
    state.choose(tab="season")
    whole = twin(state, "Time of picking", windows_view, "windows", tab="season")
    (opener,) = whole.select(Button)
    assert not whole.select(RowTable)
    press(opener)
    (table,) = whole.select(RowTable)
    before = json.loads(table.told)["total"]
    state.choose(fruit_type=("peach",))
    assert 0 < json.loads(table.told)["total"] < before
    assert "close" in opener.label
    press(opener)
    assert not whole.select(RowTable)
    state.choose(fruit_type=())  # nothing is left that could fail
