"""Hours out of days, and the length of the day."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.site.hourly import daylight, hourly

REFERENCE = Path(__file__).parents[1] / "reference"
DAYLENGTH = pd.read_csv(REFERENCE / "daylength.csv")

# Middle one of the days 1 to 3 March 2020 at 37 degrees north, lowest 2, 5, -1 and highest 18, 16, 12 °C, hours 0 to 23, by published R
# code (Luedeling 2012, Scientia Horticulturae 144: 218-229). Before dawn it leaves out a + 1 in the divisor and falls below the day's
# lowest, 5 °C, at 6 o'clock.
PUBLISHED = [
    6.857278769, 6.419861915, 6.032214103, 5.684158087, 5.368350775, 5.079319710, 4.812877114, 6.586477069, 8.755893313, 10.769965699,
    12.545392136, 14.008740934, 15.099487945, 15.772519840, 16, 15.772519840, 15.099487945, 14.008740934, 11.638121045, 8.554558105,
    6.607945644, 5.182175078, 4.056562231, 3.126445506,
]  # fmt: skip

day = st.tuples(st.floats(-30, 30), st.floats(0, 25)).map(lambda one: (one[0], one[0] + one[1]))


@pytest.mark.parametrize("row", list(DAYLENGTH.itertuples(index=False)), ids=str)
def test_the_sun_rises_and_sets_as_published(row):
    rise, sets = daylight(row.latitude_deg, np.array([row.day]))
    assert (rise[0], sets[0]) == pytest.approx((row.sunrise, row.sunset), abs=1e-7)


def test_hours_are_as_published_where_the_code_follows_the_paper():
    found = hourly(np.array([2, 5, -1.0]), np.array([18, 16, 12.0]), 37, np.array([61, 62, 63]))[1]
    assert found[7:] == pytest.approx(PUBLISHED[7:], abs=1e-8)


def test_before_dawn_no_hour_falls_below_the_lowest_as_it_does_in_that_code():
    found = hourly(np.array([2, 5, -1.0]), np.array([18, 16, 12.0]), 37, np.array([61, 62, 63]))[1]
    assert found[:7] == pytest.approx(PUBLISHED[:7], abs=0.3)
    assert found[6] > 5.0 > PUBLISHED[6]


@given(st.lists(day, min_size=2, max_size=5), st.floats(-60, 60), st.integers(1, 365))
def test_no_hour_lies_outside_its_day_and_the_night_around_it(days, latitude, first):
    tmin, tmax = np.array(days).T
    found = hourly(tmin, tmax, latitude, (first + np.arange(len(days)) - 1) % 365 + 1)
    assert (
        found
        <= np.maximum(np.maximum(tmax, np.r_[tmax[0], tmax[:-1]]), np.r_[tmin[1:], tmin[-1]])[:, None] + 1e-9
    ).all()
    around = np.minimum(np.r_[tmin[0], tmin[:-1]], np.r_[tmin[1:], tmin[-1]])
    assert (found >= np.minimum(tmin, around)[:, None] - 1e-9).all()


@given(st.floats(-60, 60), st.integers(1, 365))
def test_a_day_in_the_south_is_half_a_year_off_in_the_north(latitude, at):
    rise, sets = daylight(latitude, np.array([at]))
    assert rise + sets == pytest.approx(24)
    assert daylight(-latitude, np.array([(at + 182) % 365 + 1]))[0] == pytest.approx(rise, abs=0.3)


def test_a_missing_day_leaves_only_the_hours_beside_it_open():
    found = hourly(np.array([2, np.nan, 2, 2]), np.array([9, 9, 9, 9.0]), 37, np.array([61, 62, 63, 64]))
    assert np.isnan(found[1]).all()
    assert not np.isnan(found[0, 8:17]).any()
    assert not np.isnan(found[3]).any()
