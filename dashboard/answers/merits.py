"""Which way size, sugar and firmness are to go for a market, and how far each cultivar is on it."""

from __future__ import annotations

import pandas as pd

from dashboard.answers.catalogue import Basis, Catalogue
from dashboard.market import Market, Wish
from dashboard.market.desirability import bearing, merit
from dashboard.terms.traits import HEADLINE

BETTER = dict.fromkeys(HEADLINE, "more")  # once they are merits


def bearings(market: Market | None) -> tuple[Wish | None, ...]:
    """What the market wishes of each trait of ``BETTER``; None where more is better, as where it wishes nothing."""
    return tuple(bearing(market.wishes if market else (), trait) for trait in BETTER)


def merits(catalogue: Catalogue, market: Market | None, basis: Basis) -> pd.DataFrame:
    """One row a cultivar: its estimates in the traits of ``BETTER``, turned so that more is what the market wishes."""
    values, found = catalogue.figures[basis], {}
    for trait, way in zip(BETTER, bearings(market), strict=True):
        found[trait] = merit(way, values[trait]["estimate"].to_numpy(dtype=float))
    return pd.DataFrame(found, index=catalogue.cultivars.index)
