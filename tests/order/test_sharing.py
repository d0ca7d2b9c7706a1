"""Fruit for two buyers beside the flow from fruit to buyers, solved as a linear program by SciPy, and every order tried."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import linprog

from dashboard.order import Task, sharing
from tests.order.orders import made
from tests.order.test_whole import cheapest, last


def for_two(seed: int, cultivars: int = 3, weeks: int = 2, **asked) -> Task:
    """A share of each cultivar's fruit suits the first buyer, a share the second, some of it both."""
    random, one = np.random.default_rng(seed), made(seed, cultivars, weeks)
    first, second = random.uniform(0, 1, (2, cultivars)) * (random.uniform(size=(2, cultivars)) < 0.8)
    either = np.maximum(np.maximum(first, second), (first + second) * random.uniform(0.5, 1, cultivars)).clip(max=1)  # fmt: skip
    supply = np.concatenate([one.supply * part[None, :, None] for part in (first, second, either)], axis=2)
    wanted = np.concatenate([one.wanted * 0.4, one.wanted * random.uniform(0.1, 0.4, weeks)])
    if seed % 4 == 0:
        wanted[0] = 0.0  # a week of one buyer alone
    alike = (wanted[:weeks] > 0) & (wanted[weeks:] > 0)
    both = np.where(alike, wanted[:weeks] + wanted[weeks:], 0)
    return one.asking(supply=supply, wanted=np.r_[wanted, both], shared=weeks, **asked)


def flow(only: np.ndarray, wanted: np.ndarray, prices=(1.0, 1.0)) -> np.ndarray:
    """(2,) of fruit that suits the first alone, the second alone and both, what each gets where all of it is worth most."""
    rows = np.array([[1, 0, 0, 0], [0, 1, 0, 0], [0, 0, 1, 1], [1, 0, 1, 0], [0, 1, 0, 1]])
    a, b = prices
    x = linprog([-a, -b, -a, -b], A_ub=rows, b_ub=np.r_[only, wanted]).x
    return np.array([x[0] + x[2], x[1] + x[3]])


@pytest.mark.parametrize("seed", range(30))
def test_what_both_could_have_is_the_greatest_flow(seed):
    only, wanted = np.random.default_rng(seed).uniform(0, 10, (2, 3))
    wanted = wanted[:2]
    brought = np.array([[only[0] + only[2], only[1] + only[2], only.sum()]])
    at = sharing.columns(np.arange(3), 1)
    both = sharing.bounds(brought, np.r_[wanted, wanted.sum()], at).min(axis=0)[0, 0]
    assert both == pytest.approx(flow(only, wanted).sum())
    assert min(brought[0, 0], wanted[0]) == pytest.approx(flow(only, wanted, (2.0, 1.0))[0])


@pytest.mark.parametrize("seed", range(20))
def test_a_split_that_keeps_to_each_seasons_fruit_fills_both_as_promised(seed):
    task = for_two(seed, cultivars=5, weeks=3)
    met = task.met(task.brought(np.random.default_rng(seed).uniform(0, 3, 5)))
    at = task.of_both
    wanted = task.wanted[task.weeks]
    told = sharing.split(met, sharing.proportion(met, wanted, at), at)
    first, second = told[:, at.first], told[:, at.second]
    assert (first <= met[:, at.first] + 1e-9).all()
    assert (second <= met[:, at.second] + 1e-9).all()
    assert (np.minimum(first, second) >= -1e-9).all()
    assert first + second == pytest.approx(met[:, at.both])
    rates = met.mean(axis=0) / wanted
    least = np.minimum.reduce([rates[at.first], rates[at.second], rates[at.both]])
    assert (first.mean(axis=0) / wanted[at.first] >= least - 1e-9).all()
    assert (second.mean(axis=0) / wanted[at.second] >= least - 1e-9).all()


@pytest.mark.parametrize("seed", range(20))
def test_a_line_is_never_below_what_two_buyers_have(seed):
    task, random = for_two(seed), np.random.default_rng(seed)
    for here, there in random.uniform(0, 5, (20, 2, 3)):
        value, slope = task.cuts(here)
        assert value == pytest.approx(task.promises(task.brought(here)))
        assert (task.promises(task.brought(there)) <= value + slope @ (there - here) + 1e-9).all()


@pytest.mark.alike(4)
@pytest.mark.parametrize("seed", range(40))
def test_no_order_for_two_buyers_is_cheaper(seed):
    task = for_two(seed)
    found, least = last(task), cheapest(task)
    assert task.keeps(found.bundles)
    assert found.cost == pytest.approx(least, rel=0.0006)
    assert found.bound <= least + 1e-6


def test_two_buyers_of_whom_each_takes_all_fruit_want_as_much_as_one_who_wants_both():
    one = made(2, cultivars=4, weeks=3)
    supply, wanted = np.tile(one.supply, (1, 1, 3)), np.r_[0.3 * one.wanted, 0.7 * one.wanted, one.wanted]
    two = one.asking(supply=supply, wanted=wanted, shared=3)
    assert two.volume[-3:].sum() == pytest.approx(1)
    assert last(two).cost == pytest.approx(last(one).cost, rel=0.001)
