"""How sums and their errors move with the variances: the same as by a small step either way."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.mixed import Moves, fit
from dashboard.mixed.criterion import Model
from dashboard.mixed.design import checked
from dashboard.mixed.predictions import Prediction
from tests.mixed.dense import trial

STEP = 1e-3  # of a log variance


def stepped(ours, weights) -> tuple[np.ndarray, np.ndarray]:
    """(variances, k) slopes in the log of each ratio, the residual variance kept where it is, by central differences."""
    best = ours.best.point
    slopes, tilts = [], []
    for place in range(len(best.ratios)):
        ends = []
        for way in (1, -1):
            ratios = best.ratios.copy()
            ratios[place] *= np.exp(way * STEP)
            near = ours.model.at(ratios)
            v = near.scale[:, None] * near.factor.solution(near.scale[:, None] * weights.T.toarray())
            ends.append(
                (weights @ near.coefficients, best.sigma2 * np.einsum("kc,ck->k", weights.toarray(), v))
            )
        slopes.append((ends[0][0] - ends[1][0]) / (2 * STEP))
        tilts.append((ends[0][1] - ends[1][1]) / (2 * STEP))
    return np.array(slopes), np.array(tilts)


def asked(ours) -> Prediction:
    """Values of every cultivar, of two site-seasons and of differences between cultivars: all kinds of columns and several blocks."""
    labels = ours.effect["c"].index
    values = ours.predict([1.0, 0.5], {"c": labels, "env": pd.Series({3: 0.5, 4: 0.5})})
    apart = np.zeros((3, len(labels)))
    apart[[0, 1, 2], [0, 1, 2]], apart[[0, 1, 2], [5, 6, 7]] = 1, -1
    return values.contrast(np.vstack([np.eye(len(labels)), apart]))


@pytest.mark.parametrize("sampled", [False, True], ids=["records", "samples"])
@pytest.mark.parametrize("seed", [8, 12])
def test_slopes_are_those_of_a_small_step(seed, sampled):
    ours = fit(**trial(seed, sampled=sampled))
    sums = asked(ours)
    found, expected = ours.moves().of(sums.split, sums.weights), stepped(ours, sums.weights)
    for one, other in zip(found, expected, strict=True):
        np.testing.assert_allclose(one, other, rtol=2e-5, atol=1e-6 * np.abs(other).max())


def test_slopes_with_listed_groups_and_a_variance_at_zero():
    made = trial(3, sampled=True)
    made["X"] = made["X"][:, 1:]
    ours = fit(**made, fixed="env", held={"cs": 0.0})
    sums = ours.predict(effects={"c": ours.effect["c"].index, "env": pd.Series({3: 1.0})})
    slopes, tilts = ours.moves().of(sums.split, sums.weights)
    expected = stepped(ours, sums.weights)
    np.testing.assert_allclose(slopes, expected[0], rtol=2e-5, atol=1e-6)
    np.testing.assert_allclose(tilts, expected[1], rtol=2e-5, atol=1e-6)
    assert (slopes[ours.model.variances.index("cs")] == 0).all()


def test_the_error_of_a_difference_of_two_cultivars_grows_with_every_part_in_it():
    model = Model(checked(**trial(8, sampled=True)))
    point = model.at(np.full(6, 0.4))
    made = fit(**trial(8, sampled=True))
    sums = made.predict(effects={"c": made.effect["c"].index}).difference(0, 1)
    _, tilts = Moves(point).of(sums.split, sums.weights)
    assert (tilts >= 0).all()
    assert tilts[model.variances.index("cs")] > 0
