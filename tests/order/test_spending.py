"""The most fruit for the money beside every order that the money buys."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from dashboard.order import Task
from dashboard.order.spending import spending
from tests.order.orders import made, one_cultivar


def met(task: Task, bundles: np.ndarray) -> float:
    wanted = task.wanted[task.weeks]
    return float(np.minimum(task.brought(bundles.astype(float)), wanted).mean(axis=0).sum() / wanted.sum())


def most(task: Task, money: float) -> float:
    """Every order of whole bundles tried."""
    orders = (np.array(one) for one in product(*(range(most + 1) for most in task.useful)))
    return max(
        met(task, one)
        for one in orders
        if task.cost @ one <= money and task.bundle @ one <= task.most_trees
        and task.trees(one).max() <= task.most_share * task.trees(one).sum() + 1e-9
    )  # fmt: skip


def last(task: Task, money: float):
    *_, found = spending(task, money, 10, 1e-4)
    return found


@pytest.mark.parametrize("seed", range(40))
def test_no_order_for_the_money_brings_more(seed):
    land = {} if seed % 2 else {"most_trees": 25}
    task, money = made(seed, **land), 60.0 + 10 * seed
    found = last(task, money)
    assert found.cost <= money + 1e-6
    assert task.bundle @ found.bundles <= task.most_trees
    assert found.met == pytest.approx(met(task, found.bundles))
    assert found.bound >= most(task, money) - 1e-6
    assert found.met >= most(task, money) - 2e-4


@pytest.mark.parametrize("seed", range(20))
def test_with_a_largest_share_no_order_brings_more(seed):
    task, money = made(seed, cultivars=4, largest=3, most_share=0.4), 100.0 + 10 * seed
    found, best = last(task, money), most(task, money)
    trees = task.trees(found.bundles)
    assert found.cost <= money + 1e-6
    assert trees.max() <= 0.4 * trees.sum() + 1e-9
    assert found.bound >= best - 1e-6
    assert found.met >= best - 2e-4


def test_money_for_half_of_a_sure_crop_brings_half_of_it():
    task = one_cultivar(np.ones(10), wanted=100.0)
    found = last(task, 450.0)  # 50 trees at 9
    assert (found.met, found.bound) == (pytest.approx(0.5), pytest.approx(0.5))


def test_more_money_than_helps_is_not_spent():
    task = one_cultivar(np.ones(10), wanted=100.0)
    assert last(task, 1e6).cost == pytest.approx(900)


def test_no_money_buys_no_tree():
    assert not last(made(1), 1.0).bundles.any()
