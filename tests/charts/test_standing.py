"""One cultivar among all: its place is a share of cultivars, counted by hand here."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.charts import calendar, standing
from dashboard.terms.traits import TRAITS
from tests.charts.conftest import some_of
from tests.charts.drawn import column, drawn, one_length, source_with, sources


def test_a_place_is_the_share_of_cultivars_below(catalogue):
    rows = standing.standings(catalogue.values, "Briskwell", "us").set_index("trait")
    for key in ("size", "sugar", "firmness"):
        values = catalogue.values[key]["estimate"].dropna()
        own = values["Briskwell"]
        below = 100 * ((values < own).sum() + 0.5 * (values == own).sum()) / len(values)
        assert rows.loc[TRAITS[key].label, "at"] == pytest.approx(below)


def test_the_largest_stands_at_the_right_and_ties_stand_together():
    names = ["a", "b", "c", "d"]
    frame = pd.DataFrame({"estimate": [1.0, 2.0, 2.0, 9.0], "low": np.nan, "high": np.nan}, index=names)
    values = dict.fromkeys(TRAITS, frame)
    at = {name: standing.standings(values, name, "si")["at"].iloc[0] for name in names}
    assert at == {"a": 12.5, "b": 50.0, "c": 50.0, "d": 87.5}


def test_a_trait_without_a_value_has_no_row_and_an_unknown_cultivar_none(catalogue):
    rows = standing.standings(catalogue.values, "T 15-118", "us")
    assert "Sugar" not in set(rows["trait"])
    assert standing.standings(catalogue.values, "Unpicked", "us").empty
    assert standing.standings(catalogue.values, "Nobody", "us").empty


def test_the_picture_holds_the_places(catalogue):
    rows = standing.standings(catalogue.values, "Briskwell", "us")
    figure = drawn(standing.standing(rows))
    marks = source_with(figure, "at", "trait", "told")
    np.testing.assert_allclose(column(marks, "at"), rows["at"])
    assert all(one_length(source) for source in sources(figure))


@pytest.mark.parametrize("count", [0, 1])
def test_few_rows_are_drawn(catalogue, count):
    rows = standing.standings(catalogue.values, "Briskwell", "us").iloc[:count]
    assert drawn(standing.standing(rows)) is not None


def test_a_season_s_bar_runs_over_its_picks(catalogue):
    own = catalogue.picks[catalogue.picks["cultivar"] == "Briskwell"].sort_values(["season", "site"])
    figure = drawn(standing.seasons(own, calendar.extent(catalogue.windows), False))
    bars = next(s for s in sources(figure) if "start" in s.data)
    np.testing.assert_allclose(column(bars, "start"), own["first"] - 0.5)
    np.testing.assert_allclose(column(bars, "end"), own["last"] + 0.5)


def test_any_table_of_picks_is_drawn(catalogue, which):
    own = catalogue.picks[catalogue.picks["cultivar"] == "Briskwell"]
    if which == "nothing known":
        own = own.assign(first=np.nan, middle=np.nan, last=np.nan)
    else:
        own = some_of(own, which)
    figure = drawn(standing.seasons(own, calendar.extent(catalogue.windows), False))
    assert all(one_length(source) for source in sources(figure))
