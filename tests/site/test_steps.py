"""A thermometer that was moved shows as a jump; weather alone does not."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.site.station import station
from dashboard.site.steps import homogeneity, jump
from tests.site.places import place, weather


def moved_in(year: int, by: float, seed: int = 1):
    made = weather(seed=seed)
    later = (made["date"].dt.year >= year).to_numpy() * by
    return station(
        made.assign(tmin_c=made["tmin_c"] + later, tmax_c=made["tmax_c"] + later), "Warm Flat", 33.0
    )


def test_a_move_is_seen_beside_other_stations():
    near = [station(weather(seed=1).assign(tmin_c=lambda one: one["tmin_c"] - 1), "Low Flat", 33.0)]
    found = jump(moved_in(2013, 1.2), near)
    assert (found.year, found.by_c) == (2013, pytest.approx(1.2, abs=0.1))


def test_weather_alone_is_no_move():
    assert jump(place(seed=3), [place("Other", seed=4), place("Third", seed=5)]) is None
    assert jump(place(seed=3)) is None


def test_alone_only_the_span_of_the_day_is_looked_at():
    made = weather()
    wider = made.assign(tmax_c=made["tmax_c"] + (made["date"].dt.year >= 2010) * 1.0)
    assert jump(station(wider, "Warm Flat", 33.0)).year == 2010


def test_the_test_finds_the_split_and_its_figure():
    # Alexandersson (1986), J. Climatol. 6: 661-675, eq. of T: by hand for four values, split in the middle.
    values = np.array([0.0, 0.0, 1.0, 1.0])
    z = (values - 0.5) / values.std(ddof=1)
    figure, at = homogeneity(values)
    assert at == 2
    assert figure == pytest.approx(2 * z[0] ** 2 + 2 * z[2] ** 2)


def test_a_short_record_is_not_judged():
    assert jump(station(weather("2018-01-01", "2024-12-31"), "Warm Flat", 33.0)) is None
