"""An order looked at anew: over seasons it was not made for, year by year as its trees come into bearing, and without each of its cultivars."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
import pandas as pd

from dashboard.answers.ordering import FRESH, SEASONS, OrderWanted, borne, task
from dashboard.order import GAP, SECONDS, Ordered, Task, ordering, sharing
from dashboard.order.bearing import TREE_TO_TREE
from dashboard.order.easing import Short, short
from dashboard.order.priced import sampled
from dashboard.order.relaxed import relaxed
from dashboard.order.spending import Spent, spending
from dashboard.ripening.cover import SEED

AT_RISK = 0.8  # a week fully met in a smaller share of seasons is told
REPLICATIONS = 5
PRICED = 0.01  # how near the bound of cut bundles is, whose prices are taken
FAN = (10, 25, 50, 75, 90)  # of fresh seasons in a hundred
YEARS = range(1, 16)
BOTH = "both together"


@dataclass(frozen=True, eq=False)
class Order:
    """``found`` for what was ``wanted`` (``Spent`` where that is as much as can be for the money); ``short`` where not all could be promised, and then ``found`` is the order that keeps what can be."""

    wanted: OrderWanted
    found: Ordered | Spent
    short: Short | None = None
    hurried: bool = False  # somebody stopped the search: nothing that takes long is worked out about it

    @property
    def bundles(self) -> np.ndarray:
        if self.found.bundles is None:
            raise ValueError("There is no order to look at.")
        return self.found.bundles

    @cached_property
    def rows(self) -> pd.DataFrame:
        """One row an offer that is ordered, by nursery: cultivar, nursery, rootstock, bundles, bundle, trees, price_per_tree, cost, protected, weighed."""
        offers = self.wanted.offers.assign(bundles=self.bundles)
        made = offers[offers["bundles"] > 0].copy()
        made["trees"] = made["bundles"] * made["bundle"]
        made["cost"] = made["trees"] * made["price_per_tree"]
        facts = self.wanted.catalogue.cultivars
        at = facts.index.get_indexer(pd.Index(made["cultivar"]))
        made["protected"] = facts["protected"].fillna(False).astype(bool).to_numpy()[at]
        made["weighed"] = borne(self.wanted.catalogue).weighed[at]
        return made.sort_values(["nursery", "cultivar"], kind="stable").reset_index(drop=True)

    @property
    def trees(self) -> int:
        return int(self.rows["trees"].sum())

    @property
    def acres(self) -> float:
        return self.trees / self.wanted.trees_per_acre

    @cached_property
    def _fresh(self) -> tuple[np.ndarray, np.ndarray, Task, np.ndarray]:
        """(seasons, weeks) what is brought and (seasons, cultivars, weeks) by each, the task over those seasons, places of the cultivars: few trees of
        one stray more from what is expected of it than many."""
        anew = _anew(self.wanted)
        trees = anew.trees(self.bundles) + anew.standing
        held = np.flatnonzero(trees > 0)
        spread = TREE_TO_TREE / np.sqrt(trees[held])
        strays = np.random.default_rng(SEED + 1).standard_normal((FRESH, len(held)))
        each = anew.supply[:, held][:, :, anew.weeks] * trees[held][None, :, None]
        each *= np.exp(spread * strays - spread**2 / 2)[..., None]
        return each.sum(axis=1), each, anew, held

    @cached_property
    def _got(self) -> np.ndarray:
        """(seasons, weeks) of fresh seasons, what each buyer gets, and both together: the split is that of the seasons the order was made for."""
        brought, _, anew, _ = self._fresh
        made, at = self.found.task, anew.of_both
        part = sharing.proportion(
            made.met(made.brought(self.bundles.astype(float))), made.wanted[made.weeks], at
        )
        return sharing.split(anew.met(brought), part, at)

    @cached_property
    def weeks(self) -> pd.DataFrame:
        """One row a week (of the first buyer, then of the second, then of both): ``buyer`` by name, first and last day, kg wanted, over fresh seasons the mean share met and its
        ``error``, that of the worst fifth, the share of seasons that it is ``fully`` met in, and by how much less than asked was promised (``lowered``)."""
        share, anew = self._got / self.wanted.kg[self.wanted.kg > 0], self._fresh[2]
        wanted, blocks = self.wanted.kg, len(self.wanted.kg) // len(self.wanted.demand.kg)
        first, last = (np.tile(one, blocks) for one in (self.wanted.demand.days[:-1], self.wanted.demand.days[1:] - 1))  # fmt: skip
        at = np.flatnonzero(wanted > 0)
        fully, error, fill, worst = np.ones(len(wanted)), np.zeros(len(wanted)), np.ones(len(wanted)), np.ones(len(wanted))  # fmt: skip
        fully[at] = (share >= 1 - 1e-9).mean(axis=0)
        error[at] = share.std(axis=0, ddof=1) / math.sqrt(len(share))
        fill[at], worst[at] = share.mean(axis=0), np.sort(share, axis=0)[: anew.tail].mean(axis=0)
        asked = self.found.task.asking(fill=self.wanted.fill, worst=self.wanted.worst)
        lowered = np.zeros((2, len(wanted))) if self.wanted.as_much else asked.lowered
        return pd.DataFrame({
            "buyer": np.repeat([*(market.name if market else "any buyer" for market in self.wanted.buyers), BOTH][:blocks], len(self.wanted.demand.kg)),
            "first": first, "last": last, "kg": wanted, "fill": fill, "error": error, "worst": worst, "fully": fully,
            "lowered": np.maximum(*lowered),
        })  # fmt: skip

    @cached_property
    def fan(self) -> np.ndarray:
        """(``FAN``, weeks) kg of fruit that suits them, which so many of the fresh seasons in a hundred bring at most; 0 in weeks in which nothing is wanted."""
        brought, *_ = self._fresh
        told = np.zeros((len(FAN), len(self.wanted.kg)))
        told[:, self.wanted.kg > 0] = np.percentile(brought, FAN, axis=0)
        return told

    @cached_property
    def without(self) -> pd.DataFrame:
        """By cultivar, were it lost altogether: the share of the season's volume still met, the place of the ``week`` that suffers most, and the share met there."""
        brought, each, anew, held = self._fresh
        wanted, kept = anew.wanted[anew.weeks], anew.met(brought).mean(axis=0)
        rows = []
        for place, row in enumerate(held):
            met = anew.met(brought - each[:, place]).mean(axis=0) / wanted
            worst = int(np.argmax(kept / wanted - met))
            rows.append((self.wanted.candidates[row], float(met @ anew.volume), int(anew.weeks[worst]), float(met[worst])))  # fmt: skip
        return pd.DataFrame(rows, columns=["cultivar", "met", "week", "met_then"]).sort_values("met_then", kind="stable")  # fmt: skip

    @cached_property
    def years(self) -> pd.DataFrame:
        """By year from planting: ``met``, the mean share of the season's volume, and ``lowest``, of its worst week; trees that stand bear in full."""
        part = borne(self.wanted.catalogue).by_age
        brought, each, anew, held = self._fresh
        stand = dict(self.wanted.standing)
        bought = self.found.task.trees(self.bundles)[held]
        old = np.array([stand.get(self.wanted.candidates[row], 0) for row in held])
        young = each * (bought / np.maximum(bought + old, 1))[None, :, None]
        wanted = anew.wanted[anew.weeks]
        rows = []
        for year in YEARS:
            age = part[year - 1] if year <= len(part) else 1.0
            met = anew.met(brought - (1 - age) * young.sum(axis=1)).mean(axis=0) / wanted
            rows.append((year, age, met @ anew.volume, met.min()))
        return pd.DataFrame(rows, columns=["year", "bears", "met", "lowest"])

    @cached_property
    def replicated(self) -> tuple[float, float]:
        """What no order costs less than that keeps these promises over all seasons of these estimates, not only over those this one was made for: at the chance ``SURE``, and on
        average over ``REPLICATIONS`` other draws (``priced``). NaN where not all is promised."""
        if self.short is not None or self.wanted.as_much:
            return math.nan, math.nan
        made = self.found.task
        others = (task(self.wanted, SEASONS, SEED + 2 + one) for one in range(REPLICATIONS))
        return sampled(made, relaxed(made, close=PRICED), others)


@lru_cache(maxsize=1)
def _anew(wanted: OrderWanted) -> Task:
    """The same over fresh seasons; each better order is looked at there."""
    return task(wanted, FRESH, SEED + 1)


def improving(
    wanted: OrderWanted, seconds: float = SECONDS, gap: float = GAP, longest: float = math.inf
) -> Iterator[Ordered | Spent | Order]:
    """Each better order as it is found in so many seconds, last the whole of it (``Order``); where there is none, in as many again, what can
    be promised instead. No step takes much more than ``longest`` seconds while orders are looked for. ValueError, one sentence, where there is nothing at all."""
    asked = task(wanted)
    if wanted.as_much:
        yield from _spent(wanted, asked, seconds, gap, longest)
        return
    found = Ordered(asked, None, 0.0, 0.0)
    for found in ordering(asked, seconds, gap, longest):
        yield found
    if found.bundles is not None:
        yield Order(wanted, found)
        return
    lacking = short(asked, seconds, np.isinf(found.bound))
    if lacking.ordered is None:
        land = f" {lacking.trees:,} trees would do it;" if lacking.trees else ""
        raise ValueError(f"No order was found in {2 * seconds:.0f} seconds;{land} ask for less fruit, or allow more land, cultivars or time.")  # fmt: skip
    yield Order(wanted, lacking.ordered, lacking)


def _spent(
    wanted: OrderWanted, asked: Task, seconds: float, gap: float, longest: float
) -> Iterator[Spent | Order]:
    """For all the money, or for what all trees that the land holds could cost."""
    money = math.inf if wanted.money is None else wanted.money
    found = None
    for found in spending(asked, money, seconds, gap, longest):
        yield found
    if found is None or not found.bundles.any():
        raise ValueError(f"{money:,.0f} dollars buy no bundle that brings fruit in these weeks; the cheapest costs ${asked.cost.min():,.2f}.")  # fmt: skip
    yield Order(wanted, found)


def settled(
    wanted: OrderWanted, seconds: float = SECONDS, gap: float = GAP, progress: Callable[[Ordered | Spent], None] = lambda now: None
) -> Order:  # fmt: skip
    """The last of ``improving``, or what stands when somebody interrupts. ``progress`` is told each better one."""
    found: Ordered | Spent | Order | None = None
    try:
        for found in improving(wanted, seconds, gap):
            if not isinstance(found, Order):
                progress(found)
    except KeyboardInterrupt:
        if found is None or isinstance(found, Order) or found.bundles is None:
            raise ValueError("Stopped before an order was found; let it run longer.") from None
    assert found is not None
    return found if isinstance(found, Order) else Order(wanted, found, hurried=True)
