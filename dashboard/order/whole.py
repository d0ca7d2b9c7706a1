"""The order in whole bundles: the cheapest that keeps the promises, and how far from the cheapest it can be at the most.

Whole numbers over the lines that ``relaxed`` laid (HiGHS, branch and bound, through SciPy) bound the cost from below, also where they are stopped; their
answers are mended into orders that keep every promise, and the lines laid there bring the next bound nearer. With "at most so many cultivars" or a least lot
each cultivar is ordered or not; then, too, what each alone could fill of a week has to add up to what is promised.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from scipy import sparse
from scipy.optimize import Bounds, LinearConstraint, milp

from dashboard.order.exchanging import Exchange
from dashboard.order.relaxed import KEPT, Relaxed, relaxed
from dashboard.order.task import Task

GAP, SECONDS = 0.01, 60.0
ROUND, MEND = 8.0, 4.0  # seconds of one branch and bound, of one mending
LAST = 0.1  # seconds, below which none is begun
ROUGH = 0.02  # how near the cheapest an order has to be that only tells which cultivar counts least
USED = 600  # lines in it, the tightest


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
    """Better and better orders for so many seconds; whoever asks for no further one keeps the best so far. No branch and bound takes longer than
    ``longest``: who may be told to stop cannot hear it meanwhile."""
    began = time.monotonic()
    until, spent = began + seconds, lambda: time.monotonic() - began
    start = relaxed(task, until=began + seconds / 2)
    if start.ordered is None:
        yield Ordered(task, None, np.inf, spent())
        return
    chosen, bound = _Chosen(task, start, until), start.bound
    now = Ordered(task, None, bound, spent())
    for begin in chosen.beginnings():
        now = Ordered(task, _cheaper(task, now.bundles, begin), bound, spent())
        yield now
    slot = ROUND
    while now.gap > gap and (left := until - time.monotonic()) > LAST:
        found = chosen.branched(min(slot, left, longest), gap)
        if found is None:
            if now.bundles is None:
                yield Ordered(task, None, np.inf, spent())
            return
        inner, bundles = found
        bound, best = max(bound, inner), now.bundles
        if bundles is None:
            slot *= 2
        else:
            if chosen.allows(bundles):
                best = _cheaper(task, best, bundles)
                slot *= 2  # nothing to learn there; more time for the branches
            mended = chosen.mended(bundles)
            best = _cheaper(task, best, mended)
            chosen.learn(bundles, mended)
        cost = np.inf if best is None else float(task.cost @ best)
        now = Ordered(task, best, min(bound, cost), spent())
        yield now


class _Chosen:
    """The whole numbers: bundles of each offer and, where it matters, whether a cultivar is ordered at all."""

    def __init__(self, task: Task, start: Relaxed, until: float):
        self.task, self.until, self.lines = task, until, start.lines
        self.sparing = task.most_cultivars is not None or task.least_lot > 0
        self.cultivars = np.unique(task.of)
        self.place = np.searchsorted(self.cultivars, task.of)
        self.at = start.ordered if start.ordered is not None else np.zeros(len(task.of))

    @property
    def soon(self) -> float:
        """Until when one mending may go on."""
        return min(self.until, time.monotonic() + MEND)

    def beginnings(self) -> Iterator[np.ndarray | None]:
        if self.sparing:
            yield self._sparing(self._fewer((time.monotonic() + self.until) / 2))
            return
        for start in (np.floor(self.at), np.floor(self.at + 0.5)):
            yield Exchange(self.task).made(start, self.soon)

    def allows(self, bundles: np.ndarray) -> bool:
        """Whether the order keeps the promises; land, shares, cultivars and lots it keeps as it comes."""
        return self.task.keeps(bundles)

    def branched(self, seconds: float, gap: float) -> tuple[float, np.ndarray | None] | None:
        """A bound and, if one was found, the bundles that reach it over the lines; None where no order can be."""
        offers, also = len(self.task.of), len(self.cultivars) if self.sparing else 0
        rows = [_wider(self.lines.tightest(self.at, KEPT if also else USED), also)]
        beside, limit = self.task.limits
        if len(limit):
            rows.append(_wider(LinearConstraint(beside, -np.inf, limit), also))
        rows += self._spare() if also else []
        most = np.concatenate([self.task.useful, np.ones(also)])
        found = milp(
            np.concatenate([self.task.cost, np.zeros(also)]), constraints=rows, integrality=np.ones(offers + also),
            bounds=Bounds(0, most), options={"mip_rel_gap": gap / 3, "time_limit": seconds},
        )  # fmt: skip
        if found.status == 2:
            return None
        bound = found.mip_dual_bound if found.mip_dual_bound is not None else 0.0
        return float(bound), None if found.x is None else np.round(found.x[:offers])

    def mended(self, bundles: np.ndarray) -> np.ndarray | None:
        return self._sparing(bundles) if self.sparing else Exchange(self.task).made(bundles, self.soon)

    def learn(self, bundles: np.ndarray, mended: np.ndarray | None) -> None:
        self.lines.lay(bundles, near=0.002)
        self.lines.lay((bundles + self.at) / 2, near=0.002)
        if mended is not None:
            self.lines.lay((bundles + mended) / 2, near=0.002)

    def _fewer(self, until: float) -> np.ndarray:
        """Without the cultivars that least is ordered of: half of those that are too many at a time, or as many as can go."""
        now = self.at
        while time.monotonic() < until:
            trees = np.bincount(self.place, now * self.task.bundle)
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
            kept = np.setdiff1d(held, gone)
            free = np.where(np.isin(self.place, kept), self.task.useful, 0)
            found = relaxed(self.task, most=free, lines=self.lines, until=until, close=ROUGH)
            if found.ordered is not None:
                return found.ordered
        return None

    def _spare(self) -> list[LinearConstraint]:
        """Ordered or not: the most of an offer, the least lot, how many cultivars, and that they can fill the weeks at all."""
        task, many = self.task, len(self.cultivars)
        offers = np.arange(len(task.of))
        which = sparse.csr_array((np.ones(len(offers)), (offers, self.place)), shape=(len(offers), many))
        rows = [
            LinearConstraint(
                sparse.hstack(
                    [sparse.eye_array(len(offers)), -which.multiply(task.useful[:, None])], format="csr"
                ),
                -np.inf,
                0,
            )
        ]
        if task.least_lot:
            trees = which.T.multiply(task.bundle[None, :])
            rows.append(
                LinearConstraint(
                    sparse.hstack([trees, -task.least_lot * sparse.eye_array(many)], format="csr"), 0, np.inf
                )
            )
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

    def _sparing(self, bundles: np.ndarray) -> np.ndarray | None:
        """Only of the cultivars that ``bundles`` orders most of, a least lot of each."""
        task = self.task
        trees = np.bincount(self.place, bundles * task.bundle, minlength=len(self.cultivars))
        kept = np.argsort(-trees, kind="stable")[: task.most_cultivars or len(trees)]
        kept = kept[trees[kept] >= max(1, task.least_lot / 2)]  # less is rather none than a whole lot
        free = np.where(np.isin(self.place, kept), task.useful, 0)
        least = np.zeros(len(free), dtype=int)
        for one in kept if task.least_lot else ():
            of = np.flatnonzero((self.place == one) & (free > 0))
            if len(of):
                most = of[int(np.argmax(bundles[of]))]
                least[most] = min(-(-task.least_lot // int(task.bundle[most])), free[most])
        few = relaxed(task, most=free, lines=self.lines, until=self.soon)
        if few.ordered is None:
            return None
        made = Exchange(task, free, least).made(few.ordered, self.soon)
        return made if made is not None and self._lots(made) else None

    def _lots(self, made: np.ndarray) -> bool:
        trees = np.bincount(self.place, made * self.task.bundle)
        return bool((trees[trees > 0] >= self.task.least_lot).all())


def _wider(rows: LinearConstraint, by: int) -> LinearConstraint:
    if not by:
        return rows
    body = sparse.csr_array(rows.A)
    return LinearConstraint(
        sparse.hstack([body, sparse.csr_array((body.shape[0], by))], format="csr"), rows.lb, rows.ub
    )


def _cheaper(task: Task, best: np.ndarray | None, other: np.ndarray | None) -> np.ndarray | None:
    if other is None:
        return best
    return other if best is None or task.cost @ other < task.cost @ best - 1e-9 else best
