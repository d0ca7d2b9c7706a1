"""The days of a place: what is filled, what is set aside, what is refused, each said in a sentence."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.site.station import FILLED_DAYS, station, stations
from tests.site.places import place, weather


def test_whole_days_stay_as_they_are():
    made = weather("2020-01-01", "2021-12-31")
    found = station(made, "Warm Flat", 33.0)
    assert (found.told, found.refused) == ((), "")
    assert found.tmin.tolist() == made["tmin_c"].tolist()
    assert found.hours.shape == (731, 24)


def test_a_short_gap_is_filled_and_told():
    made = weather("2020-01-01", "2020-12-31").drop(index=[100, 101])
    found = station(made, "Warm Flat", 33.0)
    assert found.told == ("2 days missing in short gaps: filled from the days around them.",)
    assert (
        min(made["tmin_c"][99], made["tmin_c"][102])
        <= found.tmin[100]
        <= max(made["tmin_c"][99], made["tmin_c"][102])
    )


def test_a_long_gap_stays_open_and_is_told():
    made = weather("2020-01-01", "2020-12-31").drop(index=range(100, 101 + FILLED_DAYS))
    found = station(made, "Warm Flat", 33.0)
    assert found.told == ("4 days missing in gaps longer than 3 days: not filled.",)
    assert np.isnan(found.tmax[100:104]).all()


def test_fahrenheit_declared_as_celsius_is_caught():
    made = weather("2020-01-01", "2020-12-31")
    hot = made.assign(tmin_c=made["tmin_c"] * 1.8 + 32, tmax_c=made["tmax_c"] * 1.8 + 32)
    sentence = "The temperatures of Warm Flat read like Fahrenheit declared as Celsius; name the columns tmin_f and tmax_f."
    assert station(hot, "Warm Flat", 33.0).refused == sentence
    # The cells beyond 60 are set aside when records are read: what is left is too warm for a winter.
    left = hot[hot["tmax_c"] <= 60]
    assert station(left, "Warm Flat", 33.0).refused == sentence


def test_lowest_above_highest_is_taken_as_missing():
    made = weather("2020-01-01", "2020-12-31")
    made.loc[50, ["tmin_c", "tmax_c"]] = [20.0, 3.0]
    told = station(made, "Warm Flat", 33.0).told
    assert told[0] == "1 day with the lowest above the highest temperature: taken as missing."


def test_a_year_of_zeros_is_no_year():
    made = weather("2020-01-01", "2022-12-31")
    made.loc[made["date"].dt.year == 2021, ["tmin_c", "tmax_c"]] = 0.0
    found = station(made, "Warm Flat", 33.0)
    assert found.told[0] == "365 days that repeat the very same readings: taken as missing."
    assert np.isnan(found.tmin[366:731]).all()


def test_zeros_alone_are_refused():
    made = weather("2020-01-01", "2020-12-31").assign(tmin_c=0.0, tmax_c=0.0)
    why = (
        "No day of Warm Flat can be believed: 366 days that repeat the very same readings: taken as missing."
    )
    assert station(made, "Warm Flat", 33.0).refused == why


@pytest.mark.parametrize(
    ("latitude", "said"),
    [(np.nan, "Warm Flat has no latitude on record"), (70.0, "Warm Flat lies beyond 60 degrees of latitude")],
)
def test_a_place_whose_hours_cannot_be_told_is_refused(latitude, said):
    assert station(weather("2020-01-01", "2020-02-01"), "Warm Flat", latitude).refused.startswith(said)


def test_no_day_at_all_is_refused():
    made = weather("2020-01-01", "2020-02-01").assign(tmin_c=np.nan)
    assert (
        station(made, "Warm Flat", 33.0).refused
        == "Warm Flat has no day with both a lowest and a highest temperature."
    )


def by_hour(hours: pd.DatetimeIndex) -> pd.DataFrame:
    t = 10 + 6 * np.sin(2 * np.pi * (hours.hour - 9) / 24) + hours.day % 3
    return pd.DataFrame({"date": hours.normalize(), "hour": hours.hour.astype(float), "temp_c": t})


def test_recorded_hours_are_used_as_they_are():
    made = by_hour(pd.date_range("2020-01-01", "2020-02-29 23:00", freq="h"))
    found = station(made, "Warm Flat", 33.0)
    assert found.hours.ravel() == pytest.approx(made["temp_c"])
    assert found.told == ()


def test_clocks_that_change_lose_no_day():
    made = by_hour(pd.date_range("2020-03-01", "2020-03-31 23:00", freq="h"))
    spring = made.drop(index=made.index[(made["date"] == "2020-03-08") & (made["hour"] == 2)])
    found = station(spring, "Warm Flat", 33.0)
    assert found.told == (
        "1 day with an hour missing, as when clocks change: the hours next to it were joined.",
    )
    assert not np.isnan(found.hours).any()
    twice = pd.concat([made, made[(made["date"] == "2020-03-09") & (made["hour"] == 1)]])
    assert station(twice, "Warm Flat", 33.0).hours.ravel() == pytest.approx(made["temp_c"])


def test_each_site_with_weather_is_a_station():
    made = weather("2020-01-01", "2020-12-31")
    table = pd.concat([made.assign(site="a"), made.assign(site="b")])
    sites = pd.DataFrame(
        {
            "site": ["b", "a", "c"],
            "name": ["Beech", None, "Cedar"],
            "latitude_deg": [33.0, 33, 33],
            "elevation_m": [1.0, 2, 3],
        }
    )
    found = stations(table, sites)
    assert [(key, one.name, one.elevation_m) for key, one in found.items()] == [
        ("b", "Beech", 1.0),
        ("a", "a", 2.0),
    ]


def test_the_southern_hemisphere_is_told_by_its_latitude():
    assert place(latitude=-33.0).south
    assert not place().south
