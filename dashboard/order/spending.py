"""The most fruit that money and land buy: the mean share of the season's volume that is met, as large as it can be, and how far from that at the most.

What is met in a week is concave in the trees, so a line laid against it at any order is never below it (as in ``relaxed``): linear programs over
such lines, a week each, bound what any order for the money can bring; whole bundles are bought by what they add for their price, exchanged, and tried by branch and
bound over the same lines.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, linprog, milp

from dashboard.order.task import Task

ROUNDS, CLOSE = 60, 2e-4
WORTH = 1e-4  # of the season's volume: a bundle that adds less is not bought
ROUND, LAST = 8.0, 0.1  # seconds of one branch and bound, and below which none is begun


@dataclass(frozen=True, eq=False)
class Spent:
    """``bundles`` (offers,) of the best order so far; the share of the season's volume that is ``met`` by it, the ``bound`` that no order for this money and
    land exceeds, and the ``seconds`` it took."""

    task: Task
    bundles: np.ndarray
    met: float
    bound: float
    seconds: float

    @property
    def cost(self) -> float:
        return float(self.task.cost @ self.bundles)

    @property
    def gap(self) -> float:
        """How much more another order could bring, at the most: 0.01 is 1 % more."""
        return max(self.bound / self.met - 1, 0.0) if self.met else float(self.bound > WORTH)


def spending(
    task: Task, money: float, seconds: float, gap: float, longest: float = np.inf
) -> Iterator[Spent]:
    """Better and better orders that cost ``money`` (infinite where only land lacks) at the most and fit the land, for so many seconds; whoever asks for no further one keeps the best so far."""
    began = time.monotonic()
    until, spent = began + seconds, lambda: time.monotonic() - began
    buying = _Buying(task, money)
    at, bound = buying.relaxed(began + seconds / 2)
    best = buying.bought(np.floor(at + 1e-9).astype(int), until)
    now = Spent(task, best, buying.met(best), bound, spent())
    yield now
    while now.gap > gap and (left := until - time.monotonic()) > LAST:
        inner, found = buying.branched(min(ROUND, left, longest), gap)
        bound = min(bound, inner)
        if found is not None:
            buying.lay(found)
            best = max(best, found.astype(int), buying.bought(found.astype(int), until), key=buying.met)
        now = Spent(task, best, buying.met(best), bound, spent())
        yield now
        if found is None:
            return


class _Buying:
    """Lines against what is met, week by week, and what may be bought."""

    def __init__(self, task: Task, money: float) -> None:
        self.task, self.weeks = task, len(task.weeks)
        self.money = min(money, float(task.cost @ task.useful))  # more buys nothing
        self.volume = task.volume
        self.slope: list[np.ndarray] = []
        self.most: list[float] = []
        self.week: list[int] = []

    def met(self, bundles: np.ndarray) -> float:
        """The mean share of the season's volume."""
        return float(self.task.promises(self.task.brought(bundles.astype(float)))[: self.weeks] @ self.volume)

    def lay(self, bundles: np.ndarray) -> None:
        value, slope = self.task.cuts(bundles.astype(float))
        for week in range(self.weeks):
            self.slope.append(slope[week])
            self.most.append(float(value[week] - slope[week] @ bundles))
            self.week.append(week)

    def _rows(self) -> tuple[np.ndarray, np.ndarray]:
        """What holds of (bundles, share met by week): each line, the money, the land, the largest share."""
        offers, lines = len(self.task.of), len(self.most)
        beside, limit = self.task.limits
        rows, most = np.zeros((lines + 1 + len(limit), offers + self.weeks)), np.zeros(lines + 1 + len(limit))
        rows[:lines, :offers] = -np.array(self.slope)
        rows[np.arange(lines), offers + np.array(self.week)] = 1.0
        most[:lines] = self.most
        rows[lines, :offers], most[lines] = self.task.cost, self.money
        rows[lines + 1 :, :offers], most[lines + 1 :] = beside, limit
        return rows, most

    def relaxed(self, until: float) -> tuple[np.ndarray, float]:
        """(offers,) bundles, not whole, that bring nearly the most, and the share that none exceeds."""
        offers = len(self.task.of)
        aim = np.r_[np.zeros(offers), -self.volume]
        best, bound = np.zeros(offers), 1.0
        self.lay(best)
        for _ in range(ROUNDS):
            rows, most = self._rows()
            limits = np.c_[np.zeros(offers + self.weeks), np.r_[self.task.useful, np.ones(self.weeks)]]
            found = linprog(aim, A_ub=rows, b_ub=most, bounds=limits, method="highs")
            if found.x is None:
                break
            bound, now = min(bound, -float(found.fun)), found.x[:offers]
            best = max((best, now, (best + now) / 2), key=self.met)
            if bound - self.met(best) <= CLOSE * bound or time.monotonic() > until:
                break
            self.lay(now)
            self.lay((best + now) / 2)
        return self._cheapest(best), bound

    def _cheapest(self, best: np.ndarray) -> np.ndarray:
        """What brings nearly as much as ``best`` for the least money: more money than helps is not spent."""
        offers, nearly = len(self.task.of), self.met(best) - CLOSE
        self.lay(best)
        rows, most = self._rows()
        found = linprog(
            np.r_[self.task.cost, np.zeros(self.weeks)], A_ub=np.vstack([rows, np.r_[np.zeros(offers), -self.volume]]), b_ub=np.r_[most, -nearly],
            bounds=np.c_[np.zeros(offers + self.weeks), np.r_[self.task.useful, np.ones(self.weeks)]], method="highs",
        )  # fmt: skip
        return best if found.x is None or self.met(found.x[:offers]) < nearly - CLOSE else found.x[:offers]

    def branched(self, seconds: float, gap: float) -> tuple[float, np.ndarray | None]:
        """A bound over whole bundles, and those that reach it over the lines, if any were found in the time."""
        offers = len(self.task.of)
        rows, most = self._rows()
        found = milp(
            np.r_[np.zeros(offers), -self.volume], constraints=LinearConstraint(rows, -np.inf, most),
            integrality=np.r_[np.ones(offers), np.zeros(self.weeks)], bounds=Bounds(0, np.r_[self.task.useful, np.ones(self.weeks)]),
            options={"mip_rel_gap": gap / 3, "time_limit": seconds},
        )  # fmt: skip
        bound = 1.0 if found.mip_dual_bound is None else -float(found.mip_dual_bound)
        return bound, None if found.x is None else np.round(found.x[:offers])

    def bought(self, start: np.ndarray, until: float) -> np.ndarray:
        """(offers,) whole bundles: ``start``, then what adds most for its price while there is money, then one out and another in where that adds."""
        now = start.copy()
        about = float(
            self.task.bundle @ start
        )  # trees it comes to: no cultivar has more than its share of so many
        self._filled(now, until, about)
        while time.monotonic() < until and self._exchanged(now, until, about):
            self._filled(now, until, about)
        if self.task.most_share < 1:
            self._evened(now)
            self._filled(now, until)
        return now

    def _evened(self, now: np.ndarray) -> None:
        """A bundle less, the dearest, of whoever has the largest share, while that is too large."""
        while not self.task.within(trees := self.task.trees(now), trees.sum()).all():
            theirs = np.flatnonzero((self.task.of == int(np.argmax(trees))) & (now > 0))
            now[theirs[int(np.argmax(self.task.price[theirs]))]] -= 1

    def _left(self, now: np.ndarray) -> tuple[float, float]:
        return self.money - self.task.cost @ now + 1e-9, self.task.most_trees - self.task.bundle @ now

    def _may(self, now: np.ndarray, about: float) -> np.ndarray:
        money, trees = self._left(now)
        may = np.flatnonzero(
            (now < self.task.useful) & (self.task.cost <= money) & (self.task.bundle <= trees)
        )
        theirs = self.task.trees(now)[self.task.of[may]] + self.task.bundle[may]
        within = self.task.within(theirs, about)
        return may[within | self.task.even(now, may)]

    def _adds(self, brought: np.ndarray, may: np.ndarray) -> np.ndarray:
        """(of those who may,) how much of the season's volume one bundle more brings."""
        worth, met = self.volume / self.task.wanted[self.task.weeks], self.task.met(brought)
        more = [self.task.met(brought + self.task.by_bundle[one]) - met for one in may]
        return np.array([one.mean(axis=0) @ worth for one in more])

    def _filled(self, now: np.ndarray, until: float, about: float = 0.0) -> None:
        while time.monotonic() < until and len(may := self._may(now, about)):
            adds = self._adds(self.task.brought(now.astype(float)), may)
            best = int(np.argmax(adds / self.task.cost[may]))
            if adds[best] < WORTH:
                return
            now[may[best]] += 1

    def _exchanged(self, now: np.ndarray, until: float, about: float) -> bool:
        """Whether one bundle gave way to another that brings more."""
        had = self.met(now)
        for out in np.flatnonzero(now):
            if time.monotonic() > until:
                return False
            now[out] -= 1
            may = self._may(now, about)
            adds = self._adds(self.task.brought(now.astype(float)), may)
            best = int(np.argmax(adds)) if len(may) else -1
            if best >= 0 and may[best] != out and self.met(now) + adds[best] > had + WORTH:
                now[may[best]] += 1
                return True
            now[out] += 1
        return False
