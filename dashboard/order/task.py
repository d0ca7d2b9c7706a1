"""What an order of trees has to keep, in numbers: fruit a tree brings by week and season, what a buyer wants, offers, land.

Two promises a week, both concave in the trees and so provable: of the fruit wanted, the mean share that is met over all seasons, and the
mean share in the worst fifth of them (conditional value at risk: Rockafellar & Uryasev 2000, Journal of Risk 2(3): 21-41).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

import numpy as np

from dashboard.order import sharing

FILL, WORST = 0.95, 0.70
TAIL = 0.2  # the worst fifth of the seasons
AS_KEPT = 1e-7
NEARLY = 0.98  # of what everything together would reach can be promised: the last of it would take every tree there is
ENOUGH = (
    0.9  # of it is promised where that is less than was asked: the last tenth would about double the trees
)
USEFUL = 10  # times what fills its best week in a mean season: more of an offer is not ordered


class Promises(NamedTuple):
    """By week (W,), as shares of what is wanted: met over all seasons, and over the worst fifth of them."""

    fill: np.ndarray
    worst: np.ndarray


@dataclass(frozen=True, eq=False)
class Task:
    """``supply`` (seasons, cultivars, weeks) is what one tree brings to the buyer, in the unit of ``wanted`` (weeks,). An offer is of one cultivar
    (``of``, its place), costs ``price`` a tree and comes in bundles of ``bundle`` trees, ``bundles`` of them at the most. ``standing``
    (cultivars,) trees are there already and cost nothing. ``most_trees`` is what the land holds beside them; ``most_cultivars``, ``least_lot`` (trees of a cultivar that is
    ordered) and ``most_share`` (of the trees that are ordered, what one cultivar has at the most) are asked only where given. With ``shared`` weeks there
    are two buyers: ``wanted`` and ``supply`` hold the first one's weeks, then the second's, then those of both (``sharing``; 0 where not both want fruit). ValueError, one sentence, for what cannot be."""

    supply: np.ndarray
    wanted: np.ndarray
    of: np.ndarray
    price: np.ndarray
    bundle: np.ndarray
    bundles: np.ndarray
    standing: np.ndarray
    fill: float = FILL
    worst: float = WORST
    most_trees: float = np.inf
    most_cultivars: int | None = None
    least_lot: int = 0
    most_share: float = 1.0
    shared: int = 0

    def __post_init__(self) -> None:
        if not len(self.of):
            raise ValueError(
                "No nursery offers a tree of any of these cultivars, so there is nothing to order."
            )
        if not (np.isfinite(self.wanted).all() and (self.wanted >= 0).all()):
            raise ValueError("The fruit wanted in a week is a number of 0 or more.")
        if not self.wanted.any():
            raise ValueError("No fruit is wanted in any week, so there is nothing to order.")
        if not (0 < self.fill <= 1 and 0 <= self.worst <= 1):
            raise ValueError("The shares that are promised lie between 0 and 1.")
        if self.most_trees < 1:
            raise ValueError("The land holds no tree; give its size and the spacing.")
        if not 0 < self.most_share <= 1:
            raise ValueError("The largest share of one cultivar lies between 0 and 1.")
        many = min(len(np.unique(self.of)), self.most_cultivars or len(self.of))
        if many * self.most_share < 1 - 1e-9:
            raise ValueError(
                f"With at most {100 * self.most_share:.0f} % of the trees of one cultivar it takes {math.ceil(1 / self.most_share - 1e-9)} cultivars, and {many} can be ordered; allow a larger share."
            )

    @cached_property
    def weeks(self) -> np.ndarray:
        """Places of the weeks in which fruit is wanted."""
        return np.flatnonzero(self.wanted > 0)

    @cached_property
    def of_both(self) -> sharing.Columns:
        return sharing.columns(self.weeks, self.shared)

    @cached_property
    def volume(self) -> np.ndarray:
        """(weeks in which fruit is wanted,) what part of the season's fruit each is; a week of two buyers counts once, as that of both."""
        wanted = self.wanted[self.weeks].copy()
        wanted[self.of_both.first] = wanted[self.of_both.second] = 0
        return wanted / wanted.sum()

    @cached_property
    def cost(self) -> np.ndarray:
        """(offers,) of a bundle."""
        return self.price * self.bundle

    @cached_property
    def tail(self) -> int:
        """How many seasons make the worst fifth."""
        return max(1, round(TAIL * len(self.supply)))

    @cached_property
    def by_bundle(self) -> np.ndarray:
        """(offers, seasons, weeks in which fruit is wanted) what a bundle brings."""
        per = self.supply[:, self.of][:, :, self.weeks].transpose(1, 0, 2)
        return np.ascontiguousarray(per * self.bundle[:, None, None])

    @cached_property
    def there(self) -> np.ndarray:
        """(seasons, weeks in which fruit is wanted) what the trees that stand bring."""
        return np.einsum("siw,i->sw", self.supply[:, :, self.weeks], self.standing)

    def brought(self, ordered: np.ndarray) -> np.ndarray:
        """(seasons, weeks in which fruit is wanted) by so many bundles (offers,), whole or not, and what stands."""
        return self.there + np.tensordot(ordered, self.by_bundle, axes=(0, 0))

    def met(self, brought: np.ndarray) -> np.ndarray:
        """(seasons, weeks in which fruit is wanted) how much of it a buyer takes, or both could."""
        wanted = self.wanted[self.weeks]
        met = np.minimum(brought, wanted)
        if self.shared:
            met[:, self.of_both.both] = sharing.bounds(brought, wanted, self.of_both).min(axis=0)
        return met

    def promises(self, brought: np.ndarray) -> np.ndarray:
        """(2 × weeks in which fruit is wanted,) the mean share met, then that of the worst fifth."""
        wanted, met = self.wanted[self.weeks], self.met(brought)
        low = np.partition(met, self.tail - 1, axis=0)[: self.tail]
        return np.concatenate([met.mean(axis=0), low.mean(axis=0)]) / np.tile(wanted, 2)

    @cached_property
    def promised(self) -> np.ndarray:
        """What ``promises`` has to reach: as asked or, where all that can be bought falls short of it, ``ENOUGH`` of what that reaches."""
        return np.where(self.asked <= NEARLY * self.reach, self.asked, ENOUGH * self.reach)

    @property
    def lowered(self) -> Promises:
        """By week, by how much less than was asked is promised, as no order there is could do more."""
        both = np.zeros((2, len(self.wanted)))
        both[:, self.weeks] = (self.asked - self.promised).reshape(2, -1)
        return Promises(*both)

    @cached_property
    def asked(self) -> np.ndarray:
        return np.repeat([self.fill, self.worst], len(self.weeks))

    @cached_property
    def reach(self) -> np.ndarray:
        """What ``promises`` would be with everything that could be of use, whatever it costs and however much land it takes."""
        return self.promises(self.brought(self.useful.astype(float)))

    @cached_property
    def useful(self) -> np.ndarray:
        """(offers,) bundles at the most: what there is, or ``USEFUL`` times what fills its best week in a mean season."""
        mean = self.by_bundle.mean(axis=1) / self.wanted[self.weeks]
        best = mean.max(axis=1)
        with np.errstate(divide="ignore"):
            enough = np.where(best > 0, np.ceil(USEFUL / best), 0)
        return np.minimum(enough, self.bundles).astype(int)

    @cached_property
    def limits(self) -> tuple[np.ndarray, np.ndarray]:
        """(limits, offers) and (limits,): rows @ bundles <= most is asked beside the promises, of the land and of the largest share."""
        offers = len(self.of)
        rows, most = [np.empty((0, offers))], [0.0] * 0
        if self.most_trees < self.bundle @ self.useful:
            rows.append(self.bundle[None, :].astype(float))
            most.append(float(self.most_trees))
        if self.most_share < 1:
            cultivars = np.unique(self.of)
            rows.append(((self.of == cultivars[:, None]) - self.most_share) * self.bundle)
            most += [0.0] * len(cultivars)
        return np.vstack(rows), np.array(most)

    def fits(self, ordered: np.ndarray) -> bool:
        """Whether the land holds it and no cultivar has too large a share."""
        rows, most = self.limits
        return bool((rows @ ordered <= most + 1e-6).all())

    def within(self, theirs: np.ndarray, every: float | np.ndarray) -> np.ndarray:
        """Whether so many trees of a cultivar are no larger a share of ``every`` tree ordered than it may have."""
        return np.asarray(theirs <= self.most_share * every + 1e-6)

    def even(self, ordered: np.ndarray, offers: np.ndarray) -> np.ndarray:
        """Of these ``offers``, whether the cultivar keeps to its largest share with a bundle more."""
        trees, more = self.trees(ordered), self.bundle[offers]
        return self.within(trees[self.of[offers]] + more, trees.sum() + more)

    def cuts(self, ordered: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """The promises at ``ordered`` (offers,), and how each moves with a bundle more: (2 weeks,), (2 weeks, offers).

        As they are concave, promise(x) <= value + slope · (x - ordered) for every x.
        """
        wanted, brought = self.wanted[self.weeks], self.brought(ordered)
        met, short = self.met(brought), brought < wanted
        lowest = np.argsort(met, axis=0, kind="stable")[: self.tail]
        low = np.zeros(met.shape)
        np.put_along_axis(low, lowest, 1.0 / self.tail, axis=0)
        value = np.concatenate([met.mean(axis=0), (met * low).sum(axis=0)]) / np.tile(wanted, 2)
        moves = [(self.by_bundle, np.arange(len(wanted)), short)]
        if self.shared:  # what binds fruit for both may be that of one of them
            at = self.of_both
            binds = sharing.bounds(brought, wanted, at).argmin(axis=0)
            short[:, at.both] = binds == 0
            moves += [(self.by_bundle[:, :, one], at.both, binds == which) for which, one in ((1, at.first), (2, at.second))]  # fmt: skip
        slope = np.zeros((2, len(wanted), len(ordered)))
        for by, rows, moved in moves:
            slope[0, rows] += np.einsum("osw,sw->wo", by, moved / len(met))
            slope[1, rows] += np.einsum("osw,sw->wo", by, moved * low[:, rows])
        return value, (slope / wanted[:, None]).reshape(-1, len(ordered))

    def keeps(self, ordered: np.ndarray) -> bool:
        return self.keeps_of(self.brought(ordered))

    def keeps_of(self, brought: np.ndarray) -> bool:
        """The same of what is brought."""
        return bool((self.promises(brought) >= self.promised - AS_KEPT).all())

    def trees(self, ordered: np.ndarray) -> np.ndarray:
        """(cultivars,) that are ordered."""
        return np.bincount(self.of, ordered * self.bundle, minlength=len(self.standing))

    def told(self, ordered: np.ndarray) -> Promises:
        """By week, those in which nothing is wanted being met."""
        return self.told_of(self.brought(ordered))

    def told_of(self, brought: np.ndarray) -> Promises:
        """The same of what is brought."""
        both = np.ones((2, len(self.wanted)))
        both[:, self.weeks] = self.promises(brought).reshape(2, -1)
        return Promises(*both)

    def asking(self, **changes) -> Task:
        """The same with other numbers."""
        return replace(self, **changes)
