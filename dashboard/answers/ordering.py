"""How many trees of which: the question in the records' words, and the order that answers it.

Fruit comes as the page's own joint draws of coming seasons say, a crop spread evenly over the days of its picking; what a buyer takes of it
is the share within the buyer's size limits times what the packing line passes.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property, lru_cache

import numpy as np
import pandas as pd

from dashboard.answers.catalogue import Basis, Catalogue
from dashboard.answers.choices import on_offer
from dashboard.answers.demand import Demand
from dashboard.answers.my_site import MySite
from dashboard.answers.order_choices import SPACING, trees_per_acre
from dashboard.answers.planting import Pool, could_be_planted, takes
from dashboard.answers.prospects import share_for_both, size_share
from dashboard.market import Market
from dashboard.order import FILL, WORST, Task
from dashboard.order.bearing import Bearing, bearing
from dashboard.ripening.cover import SEED, Draws, draws

SEASONS, FRESH = 200, 2000
PASSES = 0.75  # of the fruit that fits, what the packing line passes: common practice, no source
NOBODY = "no offer on record"  # in place of a nursery, where only a price was given
MOST_OFFERED = 10**5  # trees, where a nursery does not say how many it has


@dataclass(frozen=True)
class OrderWanted:
    """``names``: whose trees may be ordered (empty: whatever the buyer takes and a nursery offers). ``acres`` and ``trees_per_acre`` are the land, where that
    matters; ``standing`` pairs (name, trees) are there already. All for trees in full bearing, and for this buyer and the ``second`` alone."""

    catalogue: Catalogue
    market: Market | None
    demand: Demand
    names: tuple[str, ...] = ()
    basis: Basis = field(default_factory=Basis)
    season_kind: str = "any"
    fill: float = FILL
    worst: float = WORST
    acres: float | None = None
    trees_per_acre: float = trees_per_acre(SPACING)
    most_cultivars: int | None = None
    least_lot: int = 0
    most_share: float = 1.0  # of the trees ordered, what one cultivar has at the most
    standing: tuple[tuple[str, int], ...] = ()
    passes: float = PASSES
    bears: float | None = (
        None  # kg that a middle tree of them bears here, where that is known better than from the records
    )
    price: float | None = None  # $ a tree where nobody's offer is on record
    as_much: bool = False  # as can be for the money and the land, in place of promises for each week
    place: MySite | None = (
        None  # where they are to stand, whose warm winters and frosts take from their crops
    )
    money: float | None = None  # $ there is for trees, where as much as can be is asked
    second: Market | None = None  # another buyer of the same trees, who wants ``also`` in the same weeks
    also: Demand | None = None

    @property
    def buyers(self) -> tuple[Market | None, ...]:
        return (self.market, self.second) if self.also else (self.market,)

    @cached_property
    def kg(self) -> np.ndarray:
        """(weeks,) that are wanted or, of two buyers, (3 × weeks,): those of the first, of the second, and of both where each wants some."""
        first = np.array(self.demand.kg, dtype=float)
        if self.also is None:
            return first
        second = np.array(self.also.kg, dtype=float)
        return np.concatenate([first, second, np.where((first > 0) & (second > 0), first + second, 0.0)])

    @cached_property
    def candidates(self) -> tuple[str, ...]:
        """Of ``names`` or of all, those that have a time of picking and somebody's offer, and those that stand."""
        may = could_be_planted(self.catalogue, self.buyers, self.basis, Pool(offered=self.price is None))
        asked = [name for name in may if not self.names or name in self.names]
        known = self.catalogue.cultivars.index[self.catalogue.ripening.known]
        return tuple(dict.fromkeys([*asked, *(name for name, _ in self.standing if name in known)]))

    @cached_property
    def offers(self) -> pd.DataFrame:
        """Open offers of the candidates, the newest season's: cultivar, nursery, rootstock, price_per_tree, bundle, trees_available; one row each."""
        return _offers(self.catalogue, self.candidates, self.price)

    @property
    def usual(self) -> float:
        """Kg that a middle tree of the candidates bears in a middle season, as the records say."""
        rows = self.catalogue.cultivars.index.get_indexer(pd.Index(self.candidates))
        return float(np.exp(np.mean(borne(self.catalogue).mean[rows]))) if len(rows) else np.nan

    @property
    def left_out(self) -> tuple[str, ...]:
        """Of ``names``, those that nothing can be ordered of."""
        return tuple(name for name in self.names if name not in set(self.offers["cultivar"]))


@lru_cache(maxsize=4)
def borne(catalogue: Catalogue) -> Bearing:
    tables = catalogue.records_tables
    return bearing(tables.get("yields"), tables.get("trees"), catalogue.cultivars.index)


def task(wanted: OrderWanted, seasons: int = SEASONS, seed: int = SEED) -> Task:
    """In numbers, over so many seasons drawn anew from ``seed``. ValueError, one sentence, where nothing can be ordered."""
    if wanted.catalogue.ripening.refused:
        raise ValueError(wanted.catalogue.ripening.refused)
    if wanted.acres is not None and not wanted.acres > 0:
        raise ValueError(f"{wanted.acres:g} acres hold no tree; give the land as a number above 0, or leave it out.")  # fmt: skip
    if wanted.as_much and wanted.money is None and wanted.acres is None:
        raise ValueError("As much as money or land allow: say how much of one of them there is.")
    if wanted.as_much and (wanted.most_cultivars is not None or wanted.least_lot):
        raise ValueError("A most of cultivars or a least lot goes with promises for each week, not with as much as the money buys; leave one out.")  # fmt: skip
    if wanted.offers.empty:
        raise ValueError(_nothing_offered(wanted))
    offers, names = wanted.offers, pd.Index(wanted.candidates)
    supply = _supply(wanted, names, seasons, seed)
    if not supply.any():
        raise ValueError("No tree on offer has fruit in these weeks in any season that was drawn; ask for other days, or offer more cultivars.")  # fmt: skip
    stand = pd.Series(dict(wanted.standing), dtype=float).reindex(names).fillna(0.0).to_numpy()
    bundle = offers["bundle"].to_numpy(dtype=int)
    left = offers["trees_available"].fillna(MOST_OFFERED).to_numpy()
    return Task(
        supply, wanted.kg, names.get_indexer(pd.Index(offers["cultivar"])),
        offers["price_per_tree"].to_numpy(dtype=float), bundle, (left // bundle).astype(int), stand, wanted.fill, wanted.worst,
        np.inf if wanted.acres is None else wanted.acres * wanted.trees_per_acre, wanted.most_cultivars, wanted.least_lot, wanted.most_share,
        len(wanted.demand.kg) if wanted.also else 0,
    )  # fmt: skip


def _nothing_offered(wanted: OrderWanted) -> str:
    buyer = " or ".join(market.name if market else "any buyer" for market in wanted.buyers)
    which = "cultivar named" if wanted.names else "cultivar"
    return f"No nursery offers a {which} that {buyer} may take; name others, give a price per tree, or add offers to the sheet nursery."


def _supply(wanted: OrderWanted, names: pd.Index, seasons: int, seed: int) -> np.ndarray:
    """(seasons, names, weeks) kg that a tree brings to the buyer or, of two, to the first, to the second and to either."""
    catalogue = wanted.catalogue
    ripe = catalogue.ripening
    drawn = draws(ripe, ripe.known_site(wanted.basis.site), wanted.season_kind, seasons, seed)
    rows = catalogue.cultivars.index.get_indexer(names)
    crops = borne(catalogue).crops(seasons, seed)[:, rows]
    level = 1.0 if wanted.bears is None else wanted.bears / wanted.usual
    left = 1.0 if wanted.place is None else wanted.place.left_of_crops(seasons, seed)[:, rows]
    packed = (level * wanted.passes) * crops * left
    weekly = by_week(drawn, rows, wanted.demand.days)
    return np.concatenate([(packed * part[rows])[..., None] * weekly for part in _parts(wanted)], axis=2)


def _parts(wanted: OrderWanted) -> tuple[np.ndarray, ...]:
    """(cultivars,) of its fruit, what suits the buyer or, of two, the first, the second, and either: what suits both counts once."""
    catalogue, basis = wanted.catalogue, wanted.basis
    if wanted.also is None:
        return (size_share(catalogue, wanted.market, basis),)
    taken = takes(catalogue, wanted.buyers, basis).to_numpy()
    first, second = (size_share(catalogue, market, basis) * taken[:, place] for place, market in enumerate(wanted.buyers))  # fmt: skip
    common = share_for_both(catalogue, *wanted.buyers, basis) * taken.all(axis=1)  # type: ignore[misc]
    return first, second, first + second - common


def by_week(drawn: Draws, rows: np.ndarray, starts: np.ndarray) -> np.ndarray:
    """(draws, cultivars, weeks) what part of a crop falls into each week: picking goes on evenly, whole days, from the first to the last."""
    first, last = np.floor(drawn.first[:, rows] + 0.5), np.floor(drawn.last[:, rows] + 0.5) + 1
    begins, ends = np.maximum(first[..., None], starts[:-1]), np.minimum(last[..., None], starts[1:])
    return np.clip(ends - begins, 0, None) / (last - first)[..., None]


def _offers(catalogue: Catalogue, names: tuple[str, ...], price: float | None) -> pd.DataFrame:
    columns = ["cultivar", "nursery", "rootstock", "price_per_tree", "bundle", "trees_available"]
    now = on_offer(catalogue)
    if not now.empty:
        now = now.assign(cultivar=now["cultivar"].astype(str)).dropna(subset="price_per_tree")
        now = now[now["cultivar"].isin(names) & (now["price_per_tree"] > 0)]
        now = now.assign(bundle=now["bundle"].fillna(1).clip(lower=1).astype(int))
    now = now.reindex(columns=columns)
    if price is not None:
        others = [name for name in names if name not in set(now["cultivar"])]
        more = pd.DataFrame({"cultivar": others, "nursery": NOBODY, "price_per_tree": price, "bundle": 1})
        now = pd.concat([now, more.reindex(columns=columns)]) if len(now) else more.reindex(columns=columns)
    return now.sort_values(["cultivar", "price_per_tree"], kind="stable")[columns].reset_index(drop=True)
