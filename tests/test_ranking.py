"""How cultivars stand in a market: order, places, and the visitor's own limits and wishes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from dashboard.comparison import Comparison
from dashboard.market.statements import statements


@pytest.fixture(scope="module")
def asked(demo) -> Comparison:
    return Comparison(demo, market="regional_wholesale")


def test_the_expected_score_orders_those_that_clear_the_market(asked):
    rows = asked.ranking
    inside = rows[rows["meets"]]
    assert inside["score"].is_monotonic_decreasing
    known = inside.dropna(subset="score")
    assert ((known["score_low"] <= known["score"]) & (known["score"] <= known["score_high"])).all()
    assert inside["foremost"].notna().all()
    assert (inside["foremost"] <= inside["rank"]).all()
    assert (inside["rank"] <= inside["hindmost"]).all()
    assert rows.loc[~rows["meets"], "hindmost"].isna().all()


def test_the_chance_of_a_place_is_among_those_that_pass(asked):
    white = replace(asked, flesh_colour=("white",)).ranking
    known = white["leads"].dropna()
    assert (known >= asked.ranking["leads"][known.index] - 1e-9).all()
    assert white["leads"].sum() == pytest.approx(5, abs=0.1)
    assert replace(asked, top=3).ranking["leads"].sum() == pytest.approx(3, abs=0.1)


def test_own_limits_and_wishes_take_the_place_of_the_market_s(asked):
    lines = statements(asked.profile)
    same = replace(asked, own=lines)
    pd.testing.assert_frame_equal(same.ranking, asked.ranking, rtol=1e-6)
    none = replace(asked, own=tuple(line for line in lines if line.startswith("want ")))
    assert none.ranking["meets"].all()
    assert none.profile.name == "Regional wholesale, changed"
    assert replace(asked, market="", own=("size at_least 70",)).ranking["meets"].sum() < 200
    assert replace(asked, own=("nonsense",)).profile is asked.profile  # whoever stated it has been told


def test_who_is_not_beaten_is_told_with_its_chance(asked):
    sure = asked.sure_not_beaten
    among = asked.passes & asked.fit["meets"].to_numpy()
    assert (sure[~among] == 0).all()
    assert sure.max() <= 1
    assert sure[asked.not_beaten].mean() > 5 * sure[among & ~asked.not_beaten].mean()


def test_openings_and_nearest_misses_belong_to_who_passes(asked):
    red = replace(asked, flesh_colour=("red",))
    names = set(asked.catalogue.cultivars.index[red.passes])
    assert red.nearest
    assert set(red.nearest) <= names
    assert all(one.first in names for one in red.openings)
    assert Comparison(asked.catalogue).openings == Comparison(asked.catalogue).nearest == ()


def test_the_account_says_what_each_missed_limit_takes(asked):
    out = asked.ranking.index[~asked.ranking["meets"]]
    told = [replace(asked, cultivar=str(name)).account for name in out]
    needed = [one for account in told for one in account.needed]
    assert needed
    assert all(
        not low <= mean <= high or np.isnan(mean) or abs(mean - low) < 1 for _, mean, low, high in needed
    )
    assert replace(asked, cultivar="Nobody").account is None
    assert replace(asked, market="", cultivar=str(out[0])).account is None
