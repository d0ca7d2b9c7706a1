"""The study in a few seconds, with bands as wide as so few data sets need; in full with  pytest -m slow."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import pytest

from dashboard.estimates.chances import FRUIT, LONG_RUN, NEXT_SEASON
from tests.estimates.study import CASES, Result, rms, sets, studied


def test_nine_of_ten_intervals_hold_in_a_few_small_trials():
    found = studied("S", 3, "size", 1.0, range(12))
    assert found.fits == 12
    # Standard error of a share over 12 data sets of about 80 linked cultivars: about .015.
    assert 0.85 <= found.value_held.mean() <= 0.95
    assert 0.82 <= found.check_held.mean() <= 0.98


@pytest.mark.slow
def test_a_strong_trend_is_followed():
    found = studied("M", 10, "size", 3.0, range(2))
    assert 0.85 <= found.value_held.mean() <= 0.95
    assert found.gain > 1.2


@pytest.mark.slow
def test_limits_are_cleared_about_as_often_as_foretold():
    bins = studied("H", 5, "sugar", 1.0, range(6)).shares()
    assert len(bins) == 6
    assert (bins["predicted"] - bins["cleared"]).abs().max() < 0.25
    assert bins["cleared"].is_monotonic_increasing


@cache
def sixty() -> Result:
    return studied("S", 5, "size", 1.0, range(60))


@pytest.mark.slow
def test_next_season_and_its_fruit_go_about_as_foretold():
    found = sixty()
    # .056 and .028 as it is; .107 and .031 where the level of seasons is left out, .029 and .092 where what is peculiar
    # to a cultivar in a season is.
    for of, band in ((NEXT_SEASON, 0.1), (FRUIT, 0.07)):
        bins = found.shares(of)
        assert (bins["predicted"] - bins["cleared"]).abs().max() < band, of


@pytest.mark.slow
def test_differences_from_checks_have_an_error_of_their_own():
    """.893 as it is, .794 with the error of one of the two alone. (What their errors share is too little to show here.)"""
    found = sixty()
    assert 0.875 <= found.check_held.mean() <= 0.925


@pytest.fixture(scope="module")
def full() -> Callable[..., Result]:
    return cache(lambda *case: studied(*case, sets(case[0])))


each_case = pytest.mark.parametrize("case", CASES, ids=lambda case: " ".join(map(str, case)))


@pytest.mark.slow
@each_case
def test_intervals_hold(full, case):
    found = full(*case)
    assert found.fits == len(sets(case[0]))
    assert 0.88 <= found.value_held.mean() <= 0.92
    assert 0.88 <= found.check_held.mean() <= 0.92


# A data set has one season to come, whose level all its cultivars share: 300 of them leave an error of .02 in a bin.
@pytest.mark.slow
@pytest.mark.parametrize(("of", "band"), [(LONG_RUN, 0.04), (NEXT_SEASON, 0.08), (FRUIT, 0.06)])
@each_case
def test_limits_are_cleared_as_often_as_foretold(full, case, of, band):
    bins = full(*case).shares(of)
    assert (bins["predicted"] - bins["cleared"]).abs().max() <= band


@pytest.mark.slow
@pytest.mark.parametrize("trait", ["size", "sugar"])
def test_the_model_gains_over_raw_averages(full, trait):
    assert full("M", 10, trait, 1.0).gain >= 1.35
    one, three = (full("M", seasons, trait, 1.0) for seasons in (1, 3))
    assert rms(one.model_error) <= rms(three.raw_error)
