"""Desirabilities against the published example, and what must hold of any score."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import optimize

from dashboard.market import Wish, desirability, overall
from dashboard.market.desirability import bearing, merit

PUBLISHED = pd.read_csv(Path(__file__).parents[1] / "reference" / "derringer_suich.csv")
DESIGN = pd.read_csv(Path(__file__).parents[1] / "reference" / "derringer_suich_design.csv")
shares = st.floats(0, 1)
weight = st.floats(0.01, 100)


def wish(shape: str, low: float, target: float, high: float, exponent: float = 1.0) -> Wish:
    return Wish("size", shape, low, target, high, 1.0, exponent)


@pytest.mark.parametrize("version", ["paper", "handbook"])
def test_the_published_tyre_tread_example_comes_out(version):
    responses = PUBLISHED[PUBLISHED["version"] == version]
    d = np.array(
        [desirability(wish(r.shape, r.low, r.target, r.high), r.predicted) for r in responses.itertuples()]
    )
    assert d == pytest.approx(
        responses["desirability"].to_numpy(), abs=7e-4
    )  # predictions printed to 4 figures
    assert overall(d, np.ones(4)) == pytest.approx(responses["overall"].iloc[0], abs=1e-3)


@pytest.mark.parametrize(
    ("version", "best", "where", "within"),
    [("paper", 0.583, (-0.05, 0.145, -0.868), 1.633), ("handbook", 0.596, (-0.10, 0.15, -1.0), 1.0)],
)
def test_either_version_refitted_has_its_published_optimum(version, best, where, within):
    """The whole example: models fitted to the design, and the overall desirability at its highest."""
    x = DESIGN[[f"{version}_x{axis}" for axis in (1, 2, 3)]].to_numpy()
    ends = PUBLISHED[PUBLISHED["version"] == version]
    wishes = [wish(r.shape, r.low, r.target, r.high) for r in ends.itertuples()]
    fitted = []
    for number in (1, 2, 3, 4):
        main_effects = version == "handbook" and number == 3
        design = _model(x, main_effects)
        fitted.append((np.linalg.lstsq(design, DESIGN[f"y{number}"], rcond=None)[0], main_effects))

    def score(at: np.ndarray) -> float:
        told = [(_model(at[None, :], plain) @ beta)[0] for beta, plain in fitted]
        return float(
            overall([float(desirability(one, y)) for one, y in zip(wishes, told, strict=True)], np.ones(4))
        )

    bounds = [(-within, within)] * 3
    found = optimize.differential_evolution(lambda at: -score(at), bounds, seed=1, tol=1e-8)
    assert -found.fun == pytest.approx(best, abs=1e-3)
    assert score(np.array(where)) == pytest.approx(best, abs=2e-3)
    assert found.x == pytest.approx(where, abs=0.02)


def _model(x: np.ndarray, main_effects: bool) -> np.ndarray:
    """1, x1 … x3 and, but for main effects alone, their squares and products."""
    columns = [np.ones(len(x)), *x.T]
    if not main_effects:
        columns += [*(x.T**2), x[:, 0] * x[:, 1], x[:, 0] * x[:, 2], x[:, 1] * x[:, 2]]
    return np.stack(columns, axis=1)


@pytest.mark.parametrize(
    ("shape", "values", "expected"),
    [
        ("larger", [9, 10, 12.5, 15, 16], [0, 0, 0.5, 1, 1]),
        ("smaller", [9, 10, 12.5, 15, 16], [1, 1, 0.5, 0, 0]),
        ("target", [9, 10, 11, 12, 13.5, 15, 16], [0, 0, 0.5, 1, 0.5, 0, 0]),
    ],
)
def test_each_shape_runs_between_its_ends(shape, values, expected):
    assert desirability(wish(shape, 10, 12, 15), values) == pytest.approx(expected)


def test_the_exponent_bends_the_curve():
    assert desirability(wish("larger", 0, 10, 10, exponent=2), 5) == pytest.approx(0.25)
    assert desirability(wish("target", 0, 10, 20, exponent=0.5), 15) == pytest.approx(np.sqrt(0.5))


def test_a_missing_value_has_no_desirability_and_no_score():
    d = desirability(wish("larger", 0, 10, 10), [np.nan, 5])
    assert np.isnan(d).tolist() == [True, False]
    assert np.isnan(overall([d], [1, 1])).all()


def test_one_zero_is_fatal():
    assert overall([0.0, 1.0, 1.0], [0.01, 5, 5]) == 0


def test_a_weight_of_zero_leaves_its_wish_out():
    assert overall([0.0, 0.5], [0, 1]) == pytest.approx(0.5)
    assert np.isnan(overall([0.5], [0]))


def test_weights_below_zero_are_refused():
    with pytest.raises(ValueError, match="below zero"):
        overall([0.5, 0.5], [1, -1])


def test_an_unknown_shape_is_refused():
    with pytest.raises(ValueError, match="larger, smaller or target"):
        desirability(wish("bigger", 0, 1, 2), 1)


@given(st.lists(st.tuples(shares, weight), min_size=1, max_size=6), st.floats(0.001, 1000))
def test_only_the_ratios_of_the_weights_count(pairs, factor):
    d, w = np.array(pairs).T
    assert overall(d, w * factor) == pytest.approx(overall(d, w), rel=1e-9, abs=1e-12)


@given(st.lists(st.tuples(shares, weight), min_size=1, max_size=6), st.data())
def test_a_more_welcome_value_never_lowers_the_score(pairs, data):
    d, w = np.array(pairs).T
    place = data.draw(st.integers(0, len(d) - 1))
    better = d.copy()
    better[place] = data.draw(st.floats(d[place], 1))
    assert overall(better, w) >= overall(d, w) - 1e-12


@given(st.lists(st.tuples(shares, weight), min_size=1, max_size=6))
def test_the_score_lies_between_the_worst_and_the_most_welcome(pairs):
    d, w = np.array(pairs).T
    assert d.min() - 1e-9 <= overall(d, w) <= d.max() + 1e-9


@given(
    st.floats(0, 50),
    st.floats(0.5, 50),
    st.floats(0.5, 50),
    st.floats(-20, 150),
    st.floats(0, 50),
    st.floats(0.2, 4),
)
def test_more_of_what_is_wished_is_never_less_welcome(low, first, second, y, step, exponent):
    target, high = low + first, low + first + second
    assume(np.isfinite(high))
    larger, smaller = wish("larger", low, high, high, exponent), wish("smaller", low, low, high, exponent)
    assert desirability(larger, y + step) >= desirability(larger, y)
    assert desirability(smaller, y + step) <= desirability(smaller, y)
    nearer = desirability(wish("target", low, target, high, exponent), target)
    assert nearer == 1 >= desirability(wish("target", low, target, high, exponent), y) >= 0


def test_the_ideal_is_not_beaten_by_what_is_firmer_than_wished():
    """45 N wished between 30 and 60: 70 N is past it, 40 N nearer; each side by its own width."""
    ideal = bearing([Wish("firmness", "target", 30.0, 45.0, 60.0, weight=3.0)], "firmness")
    stands = merit(ideal, np.array([45.0, 70.0, 40.0, np.nan]))
    assert stands[:3] == pytest.approx([0.0, -25 / 15, -5 / 15])
    assert np.isnan(stands[3])
    lopsided = Wish("firmness", "target", 30.0, 40.0, 60.0)
    assert merit(lopsided, np.array([35.0, 50.0])) == pytest.approx([-0.5, -0.5])


def test_without_a_wish_more_is_better_and_smaller_is_its_opposite():
    values = np.array([1.0, 2.0, 3.0])
    larger = [Wish("size", "larger", 50.0, 70.0, 70.0)]
    assert bearing(larger, "size") is bearing(larger, "sugar") is None
    assert merit(None, values).tolist() == values.tolist()
    smaller = bearing([Wish("size", "smaller", 50.0, 50.0, 70.0)], "size")
    assert merit(smaller, values).tolist() == (-values).tolist()
    # What it weighs is no matter, so that moving a weight leaves who beats whom as it is.
    assert smaller == bearing([Wish("size", "smaller", 40.0, 40.0, 60.0, weight=9.0)], "size")
