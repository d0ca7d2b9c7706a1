"""Where a list cannot fill a buyer's weeks however many trees are planted: which cultivar more would help most, and how far."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import pandas as pd

from dashboard.answers.ordered import Order
from dashboard.answers.ordering import task
from dashboard.order.task import NEARLY

MOST_NAMED = 2
AS_GOOD = 0.005  # less than so much of what is wanted is not told


@dataclass(frozen=True)
class Help:
    """``name`` beside the list, from the cheapest ``nursery`` at ``price`` a tree; ``short`` are the
    places of the weeks that still could not be filled as asked."""

    name: str
    nursery: str
    price: float
    short: tuple[int, ...]


@dataclass(frozen=True, eq=False)
class Reach:
    """What the list cannot do, whatever it costs: the places of the weeks that fall ``short`` of what is asked, and ``helps``, each beside those before it."""

    short: tuple[int, ...]
    helps: tuple[Help, ...] = ()


def reached(order: Order) -> Reach:
    """Over the seasons that the order was made for."""
    asked = order.found.task.asking(fill=order.wanted.fill, worst=order.wanted.worst)
    places = tuple(int(place) for place in np.flatnonzero(np.maximum(*asked.lowered) > AS_GOOD))
    return Reach(places, _helps(order, asked.brought(asked.useful.astype(float))) if places else ())


def _helps(order: Order, brought: np.ndarray) -> tuple[Help, ...]:
    """Greedily: who lessens most what is missing, with all trees of it that could be of use."""
    every = replace(order.wanted, names=())
    wider = task(every)
    offers = every.offers.assign(place=np.arange(len(every.offers)))
    on_list = set(order.wanted.names)
    others = offers[~offers["cultivar"].isin(on_list)].groupby("cultivar", sort=True)
    more = {
        str(name): np.tensordot(wider.useful[rows["place"]], wider.by_bundle[rows["place"]], axes=1)
        for name, rows in others
    }
    found: list[Help] = []
    for _ in range(MOST_NAMED):
        lack = {name: _lack(wider, brought + fruit) for name, fruit in more.items()}
        if not lack or min(lack.values()) >= _lack(wider, brought) - AS_GOOD:
            break
        name = min(lack, key=lack.__getitem__)
        brought = brought + more.pop(name)
        cheapest = offers[offers["cultivar"] == name].iloc[0]
        found.append(_told(wider, brought, name, cheapest))
        if not found[-1].short:
            break
    return tuple(found)


def _lack(wider, brought: np.ndarray) -> float:
    return float(np.maximum(wider.asked - wider.promises(brought), 0).sum())


def _told(wider, brought: np.ndarray, name: str, offer: pd.Series) -> Help:
    lacks = (
        (wider.asked > NEARLY * wider.promises(brought)).reshape(2, -1).any(axis=0)
    )  # as an order of these would promise it
    return Help(name, str(offer["nursery"]), float(offer["price_per_tree"]), tuple(int(one) for one in wider.weeks[lacks]))  # fmt: skip
