"""The least that an order can cost if bundles could be cut: a bound, and where whole bundles are looked for.

Each promise is concave in the trees, so a line laid against it at any order is never below it. Linear programs (HiGHS, through SciPy) of
such lines are solved and sharpened in turn (Kelley 1960, Journal of SIAM 8: 703-712), also half way to an order that keeps all promises: a few hundred lines
stand for tens of thousands of season by week conditions.
"""

from __future__ import annotations

import math
import time
from dataclasses import dataclass, field

import numpy as np
from scipy import sparse
from scipy.optimize import LinearConstraint, linprog

from dashboard.order.task import Task

ROUNDS, CLOSE = 120, 5e-4
KEPT = 1200  # lines at most; the slackest go


@dataclass
class Lines:
    """``slope`` @ bundles >= ``least``, for every order that keeps the promises."""

    task: Task
    slope: list[np.ndarray] = field(default_factory=list)
    least: list[float] = field(default_factory=list)
    of: list[int] = field(default_factory=list)  # the promise each is laid against

    def lay(self, ordered: np.ndarray, near: float = 0.0) -> None:
        """Against every promise that ``ordered`` does not keep, or keeps by less than ``near``."""
        value, slope = self.task.cuts(ordered)
        for at in np.flatnonzero(value < self.task.promised + near - 1e-9):
            self.of.append(int(at))
            self.slope.append(slope[at])
            self.least.append(float(self.task.promised[at] - value[at] + slope[at] @ ordered))

    def copy(self) -> Lines:
        return Lines(self.task, list(self.slope), list(self.least), list(self.of))

    @property
    def rows(self) -> tuple[np.ndarray, np.ndarray]:
        """(lines, offers) and (lines,)."""
        return np.array(self.slope), np.array(self.least)

    def tightest(self, at: np.ndarray, most: int) -> LinearConstraint:
        rows, least = self.rows
        order = np.argsort(rows @ at - least, kind="stable")[:most]
        return LinearConstraint(sparse.csr_array(rows[order]), least[order], np.inf)

    def shed(self, at: np.ndarray) -> None:
        if len(self.least) > 1.5 * KEPT:
            order = np.argsort(np.array(self.slope) @ at - np.array(self.least), kind="stable")[:KEPT]
            self.slope = [self.slope[row] for row in order]
            self.least = [self.least[row] for row in order]
            self.of = [self.of[row] for row in order]

    def prices(self, each: np.ndarray) -> np.ndarray:
        """(promises,) summed up from those of the lines."""
        return np.bincount(self.of, each, minlength=len(self.task.promised))


@dataclass(frozen=True, eq=False)
class Relaxed:
    """``bound``: no order costs less. ``ordered`` (offers,) bundles, not whole, that keep the promises at little more; None where even those
    do not fit the land or the largest share. ``lines`` that were laid. ``dear`` (offers,) is by how much more than the bound the first bundle of an offer makes an order
    cost at the least (its reduced cost), ``prices`` (promises,) what the last hundredth of each costs, times 100 (its multiplier)."""

    bound: float
    ordered: np.ndarray | None
    lines: Lines
    dear: np.ndarray
    prices: np.ndarray


def relaxed(
    task: Task, cost: np.ndarray | None = None, most: np.ndarray | None = None, lines: Lines | None = None,
    until: float = math.inf, close: float = CLOSE,
) -> Relaxed:  # fmt: skip
    """``cost`` (offers,) of a bundle, unless what it costs is asked (trees, for the least land); ``most`` (offers,) bundles, unless all that are of
    use may be ordered; ``lines`` laid before, to which more are added; ``until`` when (``time.monotonic``) it may go on before it tells what it has, ``close`` to what part of the bound."""
    cost = task.cost if cost is None else cost
    most = (task.useful if most is None else most).astype(float)
    if lines is None:
        lines = Lines(task)
    dear, prices = np.zeros(len(most)), np.zeros(len(task.promised))
    if not task.keeps(most):
        lines.lay(most)
        return Relaxed(np.inf, None, lines, dear, prices)
    beside, limit = task.limits
    inside, now, bound = most, np.zeros(len(most)), 0.0
    for round_ in range(ROUNDS):
        lines.lay(now)
        for part in (0.4, 0.7) if round_ else ():
            lines.lay((1 - part) * inside + part * now)
        if not lines.least:
            return Relaxed(0.0, now, lines, dear, prices)  # what stands keeps every promise
        if (left := until - time.monotonic()) <= 0:
            break
        found = linprog(
            cost, A_ub=np.vstack([-np.array(lines.slope), beside]), b_ub=np.r_[-np.array(lines.least), limit],
            bounds=np.column_stack([np.zeros(len(most)), most]), method="highs", options={"time_limit": min(left, 1e6)},
        )  # fmt: skip
        if found.status == 2:  # the land, or the largest share, does not allow it
            return Relaxed(np.inf, None, lines, dear, prices)
        if found.x is None:
            break
        now = found.x
        if found.fun >= bound:
            bound, dear = float(found.fun), found.lower.marginals
            prices = lines.prices(-found.ineqlin.marginals[: len(lines.least)])
        inside = _towards(task, now, inside)
        lines.shed(now)
        if cost @ inside - bound <= close * bound:
            break
    return Relaxed(bound, inside if task.fits(inside) else now, lines, dear, prices)


def _towards(task: Task, now: np.ndarray, inside: np.ndarray) -> np.ndarray:
    """The nearest to ``now``, on the way from ``inside``, that keeps the promises."""
    kept, not_kept = 0.0, 1.0
    if task.keeps(now):
        return now
    for _ in range(24):
        part = (kept + not_kept) / 2
        if task.keeps(inside + part * (now - inside)):
            kept = part
        else:
            not_kept = part
    return inside + kept * (now - inside)
