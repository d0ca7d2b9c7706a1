"""Two columns typed in each other's place are told, of the day it was; an odd cultivar is not taken for it."""

from __future__ import annotations

import pytest

from dashboard.records.odd_columns import suspect_columns
from dashboard.terms.units import N_PER_KGF, N_PER_LBF
from tests.records.readings import of, told, trial


@pytest.mark.parametrize("seed", range(4))
def test_nothing_is_said_where_nothing_is_wrong(seed):
    fruit, samples, _ = trial(seed)
    fruit.loc[of(fruit, samples, "low", 2023), "suture_mm"] *= 1.01  # flat fruit that year
    assert told(suspect_columns, fruit, samples) == []


def test_diameters_exchanged_on_one_day():
    fruit, samples, _ = trial()
    there = of(fruit, samples, "high", 2023, range(3, 4))
    fruit.loc[there, ["suture_mm", "cross_mm"]] = fruit.loc[there, ["cross_mm", "suture_mm"]].to_numpy()
    (found,) = told(suspect_columns, fruit, samples)
    assert found.value == "8 samples"
    assert found.rule == "of “high” on 2023-07-22 fit their cultivars only with suture and cross exchanged"
    assert there[found.row]


@pytest.mark.parametrize("force", [1.0, N_PER_LBF, N_PER_KGF], ids=["newtons", "pounds", "kilograms"])
def test_sugar_and_firmness_exchanged_on_one_day(force):
    fruit, samples, _ = trial()
    there = of(fruit, samples, "low", 2024, range(5, 6))
    before = fruit.loc[there].copy()
    fruit.loc[there, "ssc_brix"] = before["firmness_1_n"] / force
    fruit.loc[there, ["firmness_1_n", "firmness_2_n"]] = before[["ssc_brix", "ssc_brix"]].to_numpy() * force
    (found,) = told(suspect_columns, fruit, samples)
    assert (
        found.rule == "of “low” on 2024-08-05 fit their cultivars only with ssc_brix and firmness exchanged"
    )


def test_without_fruit_nothing_is_said():
    fruit, samples, _ = trial()
    assert told(suspect_columns, fruit.iloc[:0], samples.iloc[:0]) == []
