"""What a market says of every cultivar on one basis, remembered by exactly what was asked: the word for each, why, and how many
of each word.

What is handed out is shared: it is read, never written to.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

import numpy as np
import pandas as pd

from dashboard import market as markets
from dashboard.answers import filters as filtering
from dashboard.answers import prospects
from dashboard.answers.catalogue import Basis, Catalogue
from dashboard.answers.filters import REMEMBERED, Filters
from dashboard.market import Market
from dashboard.market.placed import placed
from dashboard.market.profile import MarketError
from dashboard.market.statements import stated
from dashboard.market.verdict import MAY_QUALIFY, NOT_KNOWN, QUALIFIES, VERDICTS
from dashboard.site.winters import Winters


class Count(NamedTuple):
    """Of the passing cultivars, how many qualify, how many may, and of how many it is not known."""

    qualify: int
    may: int
    unknown: int = 0


@lru_cache(maxsize=REMEMBERED)
def profile(
    catalogue: Catalogue, market: str, own: tuple[str, ...], winters: Winters | None = None
) -> Market | None:
    """The market asked for, its limits and wishes those of ``own`` where there are any; None for no market. What it asks of a place is
    asked of these ``winters``.

    Lines that cannot be followed leave the market as it is: whoever states them is told before (``state``, ``address``).
    """
    base = catalogue.markets.get(market)
    if not own:
        return placed(base, winters)
    try:
        return placed(stated(own, base, catalogue.own_traits), winters)
    except MarketError:
        return placed(base, winters)


@lru_cache(maxsize=REMEMBERED)
def fits(catalogue: Catalogue, market: Market | None, basis: Basis) -> pd.DataFrame:
    """``market.fit`` of all cultivars, in catalogue order, with what the market says of each (``market.judged``); without a
    market everything qualifies."""
    if market is None:
        return markets.judged(markets.neutral(catalogue.cultivars), None)
    told = prospects.shares(catalogue, market, basis)
    fit = markets.fit(market, catalogue.cultivars, catalogue.figures[basis], catalogue.fruit, told)
    return markets.judged(fit, prospects.outlooks(catalogue, market, basis))


@lru_cache(maxsize=REMEMBERED)
def reasons(catalogue: Catalogue, market: Market | None, basis: Basis, units: str) -> dict[str, str]:
    """What the market says of each cultivar and why, in one sentence."""
    written = markets.reasons(market, fits(catalogue, market, basis), units)
    return {str(name): sentence for name, sentence in written.items()}


@lru_cache(maxsize=REMEMBERED)
def counts(
    catalogue: Catalogue,
    filters: Filters,
    basis: Basis,
    changed: tuple[str, Market | None] | None = None,
    winters: Winters | None = None,
) -> dict[str, Count]:
    """How many of the passing cultivars qualify, and may qualify, for each market on offer; "" is no market. ``changed`` is one
    of them, by its key, as the visitor has it; ``winters`` are those of the place that was chosen."""
    every: dict[str, Market | None] = {"": None, **{key: profile(catalogue, key, (), winters) for key in catalogue.markets}}  # fmt: skip
    if changed and changed[0] in every:
        every[changed[0]] = changed[1]
    return {key: counted(catalogue, filters, one, basis) for key, one in every.items()}


@lru_cache(maxsize=REMEMBERED)
def counted(catalogue: Catalogue, filters: Filters, market: Market | None, basis: Basis) -> Count:
    """How many of the passing cultivars qualify for a market, how many may, and of how many it is not known."""
    places = fits(catalogue, market, basis)["verdict"].cat.codes.to_numpy()[
        filtering.passes(catalogue, filters)
    ]
    of_each = np.bincount(places, minlength=len(VERDICTS))
    return Count(*(int(of_each[VERDICTS.index(word)]) for word in (QUALIFIES, MAY_QUALIFY, NOT_KNOWN)))


@lru_cache(maxsize=REMEMBERED)
def taken(catalogue: Catalogue, filters: Filters, market: Market | None, basis: Basis) -> tuple[str, ...]:
    """The passing cultivars that qualify or may: what the buyer's days can be covered with."""
    inside = filtering.passes(catalogue, filters) & fits(catalogue, market, basis)["taken"].to_numpy()
    return tuple(catalogue.cultivars.index[inside])
