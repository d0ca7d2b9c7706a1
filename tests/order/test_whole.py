"""The cheapest order beside every order there is, and the bound beside the cheapest."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from dashboard.order import Task, ordering
from dashboard.order.relaxed import relaxed
from tests.order.orders import made, one_cultivar


def cheapest(task: Task) -> float:
    """Every order of whole bundles tried; infinite where none keeps the promises."""
    costs = [np.inf]
    for bundles in product(*(range(most + 1) for most in task.useful)):
        order = np.array(bundles)
        trees = task.trees(order)
        kinds, lots = trees > 0, trees[trees > 0]
        if task.most_cultivars is not None and kinds.sum() > task.most_cultivars:
            continue
        if trees.max() > task.most_share * trees.sum() + 1e-9:
            continue
        if (len(lots) and lots.min() < task.least_lot) or trees.sum() > task.most_trees:
            continue
        if task.keeps(order.astype(float)):
            costs.append(float(task.cost @ order))
    return min(costs)


def last(task: Task, **how):
    *_, found = ordering(task, **{"seconds": 20, "gap": 0.0005} | how)
    return found


@pytest.mark.alike(8)
@pytest.mark.parametrize("seed", range(150))
def test_no_order_is_cheaper(seed):
    task = made(seed)
    found, least = last(task), cheapest(task)
    assert task.keeps(found.bundles)
    assert found.cost == pytest.approx(least, rel=0.0006)
    assert found.bound <= least + 1e-6


@pytest.mark.alike(4)
@pytest.mark.parametrize("seed", range(40))
def test_with_few_cultivars_and_least_lots_no_order_is_cheaper_than_the_bound(seed):
    task = made(seed, most_cultivars=2, least_lot=10)
    found, least = last(task, seconds=3), cheapest(task)
    if not np.isfinite(least):
        assert found.bundles is None
        return
    assert found.bound <= least + 1e-6
    if found.bundles is not None:
        trees = task.trees(found.bundles)
        assert task.keeps(found.bundles)
        assert found.cost >= least - 1e-6
        assert (trees > 0).sum() <= 2
        assert (trees[trees > 0] >= 10).all()


@pytest.mark.alike(4)
@pytest.mark.parametrize("seed", range(40))
def test_with_a_largest_share_no_order_is_cheaper(seed):
    task = made(seed, cultivars=4, largest=3, most_share=0.4)
    found, least = last(task, seconds=3), cheapest(task)
    if not np.isfinite(least):
        assert found.bundles is None
        return
    trees = task.trees(found.bundles)
    assert task.keeps(found.bundles)
    assert trees.max() <= 0.4 * trees.sum() + 1e-9
    assert found.cost == pytest.approx(least, rel=0.0006)
    assert found.bound <= least + 1e-6


@pytest.mark.alike(2)
@pytest.mark.parametrize("seed", range(20))
def test_no_order_takes_more_land_than_there_is(seed):
    free = last(made(seed))
    task = made(seed, most_trees=free.task.trees(free.bundles).sum() - 1)
    found, least = last(task, seconds=3), cheapest(task)
    assert found.bound <= least + 1e-6
    assert found.bundles is None or task.trees(found.bundles).sum() <= task.most_trees
    assert np.isfinite(least) or found.bundles is None


def test_one_cultivar_and_one_week_are_ordered_as_the_closed_form_says():
    """With a yield uniform between 0 and 1 the mean share met is 1 - d / 2n, so 95 % of 100 takes n = 1,000 trees; exact arithmetic."""
    uniform = (np.arange(500) + 0.5) / 500
    task = one_cultivar(uniform, 100.0, worst=0.0)
    assert relaxed(task).ordered[0] == pytest.approx(1000, rel=0.002)
    assert last(task).bundles[0] == pytest.approx(1000, rel=0.002)


def test_trees_that_stand_already_are_not_bought_again():
    task = made(3)
    found = last(task)
    assert last(task.asking(standing=task.trees(found.bundles))).cost == 0


def test_each_better_order_is_no_dearer_and_each_bound_no_lower():
    told = list(ordering(made(5, cultivars=6, weeks=4, largest=30), seconds=5, gap=0.0001))
    costs, bounds = [one.cost for one in told], [one.bound for one in told]
    assert costs == sorted(costs, reverse=True)
    assert bounds == sorted(bounds)
