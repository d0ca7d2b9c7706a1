"""The winters as a picture."""

from __future__ import annotations

import numpy as np

from dashboard.charts.winters import MOST_NAMED, drawing

YEARS, BROUGHT = [2020, 2021, 2022], np.array([50.0, 60.0, 70.0])


def test_a_winter_too_warm_for_one_is_hollow_and_counted():
    drawn = drawing(YEARS, BROUGHT, {"Candover": 55.0}, "portions", 50.0)
    assert drawn.count("<circle") == 3
    assert drawn.count('fill="#ffffff"') == 1
    assert "Chill of 3 winters, 2020 to 2022: 50 to 70 portions. 1 were too warm" in drawn
    assert "Candover 55" in drawn


def test_many_needs_are_a_band_and_names_are_escaped():
    drawn = drawing(YEARS, BROUGHT, {f"C{at}": 40.0 + at for at in range(MOST_NAMED + 1)}, "portions")
    assert "9 cultivars need from 40 to 48" in drawn
    assert "&lt;b&gt;" in drawing(YEARS, BROUGHT, {"<b>": 55.0}, "portions")


def test_names_do_not_lie_on_each_other():
    drawn = str(drawing(YEARS, BROUGHT, {"A": 55.0, "B": 55.0}, "portions"))
    at = [
        float(part.split('y="')[1].split('"')[0])
        for part in drawn.split("<text")
        if part.endswith(("A 55</text>", "B 55</text>")) or "A 55<" in part or "B 55<" in part
    ]
    assert abs(at[0] - at[1]) >= 13


def test_winters_all_alike_are_drawn():
    assert "<circle" in drawing([2020], np.array([50.0]), {}, "hours")
