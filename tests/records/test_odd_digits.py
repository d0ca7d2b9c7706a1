"""A favorite last digit is told where others do without it; a coarse gauge and an ordinary season are not."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.records.odd_digits import suspect_digits
from dashboard.terms.units import N_PER_LBF
from tests.records.readings import SITES, of, told, trial


@pytest.mark.parametrize("seed", range(4))
def test_nothing_is_said_where_nothing_is_wrong(seed):
    fruit, samples, _ = trial(seed)
    assert told(suspect_digits, fruit, samples, SITES) == []


@pytest.mark.parametrize(("column", "step", "unit"), [("ssc_brix", 0.5, 1.0), ("ssc_brix", 1.0, 1.0), ("firmness_2_n", 0.5, N_PER_LBF)])  # fmt: skip
def test_a_season_rounded_as_it_was_read(column, step, unit):
    fruit, samples, _ = trial()
    there = of(fruit, samples, "low", 2024)
    fruit.loc[there, column] = np.round(fruit.loc[there, column] / unit / step) * step * unit
    (found,) = told(suspect_digits, fruit, samples, SITES)
    assert (found.column, found.value) == (column, "100 %")
    assert found.rule.startswith(f"of {there.sum()} readings of “low” in 2024 end in 0 or 5, elsewhere ")


def test_a_gauge_that_reads_in_halves_everywhere_is_no_fault():
    fruit, samples, _ = trial()
    fruit["ssc_brix"] = np.round(fruit["ssc_brix"] * 2) / 2
    assert told(suspect_digits, fruit, samples, SITES) == []


def test_without_fruit_nothing_is_said():
    fruit, samples, _ = trial()
    assert told(suspect_digits, fruit.iloc[:0], samples.iloc[:0], SITES) == []
