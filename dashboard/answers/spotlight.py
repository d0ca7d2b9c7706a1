"""The one cultivar that is spoken of: where it stands in the ranking, its figures, its usual fruit; and who comes next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import pandas as pd

from dashboard.answers import ranking
from dashboard.answers.catalogue import Basis, Catalogue
from dashboard.answers.filters import REMEMBERED, Filters
from dashboard.answers.side_by_side import Fruit, usual_fruit
from dashboard.market import Market


@dataclass(frozen=True, eq=False)
class Spotlight:
    name: str
    place: int  # in the ranking of those it is joined to; 0 for one that does not pass the filters
    among: int  # how many are ranked there
    row: pd.Series  # as a row of the ranking; without what is told only of those that pass, where it does not
    fruit: Fruit
    largest: Fruit  # of all cultivars on this basis: with it on the same scale, no drawing jumps from one to the next


@lru_cache(maxsize=REMEMBERED)
def spotlight(
    catalogue: Catalogue, cultivar: str, filters: Filters, market: Market | None, basis: Basis, top: int
) -> Spotlight | None:
    """The cultivar asked for, else the first of the ranking; None where there is neither."""
    ranked = ranking.ranked(catalogue, filters, market, basis, top)
    name = cultivar or next(iter(ranked.index), "")
    if name not in catalogue.cultivars.index:
        return None
    passes = name in ranked.index
    rows = ranked if passes else ranking.shortlisted(catalogue, (name,), market, basis)
    own: Any = rows.loc[name]
    values = {trait: frame.loc[[name]] for trait, frame in catalogue.figures[basis].items()}
    return Spotlight(
        name=str(name),
        place=int(own["rank"]) if passes else 0,
        among=int((ranked["group"] == own["group"]).sum()) if passes else len(ranked),
        row=own,
        fruit=usual_fruit(catalogue, name, values),
        largest=_largest(catalogue, basis),
    )


@lru_cache(maxsize=64)
def _largest(catalogue: Catalogue, basis: Basis) -> Fruit:
    sizes = catalogue.figures[basis]["size"]["estimate"].dropna()
    name = str(sizes.idxmax()) if len(sizes) else str(catalogue.cultivars.index[0])
    return usual_fruit(
        catalogue, name, {trait: frame.loc[[name]] for trait, frame in catalogue.figures[basis].items()}
    )


def along(names: Sequence[str], here: str, by: int) -> str:
    """The name so many places further on, at most the last and the first; from one that is not there, the first."""
    if not len(names):
        return here
    order = list(names)
    if here not in order:
        return str(order[0])
    return str(order[max(0, min(order.index(here) + by, len(order) - 1))])
