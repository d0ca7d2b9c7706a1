"""The bound holds for every set: against trying every set."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.ripening.exchanging import filled
from dashboard.ripening.fewest import fewest
from dashboard.ripening.filling import Quota
from tests.ripening.fruit import fewest_by_trying, generated, task


def test_no_set_is_smaller_than_the_bound_and_whole_numbers_find_the_smallest():
    """100 small tasks, every set of each tried."""
    tight = []
    for number in range(100):
        picked, asked = generated(number)
        least = fewest_by_trying(picked, asked)
        if least is None:
            continue
        relaxed, whole = fewest(asked), fewest(asked, 20.0)
        assert relaxed.least <= least
        assert relaxed.relaxed <= whole.least + 1e-6
        assert (whole.least, whole.proven, len(whole.chosen)) == (least, True, least)
        assert asked.standing(whole.chosen)[:2] == (0, 0)
        assert set(asked.kept) <= set(whole.chosen)
        tight.append(relaxed.least == least)
    assert len(tight) > 90
    assert np.mean(tight) > 0.5


def test_a_day_that_takes_three_of_many_alike():
    """Nine cultivars, each in four seasons of ten, no two together in eight: counting seasons two would do, it takes three."""
    random = np.random.default_rng(3)
    days = np.zeros((9, 1, 1000), dtype=bool)
    for at in range(9):
        days[at, 0, random.permutation(1000)[:400]] = True
    asked = task(days, 7)
    assert fewest(asked).relaxed < 2 - 0.2
    assert fewest(asked, 5.0).least == len(filled(asked)) == 3


def test_a_bound_worked_out_by_hand():
    """Twelve seasons; each of four has fruit on the one day in three of them that are its own: nine take three."""
    days = np.zeros((4, 1, 12), dtype=bool)
    for at in range(4):
        days[at, 0, 3 * at : 3 * at + 3] = True
    asked = task(days, 7)
    told = fewest(asked)
    assert told.relaxed == pytest.approx(3.0)
    assert told.least == 3 == len(filled(asked))


def test_a_share_that_no_set_has_is_said():
    days = np.ones((2, 1, 4), dtype=bool)
    quotas = (Quota((True, False), 0.9), Quota((False, True), 0.9))
    with pytest.raises(ValueError, match="No set can be bounded"):
        fewest(task(days, 7, quotas=quotas))


def test_nothing_to_cover_takes_nobody():
    assert fewest(task(np.zeros((3, 4, 5), dtype=bool), 8), 5.0).least == 0
