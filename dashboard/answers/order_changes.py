"""What would change an order: a cultivar fewer, an acre more, more money; and an order that costs nearly as little with other cultivars."""

from __future__ import annotations

import math
import time
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from dashboard.answers.ordered import Order
from dashboard.order.easing import part_kept
from dashboard.order.exchanging import Exchange
from dashboard.order.relaxed import Relaxed, relaxed
from dashboard.order.sparing import ROUGH
from dashboard.order.spending import Spent, spending
from dashboard.order.task import Task

SECONDS = 4.0  # for each of them
ALIKE = 0.02  # dearer at the most than the order it stands beside
MORE_MONEY = 1.1
DEARER = (
    1.0,
    0.3,
    0.1,
    0.03,
)  # what the order's own cultivars are made dearer by, until the rest costs little enough


@dataclass(frozen=True)
class Fewer:
    """Without ``name`` the cheapest order found for the others costs ``cost``; both None where it is proven that each cultivar is needed."""

    name: str | None
    cost: float | None


@dataclass(frozen=True)
class Alike:
    """An order that costs ``cost``: ``left`` are of the first order only, ``come`` of this one only, and ``common`` is the share of trees that both have."""

    left: tuple[str, ...]
    come: tuple[str, ...]
    common: float
    cost: float


@dataclass(frozen=True, eq=False)
class Changes:
    """Each None where it was not found in the time or is not asked. ``acre`` is what an acre more does: the least cost known then; where not all promises
    can be kept, the part of each that can be; where as much as can be is asked, the share met. ``money`` is that share with a tenth more money."""

    fewer: Fewer | None = None
    acre: float | None = None
    money: float | None = None
    alike: Alike | None = None


@lru_cache(maxsize=2)
def changes(order: Order) -> Changes:
    """In about ``SECONDS`` each; nothing of an order that was ``hurried``."""
    task, wanted = order.found.task, order.wanted
    if order.hurried:
        return Changes()
    if isinstance(order.found, Spent):
        acre = None if wanted.acres is None else _met(_with_an_acre(order), wanted.money)
        return Changes(
            acre=acre, money=None if wanted.money is None else _met(task, MORE_MONEY * wanted.money)
        )
    if order.short is not None:
        return Changes() if wanted.acres is None else Changes(acre=part_kept(_asked(order), 2 * SECONDS))
    return Changes(_fewer(order), _cost_with_an_acre(order), None, _alike(order))


def _with_an_acre(order: Order) -> Task:
    task = order.found.task
    return task.asking(most_trees=task.most_trees + order.wanted.trees_per_acre)


def _asked(order: Order) -> Task:
    """The same with an acre more, and all that was asked; the order that stands keeps a part of it."""
    return _with_an_acre(order).asking(fill=order.wanted.fill, worst=order.wanted.worst)


def _met(task: Task, money: float | None) -> float:
    *_, found = spending(task, math.inf if money is None else money, SECONDS, 0.01, SECONDS)
    return found.met


def _free(task: Task, cultivars: np.ndarray) -> np.ndarray:
    """(offers,) bundles at the most, of these cultivars alone."""
    return np.where(np.isin(task.of, cultivars), task.useful, 0)


def _fewer(order: Order) -> Fewer | None:
    """Without each in turn, those with the fewest trees first; the cheapest of what was found."""
    task, until = order.found.task, time.monotonic() + SECONDS
    trees = task.trees(order.bundles)
    held = np.flatnonzero(trees)
    best: tuple[float, int, Relaxed] | None = None
    for gone in held[np.argsort(trees[held], kind="stable")]:
        if time.monotonic() > until:
            break
        found = relaxed(task, most=_free(task, held[held != gone]), until=until, close=ROUGH)
        if found.ordered is not None and (best is None or found.bound < best[0]):
            best = found.bound, int(gone), found
    else:
        if best is None:
            return Fewer(None, None)
    if best is None:
        return None
    _, gone, found = best
    assert found.ordered is not None
    whole = Exchange(task, _free(task, held[held != gone])).made(found.ordered, time.monotonic() + SECONDS)
    return None if whole is None else Fewer(order.wanted.candidates[gone], float(task.cost @ whole))


def _cost_with_an_acre(order: Order) -> float | None:
    """What it would cost with an acre more, where the land is what makes it dear."""
    task = order.found.task
    if task.bundle @ order.bundles + task.bundle.max() < task.most_trees:
        return None
    wider = _with_an_acre(order)
    found = relaxed(wider, until=time.monotonic() + SECONDS, close=ROUGH)
    whole = None if found.ordered is None else Exchange(wider).made(found.ordered, time.monotonic() + SECONDS)
    cost = np.inf if whole is None else float(task.cost @ whole)
    return cost if cost < order.found.cost - 1e-6 else None


def _alike(order: Order) -> Alike | None:
    """As few of the order's own cultivars as ``ALIKE`` allows: least of their trees, then whole bundles of whoever that takes."""
    task = order.found.task
    held = np.unique(task.of[order.bundles > 0])
    if len(held) == len(np.unique(task.of)):
        return None
    dearest = (1 + ALIKE) * order.found.cost
    weight, until = np.where(np.isin(task.of, held), task.cost, 0.0), time.monotonic() + SECONDS
    lines = None
    for step in DEARER:
        found = relaxed(task, cost=task.cost + step * weight, lines=lines, until=until, close=ROUGH)
        if found.ordered is not None:
            some = np.where(found.ordered > 1e-6, task.useful, 0)
            whole = Exchange(task, some).made(found.ordered, time.monotonic() + SECONDS / 2)
            if whole is not None and task.cost @ whole <= dearest:
                return _told(order, whole, held)
        lines = found.lines
        if time.monotonic() > until:
            break
    return None


def _told(order: Order, whole: np.ndarray, held: np.ndarray) -> Alike | None:
    task = order.found.task
    theirs, names = np.unique(task.of[whole > 0]), order.wanted.candidates
    come, left = np.setdiff1d(theirs, held), np.setdiff1d(held, theirs)
    if not len(come) and not len(left):
        return None
    common = np.minimum(task.trees(whole), task.trees(order.bundles)).sum() / task.trees(order.bundles).sum()
    return Alike(tuple(names[one] for one in left), tuple(names[one] for one in come), float(common), float(task.cost @ whole))  # fmt: skip
