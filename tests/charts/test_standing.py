"""The seasons of one cultivar: a bar is as long as its picks."""

from __future__ import annotations

import numpy as np

from dashboard.charts import calendar, standing
from tests.charts.conftest import some_of
from tests.charts.drawn import column, drawn, one_length, sources


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
