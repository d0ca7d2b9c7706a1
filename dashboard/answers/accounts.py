"""One cultivar's account with a market: what each wish costs it, and what it would take to clear the limits it misses."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import pandas as pd

from dashboard.answers import prospects
from dashboard.answers.catalogue import Basis, Catalogue
from dashboard.answers.filters import REMEMBERED
from dashboard.answers.standing import fits
from dashboard.market import Limit, Market
from dashboard.market.costs import Cost, costs


@dataclass(frozen=True, eq=False)
class Account:
    """``prospect`` is the cultivar's row of ``prospects`` (None where nothing can be foretold); ``needed`` for each missed limit
    on a trait its mean, and the lowest and highest with which the limit holds."""

    costs: tuple[Cost, ...]
    prospect: pd.Series | None
    needed: tuple[tuple[Limit, float, float, float], ...]
    holds: dict[Limit, float]  # the chance that each limit holds alone; nothing where it cannot be foretold
    seasons: dict[Limit, float]  # of limits on a share of fruit: in how many seasons of ten it has that share

    def chance_of(self, part: Limit) -> float:
        """The chance that the limit of which ``part`` is one bound holds; NaN where it is not known."""
        for limit, chance in self.holds.items():
            whole = (limit.key, limit.share, limit.seasons) == (part.key, part.share, part.seasons)
            if whole and (part.at_least, part.at_most) in ((limit.at_least, None), (None, limit.at_most)):
                return chance
        return float("nan")


@lru_cache(maxsize=REMEMBERED)
def account(catalogue: Catalogue, cultivar: str, market: Market | None, basis: Basis) -> Account | None:
    """What each wish of the market costs a cultivar, and what it would take to clear the limits that it misses."""
    if market is None or cultivar not in catalogue.cultivars.index:
        return None
    values = {trait: float(frame["estimate"][cultivar]) for trait, frame in catalogue.figures[basis].items()}
    told = prospects.prospects(catalogue, market, basis)
    row = catalogue.cultivars.index.get_indexer(pd.Index([cultivar]))[0]
    missed = fits(catalogue, market, basis)["missed"].iloc[row]
    needed = [
        (limit, values[limit.key], *prospects.span(catalogue, limit, basis))
        for limit, _ in missed
        if limit.kind == "trait" and (limit.share is None or told is not None)
    ]
    found = prospects.outlooks(catalogue, market, basis)
    holds = {} if found is None else dict(zip(market.limits, found.by_limit[:, row].tolist(), strict=True))
    seasons = {
        limit: prospects.seasons_of_ten(catalogue, limit, values[limit.key], basis)
        for limit in market.limits
        if limit.share is not None
    }
    return Account(
        costs(market, values), None if told is None else told.iloc[row], tuple(needed), holds, seasons
    )
