"""The winters as a picture."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from dashboard.charts.winters import MOST_GROUPS, MOST_NAMED, drawing, grouped

YEARS, BROUGHT = [2020, 2021, 2022], np.array([50.0, 60.0, 70.0])


def test_a_winter_too_warm_for_one_is_hollow_and_counted():
    drawn = drawing(YEARS, BROUGHT, {"Candover": 55.0}, "portions", 50.0)
    assert drawn.count("<circle") == 3
    assert drawn.count('fill="#ffffff"') == 1
    assert "Chill of 3 winters, 2020 to 2022: 50 to 70 portions. 1 were too warm" in drawn
    assert "Candover 55" in drawn


def test_many_needs_are_few_groups_and_names_are_escaped():
    many = {f"C{at:02}": 40.0 + at for at in range(30)}
    drawn = str(drawing(YEARS, BROUGHT, many, "portions"))
    assert 2 <= drawn.count('class="need"') <= MOST_GROUPS
    assert all(name in drawn for name in many)  # in the words of a group
    crowd = str(drawing(YEARS, BROUGHT, {f"C{at:03}": 55.0 for at in range(100)}, "portions"))
    assert "100 need 55" in crowd
    assert f"and {100 - MOST_NAMED} more" in crowd
    assert "&lt;b&gt;" in drawing(YEARS, BROUGHT, {"<b>": 55.0}, "portions")


@given(st.lists(st.floats(1, 2000).map(lambda need: float(round(need))), min_size=1, max_size=40))
def test_a_label_stands_within_its_own_needs_and_apart_from_others(needed):
    def down(value):
        return 300 - value / 8

    needs = {f"C{at}": need for at, need in enumerate(needed)}
    groups = grouped(needs, down)
    assert sorted(name for group in groups for name, _ in group) == sorted(needs)
    assert len(groups) <= MOST_GROUPS
    ends = [(group[0][1], group[-1][1]) for group in groups]
    assert all(below[1] < above[0] for below, above in pairwise(ends))
    middles = [down((low + high) / 2) for low, high in ends]
    assert all(below - above >= 17 for below, above in pairwise(middles))


def test_both_axes_say_what_they_are():
    drawn = drawing(YEARS, BROUGHT, {}, "portions")
    assert "Chill portions in the winter" in drawn
    assert "Winter, by the year of its spring" in drawn


def test_winters_all_alike_are_drawn():
    assert "<circle" in drawing([2020], np.array([50.0]), {}, "hours")
