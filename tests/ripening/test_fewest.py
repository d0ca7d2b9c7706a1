"""The bound holds for every set: against trying every set."""

from __future__ import annotations

import itertools
import shutil
import time
from dataclasses import replace

import numpy as np
import pytest

from dashboard.ripening.exchanging import filled
from dashboard.ripening.fewest import fewest
from dashboard.ripening.filling import Quota
from dashboard.ripening.one_day import OneDay
from tests.benchmarks.proving import Day, joined, none_of, relaxed
from tests.ripening.fruit import fewest_by_trying, generated, task


def test_no_set_is_smaller_than_the_bound_and_whole_numbers_find_the_smallest():
    """220 small tasks, every set of each tried."""
    tight = []
    for number in range(220):
        picked, asked = generated(number)
        least = fewest_by_trying(picked, asked)
        if least is None:
            continue
        relaxed, whole = fewest(asked), fewest(asked, 20.0)
        assert relaxed.least <= least
        assert relaxed.relaxed <= whole.least + 1e-6
        assert (whole.least, whole.proven, len(whole.chosen)) == (least, True, least)
        assert asked.standing(whole.chosen)[:2] == (0, 0)
        tight.append(relaxed.least == least)
    assert len(tight) > 200
    assert np.mean(tight) > 0.5


def test_every_set_that_covers_a_day_weighs_one_in_its_sharper_cut():
    """80 small tasks, every day and every set of each; parts of cultivars that no whole set has are cut off in some."""
    off = 0
    for number in range(80):
        picked, asked = generated(number)
        if asked.least > 1:
            continue
        random, count = np.random.default_rng(number), len(picked)
        sets = np.array(list(itertools.product((False, True), repeat=count)))
        for day in np.flatnonzero(asked.asked):
            seasons = ((sets.astype(np.int16) @ picked[:, day].astype(np.int16)) > 0).sum(axis=1)
            covering = sets[seasons >= asked.asked[day]]
            one = OneDay(asked.fruit[:, day], int(asked.asked[day]))
            for x in (np.zeros(count), covering.mean(axis=0), random.random(count) / 2):
                row = one.cut(x)
                assert (covering @ row).min() >= 1
                whole = np.minimum(x @ picked[:, day], 1).sum() >= asked.asked[day]
                off += whole and row @ x < 1 - 1e-3
    assert off > 20, "no sharper than counting seasons"


@pytest.mark.skipif(shutil.which("cc") is None, reason="the longer proof takes a C compiler")
def test_every_set_that_covers_a_day_weighs_one_in_a_cut_of_the_longer_proof():
    """Ten small tasks, every third day and every set of each, candidates whole or in parts; and the lightest weighs 1 and no more."""
    tight = []
    for number in range(10):
        picked, asked = generated(number)
        random, count = np.random.default_rng(number), len(picked)
        asked = replace(asked, least=1, quotas=(), kept=())
        sets = np.array(list(itertools.product((False, True), repeat=count)))
        for day in np.flatnonzero(asked.asked)[::3]:
            seasons = ((sets.astype(np.int16) @ picked[:, day].astype(np.int16)) > 0).sum(axis=1)
            covering = sets[seasons >= asked.asked[day]]
            one = Day(asked, int(day))
            for some in {one.mainstays, len(one.at), len(one.at) // 2, 0}:
                one.mainstays = some
                for cut in (one.first_cut(), one.cut(random.random(count) / count)):
                    if cut is not None:
                        least = (covering @ cut).min()
                        assert least >= 1
                        tight.append(least < 1 + 1e-3)
    assert len(tight) > 200
    assert np.mean(tight) > 0.5


@pytest.mark.skipif(shutil.which("cc") is None, reason="the longer proof takes a C compiler")
def test_the_longer_proof_finds_the_fewest_there_are():
    """Twenty small tasks with every set tried: none of one fewer, and not "none" of the fewest."""
    told = []
    for number in range(20):
        picked, asked = generated(number)
        asked = replace(asked, least=1, quotas=(), kept=())
        least = fewest_by_trying(picked, asked)
        rows, parts = relaxed(asked, time.monotonic() + 20)
        assert parts <= least + 1e-6
        assert not none_of(asked, rows, least, time.monotonic() + 20)
        told.append(none_of(asked, rows, least - 1, time.monotonic() + 20))
    assert all(told)


def test_candidates_of_two_markets_are_bounded_together():
    asked = replace(generated(3)[1], least=1, quotas=(), kept=(), worth=None)
    nothing = replace(asked, needed=asked.needed * 0)
    one, other = (replace(nothing, fruit=asked.fruit[some]) for some in (slice(0, -1), slice(1, None)))
    assert {row.tobytes() for row in joined([one, other]).fruit} == {row.tobytes() for row in asked.fruit}
    with pytest.raises(ValueError, match="one by one"):
        joined([asked, nothing])


def test_a_day_that_takes_three_of_many_alike():
    """Nine cultivars, each in four seasons of ten, no two together in eight: counting seasons two would do, it takes three."""
    random = np.random.default_rng(3)
    days = np.zeros((9, 1, 1000), dtype=bool)
    for at in range(9):
        days[at, 0, random.permutation(1000)[:400]] = True
    asked = task(days, 7)
    plain, sharper = fewest(asked), fewest(asked, 5.0)
    assert plain.relaxed < 2 - 0.2 < sharper.relaxed
    assert sharper.least == len(filled(asked)) == 3


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
