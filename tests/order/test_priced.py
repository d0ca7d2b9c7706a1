"""The least cost over all seasons, beside the closed form of one cultivar in one week and the bound over the seasons themselves."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.order.priced import priced, sampled
from dashboard.order.relaxed import relaxed
from tests.order.orders import made, one_cultivar


def test_a_bound_over_all_seasons_holds_as_often_as_it_says():
    """Yields uniform between 0.5 and 1, 95 % of 100 promised: the trees that takes over 20,000 evenly spread yields. The bound may pass their cost in 1 of 20 tries."""
    grid = (np.arange(20_000) + 0.5) / 40_000 + 0.5
    trees = np.arange(80, 200, 0.1)
    met = np.array([np.minimum(100.0, one * grid).mean() for one in trees])
    least = 9.0 * trees[np.argmax(met >= 95)]
    random, passed, nearest = np.random.default_rng(3), 0, 0.0
    for _ in range(40):
        first, *others = (one_cultivar(random.uniform(0.5, 1, 200), 100.0, worst=0.0) for _ in range(6))
        bound, mean = sampled(first, relaxed(first), others)
        passed += bound > least
        nearest = max(nearest, bound / least)
        assert bound < mean
    assert passed <= 5  # of 40 at 1 in 20 each: more has a chance of 1 in 75
    assert nearest > 0.97


@pytest.mark.parametrize("seed", range(8))
def test_priced_at_its_own_prices_a_task_costs_as_much_as_cut_bundles(seed):
    task = made(seed, cultivars=5, weeks=4, seasons=20, largest=30)
    found = relaxed(task)
    assert priced(task, found, task) == pytest.approx(found.bound, rel=0.01)
    assert priced(task, found, task) <= found.bound * (1 + 1e-3)


def test_prices_are_what_a_little_more_promised_costs():
    task = made(2, cultivars=5, weeks=4, seasons=40, largest=30)
    found = relaxed(task, close=1e-5)
    more = relaxed(task.asking(fill=task.fill + 0.001), close=1e-5).bound - found.bound
    assert more == pytest.approx(0.001 * found.prices[: len(task.weeks)].sum(), rel=0.1)
