"""An order keeps to its time; where none keeps all promises, what is said to help does help."""

from __future__ import annotations

import time

import numpy as np
import pytest

from dashboard.order import ordering
from dashboard.order.easing import short
from tests.order.orders import made

LATE = 2.0  # seconds that a solver may take to hear that its time is up


def best(task, seconds=3.0):
    *_, found = ordering(task, seconds, 0.0005)
    return found


@pytest.mark.alike(3)
@pytest.mark.parametrize("asked", [{}, {"most_cultivars": 8, "least_lot": 10}, {"most_trees": 300}])
@pytest.mark.parametrize("seconds", [0.2, 1.0])
def test_it_ends_in_time(asked, seconds):
    task = made(11, cultivars=60, weeks=10, seasons=100, largest=40, **asked)
    began = time.process_time()
    list(ordering(task, seconds, 0.0))
    assert time.process_time() - began < seconds + LATE


def test_too_little_land_is_told_with_how_much_would_do():
    free = best(made(3))
    task = free.task.asking(most_trees=5)
    assert best(task).bundles is None
    found = short(task, 6.0)
    assert found.trees > 5
    assert best(task.asking(most_trees=found.trees)).bundles is not None
    assert 0 <= found.part < 1
    assert max(found.missing.fill.max(), found.missing.worst.max()) > 0


def test_the_part_that_can_be_kept_is_kept():
    free = best(made(3, cultivars=5, weeks=4))
    task = free.task.asking(most_trees=0.6 * free.task.trees(free.bundles).sum())
    found = short(task, 6.0)
    kept = np.concatenate(task.told(found.ordered.bundles))
    asked = np.minimum(found.part * np.repeat([task.fill, task.worst], 4), task.promised)
    assert found.part > 0
    assert (kept >= asked - 1e-6).all()
    assert task.trees(found.ordered.bundles).sum() <= task.most_trees


def test_a_share_that_stands_in_the_way_is_told_with_one_that_would_do():
    task = made(0, cultivars=5, weeks=4, most_share=0.25)
    assert best(task.asking(most_share=1.0)).bundles is not None
    assert best(task).bundles is None
    found = short(task, 6.0)
    assert found.largest > 0.25
    assert best(task.asking(most_share=found.largest)).bundles is not None


def test_too_few_cultivars_are_told_with_how_many_would_do():
    task = made(4, cultivars=6, weeks=5, largest=30, most_cultivars=1)
    assert best(task).bundles is None
    found = short(task, 6.0)
    assert found.cultivars > 1
    assert best(task.asking(most_cultivars=found.cultivars)).bundles is not None
