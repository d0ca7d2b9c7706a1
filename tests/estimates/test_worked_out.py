"""Errors of a worked-out trait go with those of the traits it is made of, each with variance 1."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.estimates import worth
from dashboard.estimates.draws import errors
from dashboard.estimates.worked_out import MOST_TOLD, worked_out_errors
from tests.estimates.trials import trial

TRAITS = ("size", "firmness")


@pytest.fixture(scope="module")
def made():
    records = trial(24, 2, 4, seed=3)
    worths = {trait: worth(records, trait) for trait in TRAITS}
    drawn = errors(worths, np.tile([[1.0, 0.4], [0.4, 1.0]], (24, 1, 1)), 4000)
    return worth(records.assign(mine=records["size"]), "mine"), drawn


@pytest.mark.parametrize("told", [0.0, 0.6, -0.6])
def test_they_go_together_as_told_and_vary_by_one(made, told):
    own, drawn = made
    found = worked_out_errors(own, drawn, pd.Series({"size": told, "firmness": 0.4 * told, "mine": 1.0}))
    one = [np.corrcoef(found[:, at], drawn["size"][:, at])[0, 1] for at in range(found.shape[1])]
    assert np.mean(one) == pytest.approx(told, abs=0.06)
    assert np.median(found.std(axis=0)) == pytest.approx(1, abs=0.1)


def test_what_cannot_be_is_drawn_in(made):
    own, drawn = made
    found = worked_out_errors(own, drawn, pd.Series({"size": 1.0, "firmness": -1.0}))
    assert np.isfinite(found).all()
    assert found.std() < 1.2
    same = worked_out_errors(own, drawn, pd.Series({"size": 1.0, "firmness": 0.4}))
    assert np.corrcoef(same[:, 0], drawn["size"][:, 0])[0, 1] > np.sqrt(MOST_TOLD) - 0.01


def test_it_is_the_same_whenever_asked_for(made):
    own, drawn = made
    alike = pd.Series({"size": 0.5, "firmness": 0.1})
    np.testing.assert_array_equal(worked_out_errors(own, drawn, alike), worked_out_errors(own, drawn, alike))


def test_a_trait_that_is_another_one_goes_with_it_also_where_the_measured_ones_go_together_otherwise(made):
    """Told together, errors of two traits go otherwise than those of their readings."""
    own, drawn = made
    readings = pd.DataFrame([[1.0, -0.6], [-0.6, 1.0]], TRAITS, TRAITS)
    found = worked_out_errors(own, drawn, readings["size"], readings)
    assert np.corrcoef(found[:, 0], drawn["size"][:, 0])[0, 1] > np.sqrt(MOST_TOLD) - 0.01
