"""The order in whole bundles: the cheapest that keeps the promises, and how far from the cheapest it can be at the most.

The best order is made cheaper (``rebuilding``), then it is asked whether any costs less than it by the gap that would do (``asked``). Where there is none,
that is proven; where none is found in the time, a bound half way is asked for; bundles that are found are mended into an order that keeps every promise, and learned from.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from dashboard.order.asked import Asked
from dashboard.order.relaxed import relaxed
from dashboard.order.sparing import Sparing
from dashboard.order.task import Task

GAP, SECONDS = 0.01, 60.0
ROUND, LONGER = 15.0, 1.4  # seconds of one question, and times as much after one that was not answered
LAST = 0.1  # seconds, below which none is begun
CLOSER = 0.98  # of the gap that is asked for


@dataclass(frozen=True, eq=False)
class Ordered:
    """``bundles`` (offers,) of the best order so far, None where there is none yet; what it costs, the ``bound`` that none undercuts (infinite
    where it is proven that there is none), and the ``seconds`` it took."""

    task: Task
    bundles: np.ndarray | None
    bound: float
    seconds: float

    @property
    def cost(self) -> float:
        return np.inf if self.bundles is None else float(self.task.cost @ self.bundles)

    @property
    def gap(self) -> float:
        """How much dearer it is than it need be, at the most: 0.01 is 1 %."""
        if self.bundles is None:
            return 1.0
        return 1 - self.bound / self.cost if self.cost else 0.0


def ordering(
    task: Task, seconds: float = SECONDS, gap: float = GAP, longest: float = np.inf
) -> Iterator[Ordered]:
    """Better and better orders for so many seconds; whoever asks for no further one keeps the best so far. No question takes longer than
    ``longest`` seconds: who may be told to stop cannot hear it meanwhile."""
    began = time.monotonic()
    until, spent = began + seconds, lambda: time.monotonic() - began
    start = relaxed(task, until=began + seconds / 2)
    if start.ordered is None:
        yield Ordered(task, None, np.inf, spent())
        return
    sparing = task.most_cultivars is not None or task.least_lot > 0
    chosen, bound = (Sparing if sparing else Asked)(task, start, until), start.bound
    now = Ordered(task, None, bound, spent())
    for begin in chosen.beginnings():
        now = Ordered(task, _cheaper(task, now.bundles, begin), bound, spent())
        yield now
    slot, far, turn = min(ROUND, longest), 1.0, 0
    while now.gap > gap and until - time.monotonic() > LAST:
        before, turn = now.cost, turn + 1
        for better in chosen.rebuilt(now.bundles, turn):
            now = Ordered(task, _cheaper(task, now.bundles, better), bound, spent())
            yield now
        if now.cost < before:
            continue
        heard = True  # whether the last question was answered; else the order is rebuilt first
        while heard and now.gap > gap and (left := until - time.monotonic()) > LAST:
            aim = bound + far * (now.cost * (1 - CLOSER * gap) - bound)
            found = chosen.answer(aim, min(slot, left))
            best = now.bundles
            if found is None and best is None:
                yield Ordered(task, None, np.inf, spent())
                return
            if found is None:
                bound, far = aim, min(1.0, 2 * far)
            else:
                bound = max(bound, found.bound)
                for mended in chosen.tried(found.bundles) if found.bundles is not None else ():
                    best = _cheaper(task, best, mended)
                if found.bundles is None:
                    far, slot, heard = far / 2, min(LONGER * slot, longest), False
            cost = np.inf if best is None else float(task.cost @ best)
            now = Ordered(task, best, min(bound, cost), spent())
            yield now


def _cheaper(task: Task, best: np.ndarray | None, other: np.ndarray | None) -> np.ndarray | None:
    if other is None:
        return best
    return other if best is None or task.cost @ other < task.cost @ best - 1e-9 else best
