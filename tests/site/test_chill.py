"""Hours of cold and Utah units."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.site.chill import UTAH_OPTIMUM_C, chill_hours, utah_units

# Both sides of every bound, by published R code (Luedeling 2012, Scientia Horticulturae 144: 218-229).
UTAH = {
    1.4: 0,
    1.5: 0.5,
    2.4: 0.5,
    2.5: 1,
    9.1: 1,
    9.2: 0.5,
    12.4: 0.5,
    12.5: 0,
    15.9: 0,
    16.0: -0.5,
    18.0: -0.5,
    18.1: -1,
}


@pytest.mark.parametrize(("temperature", "units"), UTAH.items())
def test_utah_units_change_at_their_bounds(temperature, units):
    assert utah_units(np.array(temperature)) == units
    assert utah_units(np.array(temperature), positive=True) == max(units, 0)


@pytest.mark.parametrize(("temperature", "counts"), [(-0.1, 0), (0, 1), (7.2, 1), (7.3, 0)])
def test_chill_hours_hold_both_ends(temperature, counts):
    assert chill_hours(np.array(temperature)) == counts


@given(st.floats(UTAH_OPTIMUM_C, 60), st.floats(0, 20))
def test_above_the_optimum_warmer_is_never_more(temperature, warmer):
    assert utah_units(np.array(temperature + warmer)) <= utah_units(np.array(temperature))


def test_what_is_missing_stays_missing():
    assert np.isnan(utah_units(np.array([np.nan]))).all()
    assert np.isnan(chill_hours(np.array([np.nan]))).all()
