"""Who could stand in for a cultivar: the same class of fruit as far as it is recorded, ripe at about the same time, nearest in
what the market weighs.

How near is told by the traits a market weighs, each difference set against the width of the wish (from nothing to full
welcome) and weighted as the market does; without a market by size, firmness and sugar, against the spread of cultivars.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import pandas as pd

from dashboard.answers import catalogue as catalogues
from dashboard.answers.catalogue import Basis, Catalogue
from dashboard.answers.filters import REMEMBERED
from dashboard.estimates.comparisons import Difference, difference
from dashboard.market import Market, Wish
from dashboard.terms.traits import HEADLINE, UNKNOWN, trait_called

SAME = ("fruit_type", "flesh_colour", "acidity_class", "shape_type")
MOST = 6
SURE = 0.9  # chance of a difference having its sign, from which it is told as one


@dataclass(frozen=True)
class Change:
    """What changes in one trait when the stand-in takes the place: by (SI), how sure its sign is, and whether it is welcome.

    better is True or False where the market (or, without one, the trait) says which way is; None where it does not.
    """

    trait: str
    by: float
    sure: float
    better: bool | None
    refused: str = ""


@dataclass(frozen=True)
class StandIn:
    name: str
    days: float  # how much later it ripens; negative: earlier
    distance: float
    changes: tuple[Change, ...]
    unknown: tuple[
        str, ...
    ] = ()  # class facts that were not recorded, of it or of the one it would stand in for


@lru_cache(maxsize=REMEMBERED)
def stand_ins(
    catalogue: Catalogue,
    cultivar: str,
    market: Market | None,
    basis: Basis,
    apart: int,
    status: tuple[str, ...] = (),
) -> tuple[StandIn, ...]:
    """The nearest MOST to ``cultivar`` that ripen within ``apart`` days of it, nearest first; () for one that is not known.

    ``status`` takes only cultivars of these; () takes any.
    """
    if cultivar not in catalogue.cultivars.index:
        return ()
    known = catalogue.cultivars
    windows = catalogues.windows_at(catalogue, basis.site)
    at = int(known.index.get_indexer(pd.Index([cultivar]))[0])
    middle = windows["middle"].to_numpy(dtype=float)
    days = middle - middle[at]
    alike = np.abs(days) <= apart
    for field in SAME:
        words = known[field].astype(str).to_numpy()
        alike &= (words == words[at]) | (words[at] == UNKNOWN) | (words == UNKNOWN)
    if status:
        alike &= known["status"].isin(status).to_numpy()
    alike[at] = False
    weighed = _weighed(catalogue, market)
    away = _distance(catalogue, cultivar, weighed, basis)
    alike &= np.isfinite(away)
    rows = np.flatnonzero(alike)
    nearest = rows[np.argsort(away[rows], kind="stable")][:MOST]
    return tuple(
        StandIn(
            str(known.index[row]), float(days[row]), float(away[row]),
            tuple(_change(catalogue, cultivar, str(known.index[row]), trait, market) for trait in weighed),
            _unknown(known, at, row),
        )
        for row in nearest
    )  # fmt: skip


def _unknown(known: pd.DataFrame, *rows: int) -> tuple[str, ...]:
    return tuple(field for field in SAME if (known[field].iloc[list(rows)].astype(str) == UNKNOWN).any())


def _weighed(catalogue: Catalogue, market: Market | None) -> dict[str, tuple[float, float]]:
    """By trait its weight, and the difference that counts as one."""
    weighed: dict[str, tuple[float, float]] = {}
    for wish in market.wishes if market else ():
        before, _ = weighed.get(wish.key, (0.0, 1.0))
        weighed[wish.key] = (before + wish.weight, wish.high - wish.low)
    for trait in HEADLINE:  # a stand-in is asked for its fruit, whatever the market forgets
        if trait not in weighed:
            spread = float(catalogue.values[trait]["estimate"].std())
            weighed[trait] = (0.0 if market and market.wishes else 1.0, spread if spread > 0 else 1.0)
    return weighed


def _distance(
    catalogue: Catalogue, cultivar: str, weighed: dict[str, tuple[float, float]], basis: Basis
) -> np.ndarray:
    total, weight = np.zeros(len(catalogue.cultivars)), 0.0
    for trait, (weighs, width) in weighed.items():
        if weighs > 0:
            values = catalogue.figures[basis][trait]["estimate"]
            total += weighs * np.square((values - values[cultivar]).to_numpy(dtype=float) / width)
            weight += weighs
    return np.sqrt(total / weight) if weight else total


def _change(catalogue: Catalogue, old: str, new: str, trait: str, market: Market | None) -> Change:
    worth = catalogue.worth[trait]
    apart: Difference = difference(worth, new, old)
    if apart.refused:
        return Change(trait, float("nan"), float("nan"), None, apart.refused)
    sure = max(apart.above, 1 - apart.above)
    was, becomes = (float(worth.values["estimate"][name]) for name in (old, new))
    return Change(trait, apart.estimate, sure, _better(trait, was, becomes, market))


def _better(trait: str, was: float, becomes: float, market: Market | None) -> bool | None:
    for wish in market.wishes if market else ():
        if wish.key == trait:
            return _nearer(wish, was, becomes)
    way = trait_called(trait).better
    if way == "depends" or was == becomes:
        return None
    return (becomes > was) == (way == "more")


def _nearer(wish: Wish, was: float, becomes: float) -> bool | None:
    aims = {"larger": wish.high, "smaller": wish.low, "target": wish.target}
    aim = aims[wish.shape]
    if wish.shape == "larger":
        off = [max(aim - value, 0.0) for value in (was, becomes)]
    elif wish.shape == "smaller":
        off = [max(value - aim, 0.0) for value in (was, becomes)]
    else:
        off = [abs(value - aim) for value in (was, becomes)]
    return None if off[0] == off[1] else off[1] < off[0]
