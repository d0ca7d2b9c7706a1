"""Effects of relatives: a published relationship, a published prediction, and the equations written out in full."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from dashboard.mixed import fit
from dashboard.mixed.criterion import Model
from dashboard.mixed.design import checked
from dashboard.mixed.kin import in_order, kin
from tests.mixed.dense import Dense, trial

REFERENCE = Path(__file__).parents[1] / "reference"


def parents_of(frame: pd.DataFrame, name: str) -> dict[int, list[int]]:
    both = frame.drop_duplicates(name).set_index(name)[["sire", "dam"]]
    return {int(one): [int(parent) for parent in row if parent == parent] for one, *row in both.itertuples()}


def test_the_relationship_of_a_textbook():
    """Mrode 2014, p. 25; the last animal has an inbred parent and is inbred itself."""
    book = pd.read_csv(REFERENCE / "relationship.csv")
    T = book.filter(like="t").to_numpy(dtype=float)
    found = kin(parents_of(book, "calf"), book["calf"].tolist())
    np.testing.assert_allclose(found.relationship, T @ np.diag(book["d"]) @ T.T, atol=1e-3)
    printed = [[1, 0.5, 0.5], [0.5, 1, 0.625], [0.5, 0.625, 1.125]]
    np.testing.assert_allclose(found.relationship[np.ix_([0, 3, 4], [0, 3, 4])], printed, atol=1e-12)


def test_the_prediction_of_a_textbook():
    """Mrode 2014, example 4.1: what is inherited and what is the cow's own, in two records each."""
    book = pd.read_csv(REFERENCE / "repeated_records.csv")
    X = pd.DataFrame({f"parity {one}": (book["parity"] == one).astype(float) for one in (1, 2)})
    X = X.assign(**{f"season {one}": (book["hys"] == one).astype(float) for one in (2, 4)})
    groups = {"own": book["cow"], "animal": kin(parents_of(book, "cow")).seen(book["cow"])}
    found = fit(book["fat"], X, groups, held={"own": 12 / 28, "animal": 20 / 28})
    by_cow = book.drop_duplicates("cow").set_index("cow")
    np.testing.assert_allclose(found.beta, [175.472, 241.893, 44.065, 0.013], atol=6e-4)
    np.testing.assert_allclose(found.effect["animal"][by_cow.index], by_cow["animal"], atol=6e-4)
    np.testing.assert_allclose(found.effect["own"][by_cow.index], by_cow["permanent"], atol=6e-4)


def with_kin(seed: int, sampled: bool) -> dict:
    """``trial`` with eleven relatives: founders outside, parents with records, an inbred one, one of nobody known."""
    asked = trial(seed, sampled=sampled)
    bred = {
        0: ["f", "g"],
        1: ["f", "g"],
        2: ["f", "h"],
        3: ["h"],
        4: [0, 1],
        5: [0, 4],
        6: ["i", "j"],
        7: ["i", "j"],
        8: [5, 5],
        9: ["k"],
    }
    labels = asked["groups"]["c"]
    slope = np.random.default_rng(seed).uniform(0.5, 2, len(labels))
    asked["groups"] |= {"relatives": kin(bred, list(range(11))).seen(labels, slope)}
    return asked


@pytest.mark.parametrize(("seed", "sampled"), [(0, False), (1, True)])
def test_the_equations_in_full(seed, sampled):
    model = Model(checked(**with_kin(seed, sampled)))
    point = model.at(np.random.default_rng(seed).uniform(0.05, 2, len(model.variances) - 1))
    dense = Dense(model, point.sigma)
    assert point.criterion == pytest.approx(dense.criterion, rel=1e-11)
    np.testing.assert_allclose(point.score, dense.score, rtol=1e-8, atol=1e-8)
    np.testing.assert_allclose(point.information, dense.information, rtol=1e-8)


def test_relatives_alone_and_across_the_blocks_in_full():
    """Without another group there are no blocks; where records stand under the blocks of another, nothing is anybody's own."""
    asked = with_kin(2, False)
    seasons = np.arange(90) % 30
    for groups in ({}, {"season": seasons}):
        model = Model(checked(**asked | {"groups": groups | {"relatives": asked["groups"]["relatives"]}}))
        assert model.arrow.local == (30 if groups else 0)
        point = model.at(np.full(len(model.variances) - 1, 0.6))
        dense = Dense(model, point.sigma)
        assert point.criterion == pytest.approx(dense.criterion, rel=1e-11)
        np.testing.assert_allclose(point.score, dense.score, rtol=1e-8, atol=1e-8)


def test_effects_and_their_errors_in_full():
    found = fit(**with_kin(3, True))
    assert found.converged
    dense = Dense(found.model, found.best.point.sigma)
    term = next(term for term in found.model.random if term.kin is not None)
    start = dense.X.shape[1] + sum(Z.shape[1] for Z in dense.Z[: found.model.random.index(term)])
    inside = slice(start, start + len(term.levels))
    root = np.linalg.cholesky(term.kin.relationship)
    error = root @ dense.inverse[inside, inside] @ root.T
    np.testing.assert_allclose(found.effect_se["relatives"], np.sqrt(np.diag(error)), rtol=1e-7)
    asked = found.predict(effects={"relatives": term.levels})
    np.testing.assert_allclose(asked.covariance(), error, rtol=1e-7, atol=1e-12)
    np.testing.assert_allclose(asked.estimate, found.effect["relatives"])
    known = np.linalg.inv(np.linalg.inv(dense.inverse)[dense.X.shape[1] :, dense.X.shape[1] :])
    inside = slice(start - dense.X.shape[1], start - dense.X.shape[1] + len(term.levels))
    sd = np.sqrt(np.diag(root @ known[inside, inside] @ root.T))
    np.testing.assert_allclose(found.effect_sd["relatives"], sd, rtol=1e-7)
    np.testing.assert_allclose(found.error_of({"relatives": term.levels}), sd, rtol=1e-7)


def test_slopes_of_errors_are_those_of_differences():
    """What the degrees of freedom rest on, for an effect that has columns in blocks and border."""
    found = fit(**with_kin(4, False))
    asked = found.predict(effects={"relatives": list(range(11)), "c": list(range(11))})
    slope, tilt = found.moves().of(asked.split, asked.weights)
    place, step = found.model.variances.index("relatives"), 1e-5
    told = []
    for way in (step, -step):
        variance = found.variance | {"relatives": found.variance["relatives"] * np.exp(way)}
        there = found.put_at(variance)
        one = there.predict(effects={"relatives": list(range(11)), "c": list(range(11))})
        told.append((one.estimate, one.variance / there.best.point.sigma2 * found.best.point.sigma2))
    np.testing.assert_allclose(slope[place], (told[0][0] - told[1][0]) / (2 * step), rtol=1e-4, atol=1e-8)
    np.testing.assert_allclose(tilt[place], (told[0][1] - told[1][1]) / (2 * step), rtol=1e-4, atol=1e-8)


def test_parents_come_before_their_offspring_and_nobody_is_its_own_ancestor():
    assert in_order({"c": ["b"], "b": ["a"], "d": ["c", "a"]}) == ["a", "b", "c", "d"]
    with pytest.raises(ValueError, match="is among its own ancestors"):
        in_order({"a": ["b"], "b": ["c"], "c": ["a"]})
    with pytest.raises(ValueError, match="cannot be fixed"):
        checked([1.0, 2.0, 3.0], np.empty((3, 0)), {"c": kin({1: ["a"]}).seen([1, 1, 2])}, fixed=["c"])


def test_a_family_without_ties_takes_one_column_in_the_border():
    """Two parents of nobody else say no more than one draw."""
    bred = {(family, one): [f"s{family}", f"p{family}"] for family in range(3) for one in range(8)}
    found = kin(bred, list(bred)).of(list(bred))
    assert found.shared.shape == (24, 3)
    np.testing.assert_allclose(
        found.relationship, np.kron(np.eye(3), np.full((8, 8), 0.5) + 0.5 * np.eye(8)), atol=1e-12
    )


def test_what_one_cultivar_alone_has_of_its_ancestors_is_its_own():
    """A line of ancestors with no other offspring: nothing is shared, the relationship stays."""
    bred = {"a": ["f", "g"], "b": ["a", "h"], "c": ["b"], "d": ["x"], "e": ["x"]}
    whole = kin(bred)
    found = whole.of(["c", "d", "e"])
    assert found.shared.shape == (3, 1)
    at = whole.names.get_indexer(pd.Index(["c", "d", "e"]))
    np.testing.assert_allclose(found.relationship, whole.relationship[np.ix_(at, at)], atol=1e-12)
    np.testing.assert_allclose(kin(bred, ["c", "d", "e"]).relationship, found.relationship, atol=1e-12)


def test_a_search_from_near_ends_at_the_same_variances_sooner():
    asked = with_kin(3, True)
    plain = fit(**asked)
    ratios = plain.best.point.ratios * 1.05
    near = fit(**asked, near=dict(zip(plain.model.variances, ratios, strict=False)))
    assert near.best.iterations < plain.best.iterations
    for name, variance in plain.variance.items():
        assert near.variance[name] == pytest.approx(variance, rel=1e-7, abs=1e-9)
