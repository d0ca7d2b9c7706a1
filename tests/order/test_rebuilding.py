"""An order taken apart and built anew: it keeps what it has to keep, and is the same again."""

from __future__ import annotations

import time

import numpy as np
import pytest

from dashboard.order.rebuilding import Rebuilding
from dashboard.order.relaxed import relaxed
from tests.order.orders import made


def rebuilt(seed: int, least: int = 0, **asked) -> tuple:
    """A task, an order of far too much, and the last of what it is rebuilt to."""
    task = made(seed, cultivars=5, weeks=4, largest=30, **asked)
    found = relaxed(task)
    start = np.minimum(np.ceil(found.ordered).astype(int) + 2, task.useful)
    few = np.minimum(start, least)
    many = Rebuilding(task, found.lines.copy(), start, task.useful, few, found.dear)
    *_, last = many.orders(time.monotonic() + 20, 400)
    return task, found, start, last


@pytest.mark.parametrize("seed", range(6))
def test_a_rebuilt_order_is_cheaper_and_keeps_all_promises(seed):
    task, found, start, last = rebuilt(seed)
    assert task.keeps(last)
    assert (last <= task.useful).all()
    assert found.bound - 1e-6 <= task.cost @ last < task.cost @ start
    assert (rebuilt(seed)[-1] == last).all()


def test_what_has_to_stay_stays():
    assert (rebuilt(1, least=2)[-1] >= 2).all()
    assert (rebuilt(1)[-1] < 2).any()
