"""What limits say of a sample's mean: as a general library has it, and on made-up fruit whose true means are known."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from dashboard.records.past_ends import Limits, Sums, worked_in

SPREAD = 8.0  # of fruit in a sample, N


def sums(fruit: np.ndarray, read: np.ndarray) -> Sums:
    """(samples, fruit), and which were read."""
    there = np.where(read, fruit, 0.0)
    n = read.sum(axis=1).astype(float)
    with np.errstate(invalid="ignore"):
        mean = there.sum(axis=1) / n
    squares = np.where(n > 0, (np.square(fruit - mean[:, None]) * read).sum(axis=1, where=read), np.nan)
    return Sums(mean, n, squares)


def trial(seed: int, end: float, above: bool = True, cultivars: int = 30, environments: int = 5):
    """Ten fruit a sample; those past the end were not read. True means, all fruit, what was read, limits, codes."""
    chance = np.random.default_rng(seed)
    of, at = chance.normal(45, 9, cultivars), chance.normal(0, 3, environments)
    codes = [
        (one, there) for one in range(cultivars) for there in range(environments) if chance.random() < 0.7
    ]
    cultivar, environment = (np.array(one) for one in zip(*codes, strict=True))
    true = of[cultivar] + at[environment] + chance.normal(0, 4, len(codes))
    fruit = true[:, None] + chance.normal(0, SPREAD, (len(codes), 10))
    past = fruit > end if above else fruit < end
    owner = np.nonzero(past)[0]
    limits = Limits(owner, np.full(len(owner), end), np.full(len(owner), above))
    return true, fruit, sums(fruit, ~past), limits, cultivar, environment


@pytest.mark.parametrize("above", [True, False])
def test_a_sample_that_nothing_else_tells_of_has_the_likeliest_mean_of_a_general_library(above):
    """scipy's fit of censored data with the spread held (scipy.stats.CensoredData), where samples lie so far apart that none says anything of another."""
    chance = np.random.default_rng(3)
    end = 55.0 if above else 35.0
    far = chance.normal(0, 400, (40, 1)) + chance.normal(0, SPREAD, (40, 10))
    one = np.array([[41.0, 47, 50, 53, 54, 44, 49, 0, 0, 0]]) - (0 if above else 4)
    fruit = np.vstack([one, far + 45])
    read = np.ones_like(fruit, dtype=bool)
    read[0, 7:] = False
    given_ = sums(fruit, read)
    limits = Limits(np.zeros(3, dtype=int), np.full(3, end), np.full(3, above))
    found = worked_in(given_, limits, np.arange(41), np.zeros(41, dtype=int))
    sigma = np.sqrt(given_.ss[1:].sum() / 360)
    known = {"uncensored": one[0, :7], ("right" if above else "left"): np.full(3, end)}
    mean, _ = stats.norm.fit(stats.CensoredData(**known), fscale=sigma)
    assert found.mean[0] == pytest.approx(mean, abs=0.05)
    assert 7 < found.n[0] < 10
    np.testing.assert_array_equal(found.mean[1:], given_.mean[1:])


@pytest.mark.parametrize(("end", "above"), [(55, True), (48, True), (36, False)])
def test_hard_and_soft_fruit_are_not_left_out_and_what_is_told_of_a_sample_holds(end, above):
    off, before, told = [], [], []
    for seed in range(8):
        true, _, read, limits, cultivar, environment = trial(seed, end, above)
        found = worked_in(read, limits, cultivar, environment)
        some = np.unique(limits.owner)
        some = some[np.isfinite(found.mean[some])]
        off.append((found.mean - true)[some])
        told.append(off[-1] * np.sqrt(found.n[some]) / SPREAD)
        before.append((read.mean - true)[np.unique(limits.owner)])
    assert abs(np.nanmean(np.concatenate(before))) > 3.5
    assert abs(np.concatenate(off).mean()) < 0.6
    assert np.concatenate(told).std() == pytest.approx(1, abs=0.12)


def test_cultivars_that_no_gauge_reads_lean_on_the_others_and_do_not_run_away():
    _true, _, read, limits, cultivar, environment = trial(5, 44, True)
    never = [one for one in np.unique(cultivar) if not read.n[cultivar == one].any()]
    assert never
    found = worked_in(read, limits, cultivar, environment)
    theirs = np.isin(cultivar, never) & np.isfinite(found.mean)
    assert (found.mean[theirs] > 44).all()
    assert (found.mean[theirs] < 44 + 30).all()


def test_without_limits_or_without_a_spread_nothing_changes():
    _, fruit, _, limits, cultivar, environment = trial(1, 55)
    read = sums(fruit, np.ones_like(fruit, dtype=bool))
    none = Limits(*(part[:0] for part in limits))
    assert worked_in(read, none, cultivar, environment) is read
    alone = Sums(read.mean[:1], read.n[:1], read.ss[:1])
    one = Limits(np.array([0]), np.array([55.0]), np.array([True]))
    assert worked_in(alone, one, cultivar[:1], environment[:1]) is alone


@given(st.integers(0, 10_000), st.floats(30, 60), st.booleans())
def test_limits_pull_to_their_side_and_never_count_more_than_their_fruit(seed, end, above):
    _, _, read, limits, cultivar, environment = trial(seed, end, above, 8, 3)
    found = worked_in(read, limits, cultivar, environment)
    some = np.zeros(len(read.n), dtype=bool)
    some[limits.owner] = True
    both = some & (read.n > 0) & np.isfinite(found.mean)
    assert ((found.mean - read.mean)[both] * (1 if above else -1) > -1e-9).all()
    counts = np.bincount(limits.owner, minlength=len(read.n))
    assert (found.n <= read.n + counts + 1e-9).all()
    assert (found.n[both] >= read.n[both] - 1e-9).all()
    assert np.isfinite(found.mean[found.n > 0]).all()
    np.testing.assert_array_equal(found.mean[~some], read.mean[~some])
