"""Two lists: who is on both, which days each covers for each buyer, and which gaps of one the other would close.

Days and cover are those of ``selling.Wanted``, by the page's own rule. Two lists stand ready: what nurseries offer, and what none does.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from dashboard.answers.catalogue import Catalogue
from dashboard.answers.planning import REMEMBERED
from dashboard.answers.planting import nurseries
from dashboard.answers.selling import Spans, Wanted, by_market
from dashboard.ripening.cover import Cover


@dataclass(frozen=True, eq=False)
class Compared:
    """``both``, only ``mine``, only the ``other``, each in its list's order. By market, over ``days`` selling days, the ``covers`` of mine and of
    the other, and what of the gaps of one is closed with the other added: ``mine_closed``, ``other_closed``; ``outside`` are
    those of the other that are not ``let`` in, and ``passing`` how many days it covers without them. Nothing by market without a ripening
    model."""

    both: tuple[str, ...]
    mine: tuple[str, ...]
    other: tuple[str, ...]
    days: int = 0
    covers: tuple[tuple[Cover, Cover], ...] = ()
    mine_closed: tuple[Spans, ...] = ()
    other_closed: tuple[Spans, ...] = ()
    outside: tuple[str, ...] = ()
    passing: tuple[int, ...] = ()

    @property
    def cover(self) -> tuple[tuple[int, int], ...]:
        """By market how many days mine and the other cover."""
        return tuple((int(mine.covered.sum()), int(other.covered.sum())) for mine, other in self.covers)

    @property
    def names(self) -> tuple[str, ...]:
        return (*self.both, *self.mine, *self.other)


@lru_cache(maxsize=REMEMBERED)
def compared(
    asked: Wanted, mine: tuple[str, ...], other: tuple[str, ...], let: tuple[str, ...] | None = None
) -> Compared:
    """``mine`` beside the ``other`` list, for the buyers and days that are asked for; ``let`` are those that pass (None: all)."""
    inside = other if let is None else tuple(name for name in other if name in set(let))
    both = tuple(name for name in mine if name in set(other))
    told = (
        both,
        tuple(name for name in mine if name not in both),
        tuple(name for name in other if name not in both),
    )
    if asked.catalogue.ripening.refused:
        return Compared(*told)
    lists = (mine, other, (*mine, *told[2]), inside)
    covers = [[asked.cover(names, place) for place in range(len(asked.markets))] for names in lists]
    own, theirs, whole, passing = (np.array([one.covered for one in every]) for every in covers)
    return Compared(
        *told,
        own.shape[1],
        tuple(zip(covers[0], covers[1], strict=True)),
        by_market(asked, (whole & ~own).ravel()),
        by_market(asked, (whole & ~theirs).ravel()),
        tuple(name for name in other if name not in inside),
        tuple(int(one.sum()) for one in passing),
    )


@lru_cache(maxsize=8)
def ready(catalogue: Catalogue) -> dict[bool, tuple[str, ...]]:
    """By whether some nursery offers it, every cultivar of the records; nothing where no offer is recorded."""
    offered = nurseries(catalogue).map(len) > 0
    if not offered.any():
        return {}
    return {known: tuple(offered.index[offered == known]) for known in (True, False)}
