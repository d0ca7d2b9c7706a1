"""The pattern: every cross-product in its place, whatever the weights."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.mixed import fit
from dashboard.mixed.arrowhead import Patterns
from dashboard.mixed.criterion import Model
from dashboard.mixed.design import checked
from tests.mixed.dense import trial


@pytest.fixture
def arrow():
    return Model(checked(**trial(0, sampled=False))).arrow


def test_every_cross_product_is_in_its_place(arrow):
    w = np.random.default_rng(1).uniform(0, 2, arrow.design.shape[0])
    products, design, local = arrow.products(w), arrow.design.toarray(), arrow.local
    whole = design.T @ (w[:, None] * design)
    rebuilt = np.zeros_like(whole)
    rebuilt[local:, local:] = products.g
    padded = np.zeros((local + 1, len(whole) + 1))
    for bucket, a, b in zip(arrow.buckets, products.a, products.b, strict=True):
        padded[bucket.columns[:, :, None], bucket.columns[:, None, :]] += a
        padded[bucket.columns[:, :, None], local + bucket.border[:, None, :]] += b
    rebuilt[:local] = padded[:local, :-1]
    rebuilt[local:, :local] = rebuilt[:local, local:].T
    np.testing.assert_allclose(rebuilt, whole, atol=1e-12)


def test_every_local_column_is_in_one_block_and_padding_is_empty(arrow):
    columns = np.concatenate([bucket.columns.ravel() for bucket in arrow.buckets])
    assert sorted(columns[columns < arrow.local]) == list(range(arrow.local))
    products = arrow.products(np.ones(arrow.design.shape[0]))
    for bucket, a, b in zip(arrow.buckets, products.a, products.b, strict=True):
        pad, beyond = bucket.columns == arrow.local, bucket.border == arrow.border
        assert (a[pad] == 0).all()
        assert (b[pad] == 0).all()
        assert (b.transpose(0, 2, 1)[beyond] == 0).all()


def test_a_model_without_groups_is_all_border():
    """Weighted means alone: the sample variance still counts."""
    random = np.random.default_rng(0)
    asked = {"y": random.normal(size=20), "X": np.ones((20, 1)), "groups": {}}
    model = Model(checked(**asked, n=random.integers(2, 9, 20), within_ss=90.0))
    assert model.arrow.buckets == []
    assert model.variances == ("sample", "residual")
    assert np.isfinite(model.at(np.array([0.5])).criterion)


def test_fits_of_the_same_groups_and_columns_share_a_pattern_and_no_others_do():
    asked, other, patterns = trial(4, sampled=True), trial(5, sampled=True), Patterns()
    first = fit(**asked, patterns=patterns)
    second = fit(**asked | {"y": asked["y"] ** 2}, patterns=patterns)
    assert second.model.arrow is first.model.arrow
    alone = fit(**asked | {"y": asked["y"] ** 2})
    assert alone.model.arrow is not first.model.arrow
    assert second.variance == alone.variance
    moved = {**asked["groups"], "age": (asked["groups"]["c"], asked["groups"]["age"][1] + 1e-9)}
    for change in ({"groups": moved}, {"X": asked["X"] + 1e-9}, other):
        fresh = fit(**asked | change, patterns=patterns)
        assert fresh.model.arrow is not first.model.arrow
        assert fresh.variance == fit(**asked | change).variance
