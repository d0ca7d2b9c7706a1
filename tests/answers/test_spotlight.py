"""The cultivar that is spoken of is the one asked for, with the ranking's own figures; steps go along the ranking."""

from __future__ import annotations

import pandas as pd
import pytest

from dashboard.answers.question import Question
from dashboard.answers.spotlight import along
from dashboard.visit.state import State


def test_while_none_is_opened_it_is_the_first_of_the_ranking(catalogue):
    asked = Question(catalogue, market="packer")
    assert asked.spotlight.name == asked.ranking.index[0]
    assert (asked.spotlight.place, asked.spotlight.among) == (1, len(asked.ranking))
    assert asked.spotlight is Question(catalogue, market="packer").spotlight


def test_its_row_is_that_of_the_ranking_and_its_fruit_that_of_side_by_side(catalogue):
    asked = Question(catalogue, market="packer", cultivar="Candover", beside=("Candover",))
    spot = asked.spotlight
    place = list(asked.ranking.index).index("Candover")
    assert spot.place == place + 1
    pd.testing.assert_series_equal(spot.row, asked.ranking.loc["Candover"])
    assert spot.fruit == asked.side_by_side.fruit["Candover"]
    assert spot.largest.size == pytest.approx(asked.values["size"]["estimate"].max())


def test_one_that_does_not_pass_the_filters_is_spoken_of_all_the_same(catalogue):
    facts = catalogue.cultivars
    other = next(flesh for flesh in ("white", "yellow") if flesh != facts.loc["Candover", "flesh_colour"])
    asked = Question(catalogue, market="packer", cultivar="Candover", flesh_colour=(other,))
    spot = asked.spotlight
    assert "Candover" not in asked.ranking.index
    assert (spot.name, spot.place, spot.among) == ("Candover", 0, len(asked.ranking))
    assert spot.row["size"] == pytest.approx(catalogue.values["size"].loc["Candover", "estimate"])


def test_there_is_none_where_nobody_passes_and_none_is_opened(catalogue):
    seasons = int(catalogue.windows["seasons"].max()) + 1
    assert Question(catalogue, seasons=seasons).spotlight is None
    assert Question(catalogue, seasons=seasons, cultivar="Candover").spotlight.place == 0


@pytest.mark.parametrize(
    ("here", "by", "there"),
    [("a", 1, "b"), ("b", 1, "c"), ("c", 1, "c"), ("a", -1, "a"), ("c", -1, "b"), ("not there", 1, "a"), ("not there", -1, "a")],
)  # fmt: skip
def test_steps_end_at_the_first_and_at_the_last(here, by, there):
    assert along(["a", "b", "c"], here, by) == there
    assert along([], here, by) == here


def test_a_visitor_steps_along_the_ranking(catalogue):
    state = State(catalogue, "?v=1&market=packer")
    order = list(state.question.ranking.index)
    state.step(1)
    assert state.cultivar == order[1]
    state.step(1)
    state.step(-1)
    assert state.cultivar == order[1]
    assert state.tab == "fruit"
