"""Two gauges read in turns into one column are told, and fruit that ripen are not taken for them."""

from __future__ import annotations

import re
from collections.abc import Callable

import numpy as np
import pandas as pd
import pytest

from dashboard.records.odd_gauges import suspect_gauges
from dashboard.terms.units import N_PER_KGF, N_PER_LBF
from tests.records.readings import SITES, told

Turn = Callable[[int, int], bool]  # of the number of a sample and its season
SEEDS = range(4)


def flags(turn: Turn, times=1.0, seed=0, cultivars=16, seasons=(2023, 2024), softer=0.4, noise=0.25) -> list:
    """What is told of samples of which those ``turn`` names read ``times`` as soft.

    ``softer``: by how much the log firmness falls from one of three picks to the next; ``noise``: what a sample's scatters by.
    """
    chance = np.random.default_rng(seed)
    usual = chance.normal(np.log(50), 0.25, cultivars)
    samples, fruit = [], []
    for season in seasons:
        for site in ("low", "high"):
            for cultivar, pick in np.ndindex(cultivars, 3):
                number = len(samples)
                samples.append(
                    (f"S{number:04d}", f"C{cultivar}", site, pd.Timestamp(season, 7, 1 + 6 * pick))
                )
                log = usual[cultivar] - softer * pick + chance.normal(0, noise)
                firm = np.exp(log) / (times if turn(number, season) else 1)
                fruit += [(f"S{number:04d}", *firm * np.exp(chance.normal(0, 0.1, 2))) for _ in range(5)]
    return told(
        suspect_gauges,
        pd.DataFrame(fruit, columns=["sample", "firmness_1_n", "firmness_2_n"]),
        pd.DataFrame(samples, columns=["sample", "cultivar", "site", "date"]),
        SITES,
    )


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize(
    ("times", "unit"), [(N_PER_LBF, "pounds-force"), (N_PER_KGF, "kilograms-force")], ids=["lb", "kg"]
)
@pytest.mark.parametrize(
    "turn",
    [
        pytest.param(lambda number, _: number % 2 == 0, id="every second"),
        pytest.param(lambda number, _: number % 5 == 0, id="every fifth"),
        pytest.param(
            lambda number, season: number % 2 == 0 and season == 2024, id="every second of a season"
        ),
    ],
)
def test_a_second_gauge_read_in_turns_is_told(turn, times, unit, seed):
    (found,) = flags(turn, times, seed)
    assert f"in {unit} under a heading of newtons" in found.suggestion
    assert found.value == f"{times:.1f} times as soft"


def test_seasons_and_samples_are_named():
    (found,) = flags(lambda number, season: number % 2 == 0 and season == 2024, N_PER_LBF)
    assert "in 2024" in found.rule
    assert "in 2023" not in found.rule
    named = [int(number) for number in re.findall(r"“S(\d+)”", found.rule)]
    assert len(named) == 3
    assert all(number >= 96 and number % 2 == 0 for number in named)  # of the second season, in turns


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize(
    "how",
    [
        {"softer": 0.0},
        {"softer": 0.9},  # 2.5 times as soft from pick to pick
        {"softer": 1.5},  # and 4.5 times, as the units are
        {"noise": 0.5},
        {"cultivars": 3, "seasons": (2024,)},
    ],
    ids=str,
)
def test_fruit_that_ripen_are_no_second_gauge(how, seed):
    assert flags(lambda *_: False, seed=seed, **how) == []


def test_without_firmness_nothing_is_said():
    nobody = pd.DataFrame({"sample": ["S1"], "firmness_1_n": [np.nan], "firmness_2_n": [np.nan]})
    samples = pd.DataFrame({"sample": ["S1"], "cultivar": ["C1"], "site": ["low"], "date": [pd.Timestamp("2024-07-01")]})  # fmt: skip
    assert told(suspect_gauges, nobody, samples, SITES) == []
