"""Who is not beaten: the published cars, and any table against the plain definition."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.market import Contest, dominance, not_beaten

CARS = pd.read_csv(Path(__file__).parents[1] / "reference" / "mtcars.csv", index_col="model")


def test_seven_cars_are_not_beaten_in_mileage_and_power():
    standing = CARS.index[not_beaten(CARS, {"mpg": "more", "hp": "more"})]
    # Printed in the vignette of the R package rPref.
    assert set(standing) == {
        "Merc 450SL",
        "Fiat 128",
        "Toyota Corolla",
        "Lotus Europa",
        "Ford Pantera L",
        "Ferrari Dino",
        "Maserati Bora",
    }


def test_two_cars_are_not_beaten_in_mileage_and_lightness():
    assert set(CARS.index[not_beaten(CARS, {"mpg": "more", "wt": "less"})]) == {
        "Toyota Corolla",
        "Lotus Europa",
    }


def test_exact_ties_all_stay():
    ties = pd.DataFrame({"a": [1.0, 1.0, 0.0], "b": [2.0, 2.0, 2.0]})
    assert not_beaten(ties, {"a": "more", "b": "more"}).tolist() == [True, True, False]


def test_a_row_with_a_gap_is_not_in_and_beats_nobody():
    gaps = pd.DataFrame({"a": [9.0, 1.0], "b": [np.nan, 1.0]})
    assert not_beaten(gaps, {"a": "more", "b": "more"}).tolist() == [False, True]


@pytest.mark.parametrize("rows", [0, 1])
def test_no_row_and_one_row(rows):
    frame = pd.DataFrame({"a": [1.0] * rows})
    assert not_beaten(frame, {"a": "less"}).tolist() == [True] * rows


def test_a_direction_that_is_not_one_is_refused():
    with pytest.raises(ValueError, match="more or less"):
        not_beaten(CARS, {"mpg": "depends"})


value = st.one_of(st.integers(0, 4).map(float), st.just(np.nan))  # few values, so that ties are common


@given(st.lists(st.tuples(value, value, value), max_size=30))
def test_any_table_agrees_with_the_plain_definition(rows):
    frame = pd.DataFrame(rows, columns=["a", "b", "c"], dtype=float)
    points = frame.to_numpy() * [1, -1, 1]
    expected = [
        not np.isnan(mine).any()
        and not any((other >= mine).all() and (other > mine).any() for other in points)
        for mine in points
    ]
    assert not_beaten(frame, {"a": "more", "b": "less", "c": "more"}).tolist() == expected


def test_two_thousand_rows_taken_in_parts_agree_with_the_plain_definition():
    frame = pd.DataFrame(np.random.default_rng(7).normal(size=(2_000, 2)).round(1), columns=["a", "b"])
    points = frame.to_numpy()
    expected = [not ((points >= mine).all(axis=1) & (points > mine).any(axis=1)).any() for mine in points]
    assert not_beaten(frame, {"a": "more", "b": "more"}).tolist() == expected


@given(st.lists(st.tuples(value, value, value), min_size=1, max_size=12), st.integers(1, 4), st.randoms())
def test_the_chance_is_the_share_of_draws_in_which_it_is_so(rows, count, random):
    draws = np.array([random.sample(rows, len(rows)) for _ in range(count)], dtype=float)
    signs = {"a": "more", "b": "less", "c": "more"}
    each = [not_beaten(pd.DataFrame(draw, columns=list(signs)), signs) for draw in draws]
    contest = Contest(draws.transpose(2, 0, 1), [1, -1, 1])
    assert contest.chance(np.ones(len(rows), dtype=bool)) == pytest.approx(np.mean(each, axis=0))
    some = np.array([random.random() < 0.5 for _ in rows])
    alone = [not_beaten(pd.DataFrame(draw[some], columns=list(signs)), signs) for draw in draws]
    assert contest.chance(some)[some] == pytest.approx(np.mean(alone, axis=0))
    assert (contest.chance(some)[~some] == 0).all()


def test_without_doubt_the_chance_is_0_or_1_for_the_published_cars():
    points = CARS[["mpg", "hp"]].to_numpy(dtype=float).T[:, None, :]
    sure = Contest(points, [1, 1]).chance(np.ones(len(CARS), dtype=bool))
    assert sure.tolist() == not_beaten(CARS, {"mpg": "more", "hp": "more"}).astype(float).tolist()
    assert Contest(points[:, :, :0], [1, 1]).chance(np.zeros(0, dtype=bool)).size == 0


def test_of_many_rows_no_more_draws_are_kept_than_fit(monkeypatch):
    monkeypatch.setattr(dominance, "LARGEST", 3 * 40 * 40 // 8)
    drawn = np.random.default_rng(5).normal(size=(2, 10, 40))
    assert Contest(drawn, [1, 1]).chance(np.ones(40, dtype=bool)) == pytest.approx(
        Contest(drawn[:, :3], [1, 1]).chance(np.ones(40, dtype=bool))
    )
