"""Whole bundles that keep the promises, made cheaper by exchange: one out, two out, and what does the same for less in."""

from __future__ import annotations

import math
import time

import numpy as np

from dashboard.order.task import AS_KEPT, Task


class Exchange:
    """``free`` (offers,) bundles at the most and ``least`` at the least, of those that may be ordered at all."""

    def __init__(self, task: Task, free: np.ndarray | None = None, least: np.ndarray | None = None):
        self.task, self.by = task, task.by_bundle
        self.until = math.inf
        self.free = task.useful if free is None else free
        self.least = np.zeros(len(self.free), dtype=int) if least is None else least
        self.cheap = np.argsort(task.cost, kind="stable")
        self.touches: np.ndarray = np.asarray(self.by.any(axis=1))  # (offers, weeks)

    def made(self, start: np.ndarray, until: float) -> np.ndarray | None:
        """(offers,) whole bundles near ``start`` that keep the promises and fit the land, made cheaper ``until`` then
        (``time.monotonic``); None where none was found."""
        self.until = until
        now = np.clip(np.floor(start).astype(int), self.least, self.free)
        brought = self.task.brought(now.astype(float))
        if not self.filled(now, brought):  # no time, or none of them helps by itself
            now = np.clip(np.ceil(start - 1e-9).astype(int), self.least, self.free)
            brought = self.task.brought(now.astype(float))
            if not self._keeps(brought):
                return None
        self._evened(now, brought)
        self._dropped(now, brought)
        while self._time and self._exchanged(now, brought):
            self._dropped(now, brought)
        return now if self.task.fits(now) else None

    @property
    def _time(self) -> bool:
        return time.monotonic() < self.until

    def _lack(self, brought: np.ndarray) -> np.ndarray:
        return np.maximum(self.task.promised - AS_KEPT - self.task.promises(brought), 0)

    def _keeps(self, brought: np.ndarray) -> bool:
        return self.task.keeps_of(brought)

    def _lacking_weeks(self, brought: np.ndarray) -> np.ndarray:
        return np.asarray((self._lack(brought).reshape(2, -1) > 0).any(axis=0))

    def filled(self, now: np.ndarray, brought: np.ndarray) -> bool:
        """Greedily: into ``now`` (and what it brings) goes, one at a time, the bundle that lessens most what is missing, for its money."""
        while (lack := self._lack(brought).sum()) > 0:
            if not self._time:
                return False
            weeks = self._lacking_weeks(brought)
            may = np.flatnonzero((now < self.free) & self.touches[:, weeks].any(axis=1))
            gains = [
                (lack - self._lack(brought + self.by[offer]).sum()) / self.task.cost[offer] for offer in may
            ]
            if not gains or max(gains) <= 0:
                return False
            even = np.where(self.task.even(now, may), gains, 0.0)  # who has too large a share comes last
            self._take(now, brought, may[int(np.argmax(even if even.max() > 0 else gains))], 1)
        return True

    def _evened(self, now: np.ndarray, brought: np.ndarray) -> None:
        """While some cultivar has too large a share: the tree that costs least of another."""
        every, per_tree = np.arange(len(now)), self.task.price
        while self.task.most_share < 1 and self._time and not self._shares(now):
            may = every[(now < self.free) & self.task.even(now, every)]
            if not len(may):
                return
            self._take(now, brought, may[int(np.argmin(per_tree[may]))], 1)

    def _shares(self, now: np.ndarray, out: tuple[int, ...] = (), come: int | None = None) -> bool:
        """Whether each cultivar keeps to its largest share, without a bundle of each of these and with one of that."""
        if self.task.most_share >= 1:
            return True
        then = now.copy()
        for one in out:
            then[one] -= 1
        if come is not None:
            then[come] += 1
        trees = self.task.trees(then)
        return bool(self.task.within(trees, trees.sum()).all())

    def _take(self, now: np.ndarray, brought: np.ndarray, offer: int, by: int) -> None:
        now[offer] += by
        brought += by * self.by[offer]

    def _may_go(self, now: np.ndarray) -> list[int]:
        return sorted(np.flatnonzero(now > self.least), key=lambda offer: -self.task.cost[offer])

    def _dropped(self, now: np.ndarray, brought: np.ndarray) -> None:
        for offer in self._may_go(now):
            while (
                self._time and now[offer] > self.least[offer]
                and self._shares(now, (offer,)) and self._keeps(brought - self.by[offer])
            ):  # fmt: skip
                self._take(now, brought, offer, -1)

    def _exchanged(self, now: np.ndarray, brought: np.ndarray) -> bool:
        cost, held = self.task.cost, self._may_go(now)
        for first in held:
            less = brought - self.by[first]
            if self._instead(now, brought, (first,), less, cost[first]):
                return True
            for second in held:
                twice = second == first
                if not self._time:
                    return False
                if second < first or now[second] - self.least[second] <= twice:
                    continue
                if not (self.touches[first] & self.touches[second]).any():
                    continue
                if self._instead(
                    now, brought, (first, second), less - self.by[second], cost[first] + cost[second]
                ):
                    return True
            if not self._time:
                return False
        return False

    def _instead(
        self, now: np.ndarray, brought: np.ndarray, out: tuple[int, ...], less: np.ndarray, cost: float
    ) -> bool:
        """The cheapest single bundle that does what those ``out`` did."""
        weeks = self._lacking_weeks(less)
        for offer in self.cheap:
            if self.task.cost[offer] >= cost - 1e-9:
                return False
            if now[offer] >= self.free[offer] or offer in out or not self.touches[offer, weeks].all():
                continue
            if self._shares(now, out, offer) and self._keeps(less + self.by[offer]):
                for one in out:
                    self._take(now, brought, one, -1)
                self._take(now, brought, offer, 1)
                return True
        return False
