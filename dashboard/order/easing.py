"""Where no order keeps every promise: what part of them can be kept, and which one thing would help: land, more cultivars, a larger share of one, less promised."""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from dashboard.order.task import Promises, Task
from dashboard.order.whole import Ordered, ordering

SECONDS = 40.0
SHARES = 3  # halvings of the largest share
TRIES = 5  # halvings: the part of the promises is told to 1/32


@dataclass(frozen=True, eq=False)
class Short:
    """``part`` of every promise can be kept (0 where nothing was found) by ``ordered``, the order found for it; ``trees`` with which all promises would be kept if the land
    held them, ``cultivars`` if so many were allowed, and ``largest`` if one cultivar could have so large a share of them (None: would not help, or was not found in the time)."""

    task: Task
    part: float
    ordered: Ordered | None
    trees: int | None
    cultivars: int | None
    largest: float | None = None
    proven: bool = False  # that no order keeps all promises; else none was found in the time

    @property
    def missing(self) -> Promises:
        """By week, what that order lacks of what was promised."""
        asked = np.zeros((2, len(self.task.wanted)))
        asked[:, self.task.weeks] = self.task.promised.reshape(2, -1)
        if self.ordered is None or self.ordered.bundles is None:
            return Promises(*asked)
        return Promises(*np.maximum(asked - np.array(self.task.told(self.ordered.bundles)), 0))


Left = Callable[[], float]


def short(task: Task, seconds: float = SECONDS, proven: bool = False) -> Short:
    """For a task that ``ordering`` found no order for (or proved that there is none), in about so many seconds."""
    until, each = time.monotonic() + seconds, seconds / (TRIES + 5 + SHARES * (task.most_share < 1))
    left = lambda: min(each, until - time.monotonic())  # noqa: E731
    part, kept = _part(task, left)
    trees = None
    if np.isfinite(task.most_trees):
        least = _found(task.asking(most_trees=np.inf, price=np.ones(len(task.price))), 2 * left(), gap=0.02)
        trees = None if least is None else round(least.cost)
    return Short(task, part, kept, trees, _cultivars(task, left), _largest(task, left), proven)


def part_kept(task: Task, seconds: float) -> float:
    """Of every promise, as far as was found in so many seconds."""
    until, each = time.monotonic() + seconds, seconds / TRIES
    return _part(task, lambda: min(each, until - time.monotonic()))[0]


def _part(task: Task, left: Left) -> tuple[float, Ordered | None]:
    low, high, kept = 0.0, 1.0, None
    for _ in range(TRIES):
        part = (low + high) / 2
        found = _found(task.asking(fill=part * task.fill, worst=part * task.worst), left())
        low, high = (low, part) if found is None else (part, high)
        kept = kept if found is None else found
    return low, kept


def _cultivars(task: Task, left: Left) -> int | None:
    """The fewest that were found to do, more than are allowed."""
    if task.most_cultivars is None:
        return None
    free = _found(task.asking(most_cultivars=None), left())
    if free is None or free.bundles is None:
        return None
    low, high = task.most_cultivars, int((task.trees(free.bundles) > 0).sum())
    while high - low > 1 and left() > 0:
        middle = (low + high) // 2
        low, high = (low, middle) if _found(task.asking(most_cultivars=middle), left()) else (middle, high)
    return high


def _largest(task: Task, left: Left) -> float | None:
    """The smallest share of one cultivar that was found to do, in whole per cent."""
    if task.most_share >= 1:
        return None
    free = _found(task.asking(most_share=1.0), left())
    if free is None or free.bundles is None:
        return None
    trees = task.trees(free.bundles)
    low, high = round(100 * task.most_share), math.ceil(100 * trees.max() / trees.sum())
    for _ in range(SHARES):
        middle = (low + high + 1) // 2
        if middle >= high or left() <= 0:
            break
        low, high = (low, middle) if _found(task.asking(most_share=middle / 100), left()) else (middle, high)
    return high / 100


def _found(task: Task, seconds: float, gap: float = 0.5) -> Ordered | None:
    """The last order found in the time, None where there was none."""
    best = None
    for one in ordering(task, seconds, gap) if seconds > 0 else ():
        best = one
    return best if best is not None and best.bundles is not None else None
