"""The criterion, its slope and its information against the textbook formulas in full matrices."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.mixed.criterion import Model
from dashboard.mixed.design import checked
from tests.mixed.dense import Dense, trial


@pytest.fixture(params=[(seed, sampled) for seed in (0, 1) for sampled in (False, True)], ids=str)
def both(request):
    seed, sampled = request.param
    model = Model(checked(**trial(seed, sampled=sampled)))
    ratios = np.random.default_rng(seed).uniform(0.05, 2, len(model.variances) - 1)
    point = model.at(ratios)
    return point, Dense(model, point.sigma)


def test_the_criterion_is_twice_the_negative_log_restricted_likelihood(both):
    point, dense = both
    assert point.criterion == pytest.approx(dense.criterion, rel=1e-11)


def test_the_score_is_the_slope_of_the_restricted_likelihood(both):
    point, dense = both
    np.testing.assert_allclose(point.score, dense.score, rtol=1e-8, atol=1e-8)


def test_the_score_is_also_the_slope_of_the_profiled_criterion(both):
    point, _ = both
    for index in range(len(point.ratios)):
        up, down = point.ratios.copy(), point.ratios.copy()
        up[index] *= 1 + 1e-5
        down[index] *= 1 - 1e-5
        slope = (point.model.at(up).criterion - point.model.at(down).criterion) / (2e-5 * point.ratios[index])
        assert -2 * point.sigma2 * point.score[index] == pytest.approx(slope, rel=1e-5, abs=1e-5)


def test_the_average_information(both):
    point, dense = both
    np.testing.assert_allclose(point.information, dense.information, rtol=1e-8)


def test_the_ml_score_is_the_slope_of_the_ml_criterion():
    model = Model(checked(**trial(3, sampled=True)), reml=False)
    ratios = np.full(len(model.variances) - 1, 0.4)
    point = model.at(ratios)
    for index in range(len(ratios)):
        up, down = ratios.copy(), ratios.copy()
        up[index], down[index] = 0.4 + 1e-5, 0.4 - 1e-5
        slope = (model.at(up).criterion - model.at(down).criterion) / 2e-5
        assert -2 * point.sigma2 * point.score[index] == pytest.approx(slope, rel=1e-5, abs=1e-5)


def test_the_scale_of_a_fixed_column_moves_only_its_own_effect():
    asked = trial(4, sampled=False)
    plain = Model(checked(**asked)).at(np.full(5, 0.3))
    asked["X"] = asked["X"] * [1.0, 1000.0]
    scaled = Model(checked(**asked)).at(np.full(5, 0.3))
    # |X' V^-1 X| grows by the square of the factor; nothing else does.
    assert scaled.criterion - plain.criterion == pytest.approx(2 * np.log(1000), rel=1e-9)
    assert scaled.coefficients[-1] == pytest.approx(plain.coefficients[-1] / 1000, rel=1e-9)
