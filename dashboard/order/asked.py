"""Whether any order of whole bundles costs so much or less: asked of whole numbers over the lines that ``relaxed`` laid (HiGHS, through SciPy).

Each line holds for every order that keeps the promises, so where none is found over them there is none. Before it is asked, lines are laid at whole
orders round the one of cut bundles; and of an offer no more can be in an order for that money than what it makes the bound dearer allows (reduced costs).
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
from scipy import sparse
from scipy.optimize import Bounds, LinearConstraint, milp

from dashboard.order.exchanging import Exchange
from dashboard.order.rebuilding import Rebuilding
from dashboard.order.relaxed import Relaxed
from dashboard.order.task import Task

MEND = 4.0  # seconds of one mending
USED = 600  # lines that are asked over, the tightest
ROUND_ABOUT = 60  # whole orders that lines are laid at first
EXACT = 1e-6  # dollars
CLOSE = 0.02  # of the cheapest over the lines, where that is looked for


class Found(NamedTuple):
    """What is known of the cheapest over the lines: a bound, and bundles if some were found."""

    bound: float
    bundles: np.ndarray | None


class Asked:
    """Any order of a task that ``start`` bounds."""

    def __init__(self, task: Task, start: Relaxed, until: float):
        self.task, self.until, self.lines = task, until, start.lines
        self.at = start.ordered if start.ordered is not None else np.zeros(len(task.of))
        self.least, self.dear = start.bound, start.dear
        self.begun = False

    @property
    def soon(self) -> float:
        """Until when one mending may go on."""
        return min(self.until, time.monotonic() + MEND)

    def beginnings(self) -> Iterator[np.ndarray | None]:
        for start in (np.floor(self.at), np.floor(self.at + 0.5)):
            yield self.mended(start)

    def mended(self, bundles: np.ndarray) -> np.ndarray | None:
        """An order near those bundles that keeps all promises."""
        return Exchange(self.task).made(bundles, self.soon)

    def between(self, order: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """(offers,) bundles that an order rebuilt from this one holds at the most and at the least."""
        return self.task.useful, np.zeros(len(order), dtype=int)

    def rebuilt(self, order: np.ndarray | None, turn: int) -> Iterator[np.ndarray]:
        """Cheaper ones than this ``order``, each turn by other chances."""
        if order is not None:
            theirs = self.lines.copy()  # what it learns is of no use to a bound
            rebuilding = Rebuilding(self.task, theirs, order, *self.between(order), self.dear, turn)
            yield from rebuilding.orders(self.until)

    def answer(self, aim: float, seconds: float) -> Found | None:
        """Bundles for ``aim`` or less over the lines, or for as little as can be where that is infinite; None where none can be."""
        offers = len(self.task.of)
        if not self.begun:
            self._round_about()
        rows, most, also = self.rows()
        if np.isfinite(aim):
            rows.append(wider(LinearConstraint(self.task.cost[None, :], 0, aim), also))
        cost = np.zeros(offers + also) if np.isfinite(aim) else np.r_[self.task.cost, np.zeros(also)]
        found = milp(
            cost, constraints=rows, integrality=np.ones(offers + also), bounds=Bounds(0, np.r_[self._most(aim), most]),
            options={"mip_rel_gap": CLOSE, "time_limit": seconds},
        )  # fmt: skip
        if found.status == 2:
            return None
        bound = found.mip_dual_bound if found.mip_dual_bound is not None else 0.0
        return Found(float(bound), None if found.x is None else np.round(found.x[:offers]))

    def rows(self, also: int = 0, used: int = USED) -> tuple[list[LinearConstraint], np.ndarray, int]:
        """What holds of bundles and, behind them, of so many numbers ``also``; how large those are at the most."""
        rows = [wider(self.lines.tightest(self.at, used), also)]
        beside, limit = self.task.limits
        if len(limit):
            rows.append(wider(LinearConstraint(beside, -np.inf, limit), also))
        return rows, np.ones(also), also

    def _round_about(self) -> None:
        self.begun, random = True, np.random.default_rng(0)
        for _ in range(ROUND_ABOUT):
            if time.monotonic() > self.until:
                return
            whole = np.floor(self.at + random.random(len(self.at)))
            self.lines.lay(np.minimum(whole, self.task.useful), near=0.001)

    def _most(self, aim: float) -> np.ndarray:
        """(offers,) bundles that an order for ``aim`` or less can hold."""
        if not np.isfinite(aim):
            return self.task.useful
        with np.errstate(divide="ignore", invalid="ignore"):
            left = np.where(self.dear > EXACT, (aim - self.least + EXACT) / self.dear, np.inf)
        return np.minimum(self.task.useful, np.floor(np.maximum(left, 0)))

    def tried(self, bundles: np.ndarray) -> Iterator[np.ndarray | None]:
        """What bundles found over the lines come to: themselves, if they keep the promises, and mended; then they are learned from."""
        if self.task.keeps(bundles):
            yield bundles.astype(int)
        mended = self.mended(bundles)
        yield mended
        self.lines.lay(bundles, near=0.002)
        self.lines.lay((bundles + self.at) / 2, near=0.002)
        if mended is not None:
            self.lines.lay((bundles + mended) / 2, near=0.002)


def wider(rows: LinearConstraint, by: int) -> LinearConstraint:
    """The same with so many more numbers that it does not ask of."""
    if not by:
        return rows
    body = sparse.csr_array(rows.A)
    return LinearConstraint(
        sparse.hstack([body, sparse.csr_array((body.shape[0], by))], format="csr"), rows.lb, rows.ub
    )
