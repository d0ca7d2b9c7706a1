"""With "at most so many cultivars" or a least lot each cultivar is ordered or not; then what each alone could fill of a week has to add up to what is promised.

Which are ordered is looked for by leaving out those that least is needed of, then one goes and another comes while that makes cut bundles cheaper.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from functools import cached_property

import numpy as np
from scipy import sparse
from scipy.optimize import LinearConstraint

from dashboard.order.asked import Asked
from dashboard.order.exchanging import Exchange
from dashboard.order.relaxed import KEPT, Relaxed, relaxed
from dashboard.order.task import Task

ROUGH = 0.02  # how near the cheapest an order has to be that only tells which cultivar counts least
COME = 3  # cultivars that are tried in the place of one
EXCHANGED = 0.25  # of the time at the most goes into such exchanges


class Sparing(Asked):
    """Few cultivars, a least lot of each."""

    def __init__(self, task: Task, start: Relaxed, until: float):
        super().__init__(task, start, until)
        self.cultivars = np.unique(task.of)
        self.place = np.searchsorted(self.cultivars, task.of)

    def beginnings(self) -> Iterator[np.ndarray | None]:
        now = time.monotonic()
        fewer = self._fewer((now + self.until) / 2)
        yield self.mended(fewer)
        better = self._exchanged(fewer, now + EXCHANGED * (self.until - now))
        if better is not None:
            yield self.mended(better)

    def between(self, order: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        return self._only(self._trees(order) > 0, order)

    def mended(self, bundles: np.ndarray) -> np.ndarray | None:
        """Only of the cultivars that ``bundles`` orders most of, a least lot of each."""
        task, trees = self.task, self._trees(bundles)
        kept = np.argsort(-trees, kind="stable")[: task.most_cultivars or len(trees)]
        kept = kept[trees[kept] >= max(1, task.least_lot / 2)]  # less is rather none than a whole lot
        free, least = self._only(np.isin(np.arange(len(trees)), kept), bundles)
        few = relaxed(task, most=free, lines=self.lines, until=self.soon)
        if few.ordered is None:
            return None
        made = Exchange(task, free, least).made(few.ordered, self.soon)
        return made if made is not None and self._lots(made) else None

    def rows(self, also: int = 0, used: int = KEPT) -> tuple[list[LinearConstraint], np.ndarray, int]:
        rows, most, also = super().rows(len(self.cultivars), used)
        return rows + self._spare, most, also

    def _trees(self, bundles: np.ndarray) -> np.ndarray:
        return np.bincount(self.place, bundles * self.task.bundle, minlength=len(self.cultivars))

    def _of(self, kept: np.ndarray, close: float = ROUGH, until: float | None = None) -> Relaxed:
        """Cut bundles of these cultivars alone (their places)."""
        free = np.where(np.isin(self.place, kept), self.task.useful, 0)
        return relaxed(
            self.task, most=free, lines=self.lines, until=self.until if until is None else until, close=close
        )

    def _fewer(self, until: float) -> np.ndarray:
        """Without the cultivars that least is ordered of: half of those that are too many at a time, or as many as can go."""
        now = self.at
        while time.monotonic() < until:
            trees = self._trees(now)
            held = np.flatnonzero(trees > 1e-9)
            held = held[np.argsort(trees[held], kind="stable")]
            surplus = len(held) - (self.task.most_cultivars or len(held))
            fewer = self._without(held, surplus, until) if surplus > 0 else None
            if fewer is None:
                break
            now = fewer
        return now

    def _without(self, held: np.ndarray, surplus: int, until: float) -> np.ndarray | None:
        """An order without some of those ``held`` (the smallest first), the more the better; None where each is needed."""
        tries, many = [], -(-surplus // 2)
        while many > 1:
            tries.append(held[:many])
            many //= 2
        for gone in [*tries, *held[:, None]]:
            if time.monotonic() > until:
                break
            found = self._of(np.setdiff1d(held, gone), until=until)
            if found.ordered is not None:
                return found.ordered
        return None

    def _exchanged(self, order: np.ndarray, until: float) -> np.ndarray | None:
        """One cultivar out, another in, while that is cheaper; None where nothing was."""
        held = np.flatnonzero(self._trees(order) > 1e-9)
        if len(held) > (self.task.most_cultivars or 0):
            return None
        best, better = self._of(held, until=until), None
        while time.monotonic() < until and (found := self._one_for_another(held, best, until)) is not None:
            held, best = found
            better = best.ordered
        return better

    def _one_for_another(
        self, held: np.ndarray, best: Relaxed, until: float
    ) -> tuple[np.ndarray, Relaxed] | None:
        assert best.ordered is not None
        trees = self._trees(best.ordered)
        every = np.arange(len(self.cultivars))
        for out in held[np.argsort(trees[held], kind="stable")]:
            if time.monotonic() > until:
                return None
            wide = self._of(np.setdiff1d(every, [out]), until=until)
            if wide.ordered is None:
                continue
            come = np.setdiff1d(every, held)
            come = come[np.argsort(-self._trees(wide.ordered)[come], kind="stable")][:COME]
            for one in come:
                then = np.append(held[held != out], one)
                found = self._of(then, until=until)
                if (
                    found.ordered is not None
                    and self.task.cost @ found.ordered < self.task.cost @ best.ordered * (1 - 1e-3)
                ):
                    return then, found
        return None

    @cached_property
    def _spare(self) -> list[LinearConstraint]:
        """Ordered or not: the most of an offer, the least lot, how many cultivars, and that they can fill the weeks at all."""
        task, many = self.task, len(self.cultivars)
        offers = np.arange(len(task.of))
        which = sparse.csr_array((np.ones(len(offers)), (offers, self.place)), shape=(len(offers), many))
        all_or_none = sparse.hstack(
            [sparse.eye_array(len(offers)), -which.multiply(task.useful[:, None])], format="csr"
        )
        rows = [LinearConstraint(all_or_none, -np.inf, 0)]
        if task.least_lot:
            trees = which.T.multiply(task.bundle[None, :])
            lots = sparse.hstack([trees, -task.least_lot * sparse.eye_array(many)], format="csr")
            rows.append(LinearConstraint(lots, 0, np.inf))
        if task.most_cultivars is not None:
            one = np.concatenate([np.zeros(len(offers)), np.ones(many)])
            rows.append(LinearConstraint(one[None, :], -np.inf, task.most_cultivars))
        alone, nothing = self._alone()
        weeks = len(task.weeks)
        filled = np.hstack([np.zeros((weeks, len(offers))), (alone - nothing).T])
        rows.append(LinearConstraint(filled, task.promised[:weeks] - nothing, np.inf))
        return rows

    def _alone(self) -> tuple[np.ndarray, np.ndarray]:
        """(cultivars, weeks) the share that each alone would fill with all that is of use, and (weeks,) with nothing ordered."""
        task, weeks = self.task, len(self.task.weeks)
        nothing = task.promises(task.there)[:weeks]
        alone = [
            task.promises(task.brought(np.where(self.place == at, task.useful, 0).astype(float)))[:weeks]
            for at in range(len(self.cultivars))
        ]
        return np.array(alone), nothing

    def _only(self, kept: np.ndarray, bundles: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """(offers,) bundles at the most and at the least where only cultivars that are ``kept`` are ordered, a least lot of each: where ``bundles`` has most of it."""
        free, lot = np.where(kept[self.place], self.task.useful, 0), self.task.least_lot
        least = np.zeros(len(free), dtype=int)
        for one in np.flatnonzero(kept) if lot else ():
            of = np.flatnonzero((self.place == one) & (free > 0))
            if len(of):
                most = of[int(np.argmax(bundles[of]))]
                least[most] = min(-(-lot // int(self.task.bundle[most])), free[most])
        return free, least

    def _lots(self, made: np.ndarray) -> bool:
        trees = self._trees(made)
        return bool((trees[trees > 0] >= self.task.least_lot).all())
