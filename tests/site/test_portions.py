"""Chill portions against published constant and moving temperatures, in both variants."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from dashboard.site.chill import chill_hours, utah_units
from dashboard.site.heat import degree_hours
from dashboard.site.portions import PAPER, SHEET, portions

REFERENCE = Path(__file__).parents[1] / "reference"
CONSTANT = pd.read_csv(REFERENCE / "chill_constant.csv")
SERIES = pd.read_csv(REFERENCE / "chill_series.csv")
HOUR = np.arange(1440)
MADE = {
    "16 h 6 C and 8 h 20 C": np.where(HOUR % 24 < 16, 6.0, 20.0),
    "16 h 6 C and 8 h 15 C": np.where(HOUR % 24 < 16, 6.0, 15.0),
    "12 h 4 C and 12 h 12 C": np.where(HOUR % 24 < 12, 4.0, 12.0),
    "20 h 6 C and 4 h 24 C": np.where(HOUR % 24 < 20, 6.0, 24.0),
    "8 + 6 sin": 8 + 6 * np.sin(2 * np.pi * HOUR / 24),
    "5 + 8 sin": 5 + 8 * np.sin(2 * np.pi * HOUR / 24),
    "12 + 8 sin": 12 + 8 * np.sin(2 * np.pi * HOUR / 24),
}
SIX = [
    0.980511620878,
    0.977237728304,
    0.977167349583,
    0.977165836654,
    0.977165804131,
    0.977165803432,
    0.977165803417,
]


@pytest.mark.parametrize("variant", [SHEET, PAPER])
def test_constant_temperatures_make_the_published_portions(variant):
    found = portions(np.tile(CONSTANT["temperature_c"].to_numpy(float)[:, None], 2000), variant)
    assert found[:, :1000].sum(axis=1) == pytest.approx(
        CONSTANT["portions_1000h"], abs=6e-7
    )  # as many digits as are printed
    assert found.sum(axis=1) == pytest.approx(CONSTANT["portions_2000h"], abs=6e-7)
    first = [int(np.flatnonzero(row)[0]) + 1 if row.any() else np.nan for row in found]
    assert first == pytest.approx(CONSTANT["first_hour"], nan_ok=True)


def test_at_six_degrees_each_portion_is_as_published():
    found = portions(np.full(200, 6.0))
    assert (np.flatnonzero(found) + 1).tolist() == [30, 58, 86, 114, 142, 170, 198]
    assert found[found > 0] == pytest.approx(SIX, abs=1e-12)


@pytest.mark.parametrize("row", SERIES.to_dict("records"), ids=lambda row: row["series"])
def test_moving_temperatures_count_as_published(row):
    t = MADE[row["series"]]
    assert portions(t).sum() == pytest.approx(row["portions_sheet"], abs=1e-8)
    assert portions(t, PAPER).sum() == pytest.approx(row["portions_paper"], abs=1e-8)
    assert chill_hours(t).sum() == row["hours"]
    assert utah_units(t).sum() == row["utah"]
    assert utah_units(t, positive=True).sum() == row["positive_utah"]
    assert degree_hours(t).sum() == pytest.approx(row["degree_hours_curved"], abs=1e-6)


def test_the_kelvin_scale_begins_at_273():
    # With 273.15 the first would be 34.370799 after 1000 hours at 6 °C, the other 41.070946: recomputed.
    assert portions(np.full(1000, 6.15)).sum() == pytest.approx(34.370799, abs=1e-6)
    assert portions(MADE["8 + 6 sin"] + 0.15).sum() == pytest.approx(41.070946, abs=1e-6)


@given(arrays(float, (2, 120), elements=st.floats(-20, 35)), st.sampled_from([SHEET, PAPER]))
def test_portions_never_fall_and_winters_do_not_touch_each_other(t, variant):
    both = portions(t, variant)
    assert (both >= 0).all()
    assert both[1] == pytest.approx(portions(t[1], variant))


def test_what_comes_after_a_missing_hour_is_missing():
    t = np.full((2, 100), 6.0)
    t[0, 50] = np.nan
    found = portions(t)
    assert np.isnan(found[0, 50:]).all()
    assert not np.isnan(found[0, :50]).any()
    assert not np.isnan(found[1]).any()


def test_another_variant_is_refused():
    with pytest.raises(ValueError, match="There is no variant 'leaf'"):
        portions(np.zeros(3), "leaf")
