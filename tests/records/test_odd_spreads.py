"""A deviation typed for an error of a mean, or the other way round, is flagged once a season; what varies as it does is not."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.records import read
from tests.records.small import DECLARED, tables, write_folder

_HEAD = ["sample", "n", "size_mm", "size_sd_mm"]


def told(folder, times: float, seed: int = 1, samples: int = 6) -> list[str]:
    """Three seasons of means of ten fruit, the deviations of the last so many times as large."""
    chance = np.random.default_rng(seed)
    grids = tables() | {"means": [_HEAD]}
    for season in (2021, 2022, 2023):
        for number in range(samples):
            name = f"M{season}{number}"
            grids["samples"].append([name, "Alvane", "low", f"{season}-07-{10 + number}", "1", *[""] * 4])
            spread = chance.normal(0, 4, 10).std(ddof=1) * (times if season == 2023 else 1)
            grids["means"].append([name, "10", "64", f"{spread:.2f}"])
    found = read(write_folder(folder, grids, DECLARED | {"seasons": [2020, 2025]}))
    return [one.rule for one in found.problems if "deviations of" in one.rule]


@pytest.mark.parametrize("times", [10**0.5, 10**-0.5])
def test_an_error_for_a_deviation_is_flagged_once(tmp_path, times):
    (rule,) = told(tmp_path, times)
    assert rule.startswith("is one of 6 deviations of 2023 that are ")
    assert ("times those" in rule) == (times > 1)


@pytest.mark.alike(4)
@pytest.mark.parametrize("seed", range(12))
def test_what_varies_as_it_does_is_not(tmp_path, seed):
    assert not told(tmp_path, 1.0, seed)


def test_few_are_not_judged(tmp_path):
    assert not told(tmp_path, 5.0, samples=3)
