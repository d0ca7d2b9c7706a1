"""What never passes the end of a shorter scale is told where chance would hardly do it; cultivars that are low by themselves are not."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.records.odd_scales import below

FIVE = ("A", "B", "C", "D", "E")


def rated(*parts: tuple[tuple[str, ...], tuple[int, ...]]) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Ratings, cultivars, and which are of the first part; of each part its cultivars in turn with its ratings in turn, 40 in all."""
    ratings = [figures[number % len(figures)] for _, figures in parts for number in range(40)]
    cultivar = [names[number % len(names)] for names, _ in parts for number in range(40)]
    return np.array(ratings, dtype=float), np.array(cultivar, dtype=object), np.arange(len(ratings)) < 40


@pytest.mark.parametrize(
    ("low", "high", "end"),
    [((1, 2, 3), (1, 3, 5), 3), ((3, 4, 5), (4, 7, 9), 5), ((4, 7, 10), (40, 70, 100), 10)],
)
def test_the_same_cultivars_that_others_rate_higher_are_told(low, high, end):
    found = below(*rated((FIVE, low), (FIVE, high)))
    assert found is not None
    assert (found.end, found.count, found.top) == (end, 40, max(high))


def test_one_cultivar_that_nobody_else_rated_may_be_low_however_often():
    assert below(*rated((("Z",), (3, 4, 5)), (FIVE, (4, 7, 9)))) is None


def test_of_many_that_nobody_else_rated_it_is_told():
    many = tuple(f"Z{number}" for number in range(20))
    assert below(*rated((many, (3, 4, 5)), (FIVE, (4, 7, 9)))) is not None


def test_a_cultivar_that_is_low_elsewhere_is_not():
    assert below(*rated((("Z",), (3, 4, 5)), (("Z",), (2, 4, 5)), (FIVE, (7, 8, 9)))) is None


@pytest.mark.parametrize("share", [0.3, 0.5, 0.8])
def test_parts_drawn_by_chance_are_not(share):
    chance = np.random.default_rng(1)
    cultivar = np.resize(np.array(FIVE, dtype=object), 80)
    for _ in range(200):
        ratings = np.where(chance.random(80) < share, 8.0, 4.0)
        assert below(ratings, cultivar, np.arange(80) < 20) is None
