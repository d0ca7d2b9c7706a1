"""What each winter brings, which winters count, and the trend through them."""

from __future__ import annotations

import time
import tracemalloc

import numpy as np
import pandas as pd
import pytest

from dashboard.site.chill import chill_hours
from dashboard.site.portions import PAPER, portions
from dashboard.site.station import station
from dashboard.site.winters import DAYS, HOURS, MEASURES, PORTIONS, UTAH, Winters
from tests.site.places import place, weather


@pytest.fixture(scope="module")
def warm():
    return Winters(place())


def test_a_winter_is_its_own_hours_and_nothing_else(warm):
    here = warm.station
    first = here.days.get_loc("2010-10-01")
    hours = here.hours[first : first + DAYS].ravel()
    assert warm.supply.loc[2011, HOURS] == chill_hours(hours).sum()
    assert warm.supply.loc[2011, PORTIONS] == pytest.approx(portions(hours).sum())


def test_every_whole_winter_is_told_and_the_others_are_named(warm):
    assert warm.years.tolist() == list(range(2001, 2026))
    assert warm.left_out == [(2026, "152 of its 183 days are missing")]


def test_a_winter_with_a_long_gap_is_left_out():
    made = weather()
    gone = made[(made["date"] < "2009-12-01") | (made["date"] > "2009-12-10")]
    found = Winters(station(gone, "Warm Flat", 33.0))
    assert 2010 not in found.years
    assert (2010, "10 of its 183 days are missing") in found.left_out


def test_a_leap_day_is_a_day_of_its_winter(warm):
    """1 October 2019 and 182 days on is 31 March 2020; a year later it is 1 April."""
    days = warm.station.days
    at = {year: days.get_loc(f"{year - 1}-10-01") for year in (2020, 2021)}
    assert [str(days[at[year] + DAYS - 1].date()) for year in (2020, 2021)] == ["2020-03-31", "2021-04-01"]
    leap = days.get_loc("2020-02-29")
    here = chill_hours(warm.station.hours[leap].ravel()).sum()
    by_day = warm.by_day[HOURS][warm.years.tolist().index(2020)]
    assert by_day[leap - at[2020]] - by_day[leap - at[2020] - 1] == pytest.approx(here)
    made = weather()
    gone = Winters(station(made[made["date"] != "2020-02-29"], "Warm Flat", 33.0))
    assert 2020 in gone.years
    assert gone.station.told == ("1 day missing in short gaps: filled from the days around them.",)


def test_few_winters_are_refused_in_a_sentence():
    found = Winters(station(weather("2020-01-01", "2023-12-31"), "Warm Flat", 33.0))
    assert found.refused == "Warm Flat has 3 whole winters on record; 5 are needed."
    assert Winters(station(weather("2020-01-01", "2020-05-01"), "Warm Flat", 33.0)).refused.startswith(
        "Warm Flat has 0 whole winters"
    )


def test_a_southern_winter_is_the_northern_one_half_a_year_later():
    south = Winters(place(latitude=-33.0))
    assert south.years[0] == 2001
    assert south.dates[0].month == 4
    assert south.supply[PORTIONS].mean() == pytest.approx(Winters(place()).supply[PORTIONS].mean(), rel=0.15)


def test_sums_never_fall_but_for_utah(warm):
    for measure in MEASURES:
        rising = (np.diff(warm.by_day[measure], axis=1) >= -1e-9).all()
        assert rising == (measure != UTAH)


def test_utah_units_count_from_their_lowest_on(warm):
    days = warm.by_day[UTAH]
    assert warm.supply[UTAH].to_numpy() == pytest.approx(days[:, -1] - np.minimum(days.min(axis=1), 0))


def test_the_day_on_which_a_need_is_met(warm):
    met = warm.met_on(PORTIONS, np.array([10.0, 1e6, np.nan]))
    day = int(met[0, 0])
    assert warm.by_day[PORTIONS][0, day] >= 10 > warm.by_day[PORTIONS][0, day - 1]
    assert np.isnan(met[:, 1:]).all()


def test_the_two_variants_differ_by_little(warm):
    other = Winters(warm.station, PAPER)
    assert 0 < np.abs(other.supply[PORTIONS] / warm.supply[PORTIONS] - 1).max() < 0.05


def test_a_trend_holds_what_was_put_in_and_comes_with_its_error():
    made = weather()
    years = (made["date"] - made["date"][0]).dt.days / 3652.5
    warming = made.assign(tmin_c=made["tmin_c"] + 1.5 * years, tmax_c=made["tmax_c"] + 1.5 * years)
    found = Winters(station(warming, "Warm Flat", 33.0)).trend(HOURS)
    assert found.sure
    assert found.low < found.per_decade < found.high < 0
    assert Winters(station(weather("2000-10-01", "2008-10-01"), "Warm Flat", 33.0)).trend(HOURS) is None


def test_fifty_winters_by_the_hour_cost_little_beside_reading_them(tmp_path):
    days = 50 * DAYS
    t = (
        8
        + 6 * np.sin(2 * np.pi * np.arange(days * 24) / 24)
        + np.random.default_rng(1).normal(0, 3, days * 24)
    )
    stamps = pd.date_range("1970-01-01", periods=days * 24, freq="h")
    pd.DataFrame({"date": stamps, "temp_c": t.round(1)}).to_csv(tmp_path / "hours.csv", index=False)
    read, counted, peak = [], [], 0
    for _ in range(3):
        start = time.process_time()
        hours = pd.read_csv(tmp_path / "hours.csv", parse_dates=["date"])["temp_c"].to_numpy()
        read.append(time.process_time() - start)
        made = station(
            pd.DataFrame(
                {
                    "date": pd.date_range("1970-10-01", periods=50 * 366),
                    "tmin_c": 2.0 + np.arange(50 * 366) % 7,
                    "tmax_c": 14.0,
                }
            ),
            "Warm Flat",
            33.0,
        )
        made.__dict__["hours"] = np.resize(hours, (50 * 366, 24))
        tracemalloc.start() if not peak else None
        start = time.process_time()
        assert len(Winters(made).supply) >= 49
        counted.append(time.process_time() - start)
        if tracemalloc.is_tracing():
            peak = tracemalloc.get_traced_memory()[1]
            tracemalloc.stop()
    assert min(counted) <= 20 * min(read)
    assert peak <= 200e6
