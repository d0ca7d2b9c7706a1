"""Cheaper whole bundles: what is ripe at about one time is taken out of an order, and something else is put there.

Some bundles go; others come one at a time, by what they lessen of what is missing for their money, shaken a little by chance; the last one or two are the
cheapest there are. That is tried on the lines of ``relaxed``, which a promise never exceeds, so most tries end there; what passes is looked at in full and,
if it falls short, laid as a line. A dearer order is gone on from now and then, less and less often (simulated annealing: Kirkpatrick, Gelatt & Vecchi 1983, Science 220: 671-680).
Counted in tries, not in seconds: the same task gives the same order, unless time ends first.
"""

from __future__ import annotations

import time
from collections.abc import Iterator

import numpy as np

from dashboard.order.relaxed import Lines
from dashboard.order.task import Task

TRIES, PER_BUNDLE = 25_000, 6  # at most, and times the square of the bundles there are
TOLD = 2_000  # tries, after which it says how far it is
OUT = (2, 8)  # bundles that go, from and below
SHAKEN, APART = 0.1, 0.7  # on the log scale, of what a bundle gives for its money; in weeks, of what goes
WARM = 0.003  # of the cost: so much dearer is gone on from at first
KEEN = 90  # offers, the least dear, of which bundles come
FREELY = 0.25  # of the tries do without the search for the last two
LINES = 600
EXACT = 1e-9


class Rebuilding:
    """Of ``order`` (offers,), which keeps its promises: ``least`` of each stay, ``free`` come at the most, and only of those that are least ``dear``."""

    def __init__(
        self, task: Task, lines: Lines, order: np.ndarray, free: np.ndarray, least: np.ndarray, dear: np.ndarray, seed: int = 0,
    ):  # fmt: skip
        self.task, self.lines = task, lines
        self.random = np.random.default_rng(seed)
        keen = np.isin(
            np.arange(len(free)), np.argsort(np.where(free > 0, dear, np.inf), kind="stable")[:KEEN]
        )
        self.some = np.flatnonzero(((free > 0) & keen) | (order > 0))
        self.cost, self.free, self.least = task.cost[self.some], free[self.some], least[self.some]
        self.by = task.by_bundle[self.some]
        mean = self.by.mean(axis=1)
        self.week = mean @ np.arange(mean.shape[1]) / np.maximum(mean.sum(axis=1), EXACT)
        self.now = order[self.some].astype(int)
        self.best = self.now.copy()
        self._tightened()

    def orders(self, until: float, tries: int = TRIES) -> Iterator[np.ndarray]:
        """(offers,) the cheapest so far, every ``TOLD`` tries, ``until`` then (``time.monotonic``)."""
        tries = min(tries, PER_BUNDLE * int(self.now.sum()) ** 2)
        for one in range(tries):
            if time.monotonic() > until:
                break
            self._tried(WARM * float(self.cost @ self.best) * (1 - one / tries))
            if one % TOLD == TOLD - 1:
                yield self._whole(self.best)
        yield self._whole(self.best)

    def _whole(self, some: np.ndarray) -> np.ndarray:
        every = np.zeros(len(self.task.of), dtype=int)
        every[self.some] = some
        return every

    def _tightened(self) -> None:
        """The lines that are tightest here, by row and by column, and what ``now`` lacks of each."""
        rows, least = self.lines.rows
        order = np.argsort(rows[:, self.some] @ self.now - least, kind="stable")[:LINES]
        self._take(rows[np.ix_(order, self.some)], least[order])

    def _take(self, rows: np.ndarray, least: np.ndarray) -> None:
        self.rows, self.bounds = np.ascontiguousarray(rows), least
        self.columns = np.ascontiguousarray(rows.T)
        self.lack = least - rows @ self.now

    def _tried(self, warm: float) -> None:
        held = np.repeat(np.arange(len(self.now)), self.now - self.least)
        many = int(self.random.integers(*OUT))
        if len(held) <= many:
            many = len(held) - 1
        if many < 1:
            return
        apart = np.abs(self.week[held] - self.week[held[self.random.integers(len(held))]])
        out = held[np.argpartition(apart + self.random.exponential(APART, len(held)), many)[:many]]
        then = self.now.copy()
        np.subtract.at(then, out, 1)
        lack = self.lack + self.columns[out].sum(axis=0)
        below = float(self.cost @ self.now) - warm * np.log(self.random.random())
        first = many + 2 if self.random.random() < FREELY else max(0, many - 2 - int(self.random.integers(2)))
        if self._filled(then, lack, first, below) and (then != self.now).any() and self.cost @ then < below:
            self._seen(then)

    def _seen(self, then: np.ndarray) -> None:
        """Gone on from, if it keeps all promises; else learned from."""
        whole = self._whole(then)
        if not self.task.fits(whole):
            return
        if self.task.keeps_of(self.task.there + np.tensordot(then, self.by, axes=(0, 0))):
            self.now = then
            if self.cost @ then < self.cost @ self.best - EXACT:
                self.best = then.copy()
            self.lack = self.bounds - self.rows @ then
        else:
            known = len(self.lines.least)
            self.lines.lay(whole.astype(float), near=0.001)
            rows = np.array(self.lines.slope[known:])[:, self.some]
            self._take(np.vstack([self.rows, rows]), np.r_[self.bounds, self.lines.least[known:]])
        if len(self.bounds) > 2 * LINES:
            self._tightened()

    def _filled(self, then: np.ndarray, lack: np.ndarray, first: int, below: float) -> bool:
        """Whether what lacks comes again for less money: so many bundles ``first``, then one or two."""
        price = self.cost * np.exp(SHAKEN * self.random.standard_normal(len(then)))
        for _ in range(first):
            missing = np.flatnonzero(lack > EXACT)
            gains = np.minimum(self.rows[missing], lack[missing, None]).sum(axis=0) / price
            gains[then >= self.free] = 0
            come = int(gains.argmax())
            if gains[come] <= 0:
                break
            then[come] += 1
            lack -= self.columns[come]
        last = self._last(then, lack, below - float(self.cost @ then))
        if last is None:
            return False
        np.add.at(then, last, 1)
        lack -= self.columns[last].sum(axis=0)
        self._dropped(then, lack)
        return True

    def _last(self, then: np.ndarray, lack: np.ndarray, below: float) -> np.ndarray | None:
        """The cheapest one or two bundles that end what lacks, for less than so much; None where none do."""
        missing = np.flatnonzero(lack > EXACT)
        if not len(missing):
            return np.array([], dtype=int)
        may = np.flatnonzero((then < self.free) & (self.cost < below))
        if not len(may):
            return None
        does, needs, cost = self.rows[np.ix_(missing, may)], lack[missing] - EXACT, self.cost[may]
        alone = may[(does >= needs[:, None]).all(axis=0)]
        found = None
        if len(alone):
            found = alone[[int(self.cost[alone].argmin())]]
            below = float(self.cost[found[0]])
        hard = needs / np.maximum(2 * does.max(axis=1), EXACT)
        if hard.max() > 1:
            return found
        rows = np.argsort(-hard, kind="stable")
        both = (does[rows[0]][:, None] + does[rows[0]] >= needs[rows[0]]) & (cost[:, None] + cost < below)
        one, other = np.nonzero(np.triu(both))
        for row in rows[1:6]:
            kept = does[row, one] + does[row, other] >= needs[row]
            one, other = one[kept], other[kept]
        kept = (does[:, one] + does[:, other] >= needs[:, None]).all(axis=0)
        kept &= (one != other) | (then[may[one]] + 2 <= self.free[may[one]])
        one, other = one[kept], other[kept]
        if not len(one):
            return found
        best = int((cost[one] + cost[other]).argmin())
        return may[[one[best], other[best]]]

    def _dropped(self, then: np.ndarray, lack: np.ndarray) -> None:
        """What is not needed any more, the dearest first."""
        held = np.flatnonzero(then > self.least)
        held = held[np.argsort(-self.cost[held], kind="stable")]
        while len(held) and (spare := (self.columns[held] <= EXACT - lack).all(axis=1)).any():
            gone = held[int(spare.argmax())]
            then[gone] -= 1
            lack += self.columns[gone]
            held = held[then[held] > self.least[held]]
