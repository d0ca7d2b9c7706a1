"""The arrowhead factorisation against plain matrices."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.mixed.criterion import Model
from dashboard.mixed.design import checked
from dashboard.mixed.factor import _MANY, _SMALL, Factor, _inverse
from tests.mixed.dense import trial


@pytest.fixture(params=[(0, ()), (1, ()), (2, ("c",)), (3, ("env",))], ids=str)
def pieces(request):
    seed, fixed = request.param
    asked = trial(seed, sampled=False)
    if fixed:
        asked["X"] = asked["X"][:, 1:]
        asked["groups"].pop("cs")
    model = Model(checked(**asked, fixed=fixed))
    w = np.random.default_rng(seed).uniform(0.5, 3, len(asked["y"]))
    scale = np.random.default_rng(seed + 9).uniform(0.1, 2, model.width)
    products = model.arrow.products(w)
    ridge = np.where(model.is_fixed, 0.0, 1.0)
    design = model.arrow.design.toarray()
    C = scale[:, None] * (design.T @ (w[:, None] * design)) * scale + np.diag(ridge)
    return model, products, Factor(model.arrow, products, scale, ridge), C, scale


def test_the_blocks_are_many_and_the_border_is_narrow(pieces):
    model, *_ = pieces
    assert sum(bucket.columns.shape[0] for bucket in model.arrow.buckets) == 11  # one a level of c
    assert model.arrow.border <= 12 + 2


def test_the_determinant_is_that_of_the_whole_matrix(pieces):
    _, _, factor, C, _ = pieces
    assert factor.log_det == pytest.approx(np.linalg.slogdet(C)[1], rel=1e-12)


def test_solutions_solve_the_whole_matrix(pieces):
    _, _, factor, C, _ = pieces
    right = np.random.default_rng(0).normal(size=(len(C), 3))
    np.testing.assert_allclose(C @ factor.solution(right), right, atol=1e-9)


def test_the_diagonal_of_the_inverse_and_its_trace_with_other_products(pieces):
    model, _, factor, C, scale = pieces
    other = np.random.default_rng(5).uniform(0, 1, model.arrow.design.shape[0])
    design = model.arrow.design.toarray()
    inverse = np.linalg.inv(C)
    diagonal, trace = factor.inverse_diagonal(model.arrow.products(other))
    np.testing.assert_allclose(diagonal, np.diag(inverse), rtol=1e-9)
    P = scale[:, None] * (design.T @ (other[:, None] * design)) * scale
    assert trace == pytest.approx(np.trace(inverse @ P), rel=1e-9)


def test_columns_of_the_border_are_switched_off_as_if_they_had_no_scale(pieces):
    model, products, factor, _, scale = pieces
    off = model.is_fixed & (np.arange(model.width) >= model.arrow.local)
    anew = Factor(model.arrow, products, np.where(off, 0.0, scale), np.where(off, 1.0, factor.ridge))
    found = factor.without(off)
    assert found.log_det == pytest.approx(anew.log_det, rel=1e-12)
    right = np.random.default_rng(2).normal(size=(model.width, 2))
    np.testing.assert_allclose(found.solution(right), anew.solution(right), atol=1e-9)
    np.testing.assert_allclose(found.inverse_diagonal()[0], anew.inverse_diagonal()[0], rtol=1e-9)


def test_a_matrix_that_is_not_definite_is_refused(pieces):
    model, products, _, _, scale = pieces
    with pytest.raises(np.linalg.LinAlgError):
        Factor(model.arrow, products, scale, -100 * np.ones(model.width))


@pytest.mark.parametrize(
    ("columns", "count"),
    [
        (1, _MANY),
        (2, 3),
        (2, 20),
        (_SMALL, 3),
        (_SMALL, _MANY * _SMALL),
        (_SMALL + 1, _MANY * _SMALL + _MANY),
    ],
)
def test_triangles_few_and_many_small_and_large_are_inverted(columns, count):
    random = np.random.default_rng(columns)
    triangles = np.tril(random.normal(size=(count, columns, columns)) / columns) + 2 * np.eye(columns)
    found = _inverse(triangles)
    np.testing.assert_allclose(found @ triangles, np.broadcast_to(np.eye(columns), found.shape), atol=1e-12)
    assert (np.triu(found, 1) == 0).all()
