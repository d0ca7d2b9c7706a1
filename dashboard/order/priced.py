"""The least an order can cost over all seasons there are, not only over those it was made for.

Let g(x) be the promises over all seasons, p what they have to reach, w >= 0 any prices. Whoever keeps them pays c x >= c x + w (p - g(x)), so the least of the
right side is a bound. Over drawn seasons that least is on average no larger, as the mean of a least is no larger than the least of a mean, and the worst fifth is one
too (a largest value over all levels). So it is worked out over several draws; its mean less Student's t times its error is a bound at the chance wanted: Mak, Morton &
Wood (1999, Operations Research Letters 24: 47-56), with promises made part of the cost. The prices are those of the order's own seasons, which are none of these draws.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
from scipy import sparse
from scipy.optimize import linprog
from scipy.special import stdtrit

from dashboard.order.relaxed import Relaxed
from dashboard.order.task import Task

ROUNDS, CLOSE = 60, 2e-3
SURE = 0.95


def sampled(task: Task, found: Relaxed, draws: Iterable[Task]) -> tuple[float, float]:
    """What no order costs less than, at the chance ``SURE``, and the mean it comes from. ``draws`` are the same task over other seasons, drawn by themselves."""
    leasts = np.array([priced(task, found, one) for one in draws])
    error = leasts.std(ddof=1) / math.sqrt(len(leasts))
    return float(leasts.mean() - stdtrit(len(leasts) - 1, SURE) * error), float(leasts.mean())


def priced(task: Task, found: Relaxed, drawn: Task) -> float:
    """A bound from below on the least of cost and what promises lack over the seasons ``drawn``, at the prices ``found``; bundles may be cut."""
    kept, offers = np.flatnonzero(found.prices > 0), len(task.of)
    prices, most = found.prices[kept], task.useful.astype(float)
    aim, beside = np.r_[task.cost, -prices], task.limits
    limits = np.c_[np.zeros(offers + len(kept)), np.r_[most, np.ones(len(kept))]]
    slope, least, best, bound = [], [], np.inf, 0.0
    start = found.ordered if found.ordered is not None else most
    points = [part * start for part in (0.5, 0.8, 0.95, 1.0, 1.1, 1.3)]
    for _ in range(ROUNDS):
        for point in points:
            value, moves = drawn.cuts(point)
            slope.append(np.hstack([-moves[kept], np.eye(len(kept))]))
            least.append((value - moves @ point)[kept])
            cost = float(task.cost @ point - prices @ value[kept])
            if cost < best:
                best, inside = cost, point
        rows = sparse.csr_array(np.vstack([*slope, np.pad(beside[0], ((0, 0), (0, len(kept))))]))
        lowest = linprog(aim, A_ub=rows, b_ub=np.r_[*least, beside[1]], bounds=limits, method="highs")
        if lowest.x is None:
            break
        bound = float(lowest.fun)
        now = lowest.x[:offers]
        if best - bound <= CLOSE * abs(best + prices @ task.promised[kept]):
            break
        points = [now, (now + inside) / 2, 0.8 * inside + 0.2 * now]
    return bound + float(prices @ task.promised[kept])
