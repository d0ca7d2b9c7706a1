"""Growing degree hours in both forms."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from dashboard.site.heat import STRAIGHT, degree_hours

CURVED = pd.read_csv(Path(__file__).parents[1] / "reference" / "degree_hours_curved.csv")


def test_the_curved_form_is_as_published():
    assert degree_hours(CURVED["temperature_c"].to_numpy()) == pytest.approx(CURVED["degree_hours"], abs=1e-7)


# Richardson and others (1975), HortScience 10: 560-562: degrees over 4.5 °C, 20.5 from 25 °C on. A published help text says that it falls to
# zero there; its own code, and the paper, do not.
@pytest.mark.parametrize(("temperature", "hours"), [(0, 0), (4.5, 0), (10, 5.5), (25, 20.5), (40, 20.5)])
def test_the_straight_form_stays_at_its_most(temperature, hours):
    assert degree_hours(np.array(temperature), STRAIGHT) == pytest.approx(hours)


def test_another_form_is_refused():
    with pytest.raises(ValueError, match="There is no form 'bent'"):
        degree_hours(np.zeros(3), "bent")


def test_what_is_missing_stays_missing():
    assert np.isnan(degree_hours(np.array([np.nan]))).all()
    assert np.isnan(degree_hours(np.array([np.nan]), STRAIGHT)).all()
