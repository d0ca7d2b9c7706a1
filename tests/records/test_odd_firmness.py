"""Firmness in another unit is told in records of a few cultivars, too, and an ordinary season is not taken for it."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.records.odd_firmness import suspect_unit
from dashboard.terms.units import N_PER_KGF, N_PER_LBF
from tests.records.readings import SITES, told

KGF_FOR_LBF, LBF_FOR_N = N_PER_KGF / N_PER_LBF, N_PER_LBF


def flags(slipped=(), times=1.0, cultivars=6, apart=1.0, noise=0.1, seed=0) -> list:
    """What is told of two seasons at two sites, each cultivar once in each: the site-seasons ``slipped`` read ``times`` as firm.

    ``apart``: how many times as firm the second season is by itself; ``noise``: standard deviation of a sample's log firmness.
    """
    chance = np.random.default_rng(seed)
    usual = np.exp(chance.normal(np.log(33), 0.2, cultivars))
    samples, fruit = [], []
    for season in (2023, 2024):
        for site in ("low", "high"):
            for cultivar in range(cultivars):
                name = f"S{len(samples):02d}"
                samples.append((name, f"C{cultivar}", site, pd.Timestamp(season, 7, 1)))
                firm = usual[cultivar] * np.exp(chance.normal(0, noise)) * apart ** (season == 2024)
                firm *= times if (site, season) in slipped else 1
                fruit += [(name, *firm * np.exp(chance.normal(0, 0.1, 2))) for _ in range(10)]
    return told(
        suspect_unit,
        pd.DataFrame(fruit, columns=["sample", "firmness_1_n", "firmness_2_n"]),
        pd.DataFrame(samples, columns=["sample", "cultivar", "site", "date"]),
        SITES,
    )


@pytest.mark.parametrize("cultivars", [4, 6])
@pytest.mark.parametrize(
    "slipped", [[("high", 2024)], [("low", 2024), ("high", 2024)]], ids=["a site", "a season"]
)
@pytest.mark.parametrize(
    ("times", "told", "units"),
    [
        (1 / KGF_FOR_LBF, "soft", "kilograms-force and pounds-force"),
        (KGF_FOR_LBF, "firm", "kilograms-force and pounds-force"),
        (1 / LBF_FOR_N, "soft", "newtons and pounds-force"),
        (LBF_FOR_N, "firm", "newtons and pounds-force"),
    ],
)
def test_another_unit_is_told_where_four_cultivars_stand_in_both(cultivars, slipped, times, told, units):
    found = flags(slipped, times, cultivars)
    assert sorted(p.rule.split("(")[1] for p in found) == sorted(
        f"“{site}” in {season}, {cultivars} samples)" for site, season in slipped
    )
    assert all(f"times as {told} as" in p.rule for p in found)
    assert all(p.suggestion == f"look whether {units} were exchanged" for p in found)


def test_a_factor_between_those_of_two_units_is_told_with_the_nearer():
    (problem,) = flags([("high", 2024)], 1 / KGF_FOR_LBF / 1.3, noise=0.02)
    assert "about 2.8 times as soft" in problem.rule
    assert "kilograms-force and pounds-force" in problem.suggestion


@pytest.mark.alike(3)
@pytest.mark.parametrize("cultivars", [4, 5, 8])
@pytest.mark.parametrize("apart", [1 / 1.35, 1.0, 1.35])
def test_seasons_as_far_apart_as_usual_are_not_flagged(cultivars, apart):
    told = [flags(cultivars=cultivars, apart=apart, noise=0.15, seed=seed) for seed in range(25)]
    assert sum(map(bool, told)) == 0


def test_three_cultivars_are_too_few_to_tell():
    assert flags([("high", 2024)], 1 / LBF_FOR_N, cultivars=3) == []
