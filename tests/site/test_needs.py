"""Winters in which a need is met, and what its rounding does to that."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.site.needs import assured, enough, rounded_to, shares_met, short_together
from dashboard.site.station import station
from dashboard.site.winters import HOURS, PORTIONS, Winters
from tests.site.places import place, weather

SUPPLY = np.array([500, 610, 640, 700, 720, 760, 800, 820, 900, 1000.0])


@pytest.fixture(scope="module")
def warm():
    return Winters(place())


def cultivars(hours: list[float], portions: list[float]) -> pd.DataFrame:
    names = [f"C{at}" for at in range(len(hours))]
    return pd.DataFrame({"chill_requirement_h": hours, "chill_requirement_cp": portions}, index=names)


@pytest.mark.parametrize(
    ("recorded", "step"),
    [
        ([650, 700, 850], 50),
        ([625, 700, 750], 25),
        ([31, 44, 52], 1),
        ([400, 800], 100),
        ([], 1),
        ([np.nan, 50], 50),
        ([0.5, 3], 1),
    ],
)
def test_what_needs_were_rounded_to_is_seen(recorded, step):
    assert rounded_to(np.array(recorded, dtype=float)) == step


def test_the_share_of_winters_and_what_rounding_does_to_it():
    even, low, high = (one.tolist() for one in shares_met(np.array([650.0, np.nan]), SUPPLY, 50))
    assert low[0] == 0.7  # at 675
    assert high[0] == 0.8  # at 625: 640 counts, too
    assert even[0] == pytest.approx(0.7 + 0.1 * (640 - 625) / 50)
    assert np.isnan([even[1], low[1], high[1]]).all()


def test_without_rounding_there_is_one_share():
    assert [one[0] for one in shares_met(np.array([640.0]), SUPPLY)] == [0.8, 0.8, 0.8]


@given(st.floats(0, 2000), st.floats(0, 200), st.sampled_from([0.0, 25.0, 50.0]))
def test_who_needs_more_never_gets_enough_more_often(need, more, step):
    for one in shares_met(np.array([need, need + more]), SUPPLY, step):
        assert one[1] <= one[0]
    even, low, high = shares_met(np.array([need]), SUPPLY, step)
    assert low[0] - 1e-12 <= even[0] <= high[0] + 1e-12


def test_portions_are_used_where_they_are_recorded(warm):
    found = enough(cultivars([400, 400, np.nan], [np.nan, 10, np.nan]), warm)
    assert found["measure"].tolist() == [HOURS, PORTIONS, ""]
    assert found["enough"].isna().tolist() == [False, False, True]


def test_what_is_assured_is_reached_by_that_share_of_winters(warm):
    for measure, least in assured(warm, 0.9).items():
        supply = warm.supply[measure].to_numpy()
        assert (supply >= least).mean() >= 0.9
        assert (supply >= least + 1).mean() < 0.97


def test_who_fails_together_is_told_by_winter(warm):
    middle = float(warm.supply[PORTIONS].median())
    found = short_together(cultivars([np.nan] * 3, [1.0, middle, middle + 2]), warm)
    assert all("C0" not in names for names in found.values())
    counts = [len(names) for names in found.values()]
    assert counts == sorted(counts, reverse=True)
    year, names = next(iter(found.items()))
    assert warm.supply.loc[year, PORTIONS] < middle
    assert names == ("C1", "C2")


def test_a_place_that_is_refused_tells_nothing():
    refused = Winters(station(weather("2020-01-01", "2021-01-01"), "Warm Flat", 33.0))
    assert enough(cultivars([400], [30]), refused)["enough"].isna().all()
    assert short_together(cultivars([400], [30]), refused) == {}
