"""Springs by the clock of heat: the southern one is the northern half a year later, by the calendar's days."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.site.clock import CONSTANT, Springs
from tests.site.places import place


def test_a_southern_spring_is_the_northern_one_half_a_year_later():
    heat, need = np.array([4000.0]), np.array([np.nan])
    north, south = (
        np.array([springs.day_of(year, CONSTANT, need, heat)[0] for year in springs.years])
        for springs in (Springs(place()), Springs(place(latitude=-33.0)))
    )
    assert np.median(south) - np.median(north) == pytest.approx(182, abs=12)
    assert south.min() > 182  # from July on
    assert south.max() < 335
