"""An instrument that reads all fruit off for some days is told; what a season, a cultivar or the fruit themselves do is not."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.records.odd_instruments import suspect_instruments
from dashboard.terms.units import N_PER_KGF, N_PER_LBF
from tests.records.readings import SITES, of, told, trial

CHEEKS = ["firmness_1_n", "firmness_2_n"]


@pytest.mark.parametrize("seed", range(4))
def test_nothing_is_said_where_nothing_is_wrong(seed):
    fruit, samples, cultivars = trial(seed)
    fruit.loc[of(fruit, samples, "low", 2023), "ssc_brix"] += 2.5  # a sweet season at one site
    assert told(suspect_instruments, fruit, samples, cultivars, SITES) == []


@pytest.mark.parametrize(("off", "visits", "days"), [(2.0, range(2, 4), "from 2023-07-15 to 2023-07-22"), (-2.5, range(5, 6), "on 2023-08-05")])  # fmt: skip
def test_a_refractometer_that_was_not_set_to_zero(off, visits, days):
    fruit, samples, cultivars = trial()
    fruit.loc[of(fruit, samples, "high", 2023, visits), "ssc_brix"] += off
    (found,) = told(suspect_instruments, fruit, samples, cultivars, SITES)
    assert found.value.startswith("+" if off > 0 else "-")
    assert abs(float(found.value.split()[0]) - off) < 0.6
    assert found.rule.startswith(f"is how far all fruit {days} at “high”")
    assert found.rule.endswith("; the checks say so, too")
    assert fruit.loc[found.row, "sample"] in set(fruit.loc[of(fruit, samples, "high", 2023, visits), "sample"])  # fmt: skip


@pytest.mark.parametrize(
    ("factor", "said"),
    [(1 / N_PER_LBF, "newtons and pounds-force"), (N_PER_KGF / N_PER_LBF, "kilograms-force and pounds-force"), (N_PER_KGF, "newtons and kilograms-force"), (1.6, "set to zero")],
)  # fmt: skip
def test_a_day_read_in_another_unit_or_by_a_gauge_that_slipped(factor, said):
    fruit, samples, cultivars = trial()
    fruit.loc[of(fruit, samples, "low", 2024, range(4, 6)), CHEEKS] *= factor
    (found,) = told(suspect_instruments, fruit, samples, cultivars, SITES)
    assert said in found.suggestion
    assert ("firm" if factor > 1 else "soft") in found.value
    assert np.isclose(float(found.value.split()[0]), max(factor, 1 / factor), rtol=0.15)


def test_what_leaves_the_checks_as_they_are_is_no_instrument():
    fruit, samples, cultivars = trial()
    there = of(fruit, samples, "high", 2023, range(2, 4))
    others = ~fruit["sample"].map(samples.set_index("sample")["cultivar"]).isin(["C0", "C1"]).to_numpy()
    fruit.loc[there & others, "ssc_brix"] += 2.0
    assert told(suspect_instruments, fruit, samples, cultivars, SITES) == []
    cultivars["check"] = False
    (found,) = told(suspect_instruments, fruit, samples, cultivars, SITES)
    assert "checks" not in found.rule


@pytest.mark.parametrize("rows", [0, 30])
def test_a_few_samples_say_nothing(rows):
    fruit, samples, cultivars = trial()
    fruit = fruit.iloc[:rows]
    assert told(suspect_instruments, fruit, samples[samples["sample"].isin(fruit["sample"])], cultivars, SITES) == []  # fmt: skip
