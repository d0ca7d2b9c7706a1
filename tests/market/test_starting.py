"""What a limit or wish starts from: rounded quantiles of what there is, and plain figures where there is nothing."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.market import Limit, Wish
from dashboard.market.starting import ideal_between, starting_limit, starting_wish
from dashboard.terms.traits import CLASSES, TRAITS
from dashboard.terms.units import MM_PER_INCH

SIZES = [50.0, 55.0, 60.0, 65.0, 70.0, float("nan")]
estimates = st.lists(st.floats(0.001, 500) | st.just(float("nan")), max_size=12)


def test_a_limit_starts_at_a_quartile_on_the_side_that_is_worse():
    # quartiles of 50, 55, 60, 65, 70 are 55 and 65 (the second and fourth of five); 55 mm is 2.165 in, shown as 2.17
    assert starting_limit("trait", "size", SIZES, "si") == Limit("trait", "size", at_least=55.0)
    (low,) = [starting_limit("trait", "size", SIZES, "us").at_least]
    assert low == pytest.approx(2.17 * MM_PER_INCH)
    assert starting_limit("trait", "split_pit", [0.0, 10, 20, 30, 40], "si").at_most == 30
    both = starting_limit("trait", "firmness", [10.0, 20, 30, 40, 50], "si")
    assert (both.at_least, both.at_most) == (20, 40)


def test_a_wish_starts_over_the_middle_four_fifths():
    # tenths of 0 … 100 in steps of 10 are 10 and 90
    sweet = [*np.arange(0.0, 101, 10)]
    assert starting_wish("sugar", sweet, "us") == Wish("sugar", "larger", 10, 90, 90)
    assert starting_wish("cracked_tip", sweet, "us") == Wish("cracked_tip", "smaller", 10, 10, 90)
    assert starting_wish("firmness", sweet, "si") == Wish("firmness", "target", 10, 50, 90)


def test_a_class_starts_with_every_word():
    for key, (_, words) in CLASSES.items():
        assert starting_limit("class", key, (), "us") == Limit("class", key, words)


@given(st.sampled_from([*TRAITS]), estimates, st.sampled_from(["us", "si"]))
def test_whatever_was_measured_it_starts_as_a_sound_limit_and_wish(key, known, system):
    limit, wish = starting_limit("trait", key, known, system), starting_wish(key, known, system)
    bounds = [bound for bound in (limit.at_least, limit.at_most) if bound is not None]
    assert bounds == sorted(bounds)
    assert bounds
    assert wish.low < wish.high
    assert (
        wish.low < wish.target < wish.high if wish.shape == "target" else wish.target in (wish.low, wish.high)
    )


@given(st.floats(-1e3, 1e3), st.floats(1e-3, 1e3), st.sampled_from(["us", "si"]))
def test_an_ideal_lies_between_its_ends(low, apart, system):
    assert low < ideal_between("size", low, low + apart, system) < low + apart
