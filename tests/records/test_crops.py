"""Which crop of its trees a sample is."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.records.crops import crops

TREES = pd.DataFrame(
    [
        ("Aye", "Hill", 2018, None),
        ("Aye", "Hill", 2018, None),
        ("Aye", "River", 2018, None),
        ("Aye", "River", 2020, None),
        ("Bee", "Hill", 2015, 2021),
        ("Bee", "Hill", 2020, None),
        ("Cee", "Hill", None, None),
    ],
    columns=["cultivar", "site", "planted", "removed"],
)


def crop(cultivar: str, site: str, season: int, trees: pd.DataFrame | None = TREES) -> float:
    return crops(trees, pd.DataFrame({"cultivar": [cultivar], "site": [site], "season": [season]}))[0]


@pytest.mark.parametrize(
    ("cultivar", "site", "season", "number"),
    [
        ("Aye", "Hill", 2020, 1),
        ("Aye", "Hill", 2021, 2),
        ("Aye", "Hill", 2026, 7),
        ("Aye", "River", 2021, 2),  # those planted in 2020 do not bear yet
        ("Bee", "Hill", 2021, 5),  # the old ones, removed in that year
        ("Bee", "Hill", 2022, 1),  # then the young ones
    ],
)
def test_a_tree_first_bears_two_seasons_after_planting(cultivar, site, season, number):
    assert crop(cultivar, site, season) == number


@pytest.mark.parametrize(
    ("cultivar", "site", "season"),
    [
        ("Aye", "River", 2022),  # planted in two years
        ("Cee", "Hill", 2022),  # nobody knows when
        ("Aye", "Valley", 2022),  # no tree there
        ("Dee", "Hill", 2022),
        ("Aye", "Hill", 2019),  # no tree that bears
    ],
)
def test_what_cannot_be_told_is_not_known(cultivar, site, season):
    assert np.isnan(crop(cultivar, site, season))


def test_without_a_table_of_trees_nothing_is_known():
    assert np.isnan(crop("Aye", "Hill", 2020, None))
    assert np.isnan(crop("Aye", "Hill", 2020, TREES.iloc[:0]))


def test_samples_keep_their_order_and_a_missing_cultivar_is_not_known():
    asked = pd.DataFrame(
        {"cultivar": ["Bee", None, "Aye", "Bee"], "site": ["Hill"] * 4, "season": [2022, 2020, 2020, 2021]}
    )
    np.testing.assert_array_equal(crops(TREES, asked), [1, np.nan, 1, 5])
