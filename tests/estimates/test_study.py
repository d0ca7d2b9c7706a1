"""The study in a few seconds, with bands as wide as so few data sets need; in full with  pytest -m slow."""

from __future__ import annotations

import pytest

from tests.estimates.study import CASES, rms, studied


def test_nine_of_ten_intervals_hold_in_a_few_small_trials():
    found = studied("S", 3, "size", 1.0, range(12))
    assert found.fits == 12
    # Standard error of a share over 12 data sets of about 80 linked cultivars: about .015.
    assert 0.85 <= found.value_held.mean() <= 0.95
    assert 0.82 <= found.check_held.mean() <= 0.98


def test_a_strong_trend_is_followed():
    found = studied("M", 10, "size", 3.0, range(2))
    assert 0.85 <= found.value_held.mean() <= 0.95
    assert found.gain > 1.2


def test_limits_are_cleared_about_as_often_as_foretold():
    bins = studied("H", 5, "sugar", 1.0, range(6)).shares()
    assert len(bins) == 6
    assert (bins["predicted"] - bins["cleared"]).abs().max() < 0.25
    assert bins["cleared"].is_monotonic_increasing


@pytest.mark.slow
@pytest.mark.parametrize("case", CASES, ids=lambda case: " ".join(map(str, case)))
def test_intervals_hold(case):
    found = studied(*case, range(100))
    assert found.fits == 100
    assert 0.88 <= found.value_held.mean() <= 0.92
    assert 0.88 <= found.check_held.mean() <= 0.92


@pytest.mark.slow
@pytest.mark.parametrize("case", CASES, ids=lambda case: " ".join(map(str, case)))
def test_limits_are_cleared_as_often_as_foretold(case):
    bins = studied(*case, range(100)).shares()
    assert (bins["predicted"] - bins["cleared"]).abs().max() <= 0.04


@pytest.mark.slow
@pytest.mark.parametrize("trait", ["size", "sugar"])
def test_the_model_gains_over_raw_averages(trait):
    assert studied("M", 10, trait, 1.0, range(100)).gain >= 1.35
    one, three = (studied("M", seasons, trait, 1.0, range(100)) for seasons in (1, 3))
    assert rms(one.model_error) <= rms(three.raw_error)
