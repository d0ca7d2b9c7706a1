"""A place beside a station: moved by what paired days say, or not at all."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.site.elsewhere import by_elevation, by_own_days, moved
from dashboard.site.station import station
from tests.site.places import place, weather


def shifted(name: str, elevation: float, night: float, day: float, **more):
    made = weather(**more)
    return station(
        made.assign(tmin_c=made["tmin_c"] + night, tmax_c=made["tmax_c"] + day), name, 33.0, elevation
    )


def test_a_lower_place_is_as_the_lower_station_says():
    found = {"top": place(elevation=200.0), "low": shifted("Low Flat", 100.0, -1.0, 0.8)}
    by = by_elevation(found, "top", -50.0)
    assert by.shift.to_numpy() == pytest.approx(np.tile([-0.5, 0.4], (12, 1)), abs=0.01)
    assert by.rests_on == "9,162 days on record at both Warm Flat and Low Flat"
    made = moved(found["top"], by, "My site", 150.0)
    assert made.tmin == pytest.approx(found["top"].tmin - 0.5, abs=0.02)
    assert made.told[-1].startswith("Moved by month")


@pytest.mark.parametrize(
    ("found", "rise", "said"),
    [
        ({"top": place(elevation=200.0)}, 10, "No other station has days paired"),
        ({"top": place(elevation=np.nan)}, 10, "The elevation of Warm Flat is not on record"),
        (
            {"top": place(elevation=200.0), "low": place("Low", elevation=100.0)},
            -150,
            "No station lies more than 100 m above or below",
        ),
        (
            {"top": place(elevation=200.0), "low": place("Low", elevation=200.0)},
            -10,
            "No other station has days paired",
        ),
        (
            {
                "top": place(elevation=200.0, last="2010-01-01"),
                "low": place("Low", elevation=1.0, first="2011-01-01"),
            },
            -10,
            "No other station",
        ),
    ],
)
def test_nothing_is_moved_that_no_days_speak_for(found, rise, said):
    by = by_elevation(found, "top", rise)
    assert by.refused.startswith(said)
    assert moved(found["top"], by, "My site").refused == by.refused


def test_a_year_of_own_days_moves_a_long_record():
    here, own = place(), shifted("My orchard", 90.0, 0.5, -0.5, first="2023-01-01")
    assert by_own_days(here, own).refused == ""
    same = weather(first="2000-10-01")
    own = station(
        same[same["date"] >= "2023-01-01"].assign(tmin_c=lambda one: one["tmin_c"] + 0.5), "My orchard", 33.0
    )
    made = moved(here, by_own_days(here, own), "My orchard")
    assert made.tmin == pytest.approx(here.tmin + 0.5, abs=0.02)
    few = station(same[same["date"] >= "2025-06-01"], "My orchard", 33.0)
    assert by_own_days(here, few).refused.startswith("My orchard and Warm Flat have too few days")
