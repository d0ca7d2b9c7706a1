"""How all cultivars stand in a market on one basis, remembered by exactly what was asked: who clears it, what each scores, in
which order, and who is not beaten.

What is handed out is shared: it is read, never written to.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
import pandas as pd

from dashboard import filters as filtering
from dashboard import market as markets
from dashboard import prospects
from dashboard.catalogue import Basis, Catalogue
from dashboard.filters import REMEMBERED, Filters
from dashboard.market import Contest, Limit, Market, relaxing
from dashboard.market.account import Cost, costs
from dashboard.market.profile import MarketError
from dashboard.market.prospects import among_first
from dashboard.market.relaxing import Opening
from dashboard.market.statements import stated
from dashboard.market.weighing import places
from dashboard.traits import CLASSES, TRAITS

FORETOLD = ("score_low", "score_high", "clears", "on_means", "on_fruit", "leads", "foremost", "hindmost")
RING_DRAWS = 120  # enough for how full a ring is drawn: give or take 4 in 100
EVEN = 0.5  # a chance from which a thing is more likely than not
BETTER = {"size": "more", "sugar": "more", "firmness": "more"}


@lru_cache(maxsize=REMEMBERED)
def profile(catalogue: Catalogue, market: str, own: tuple[str, ...]) -> Market | None:
    """The market asked for, its limits and wishes those of ``own`` where there are any; None for no market.

    Lines that cannot be followed leave the market as it is: whoever states them is told before (``state``, ``address``).
    """
    base = catalogue.markets.get(market)
    if not own:
        return base
    try:
        return stated(own, base)
    except MarketError:
        return base


@lru_cache(maxsize=REMEMBERED)
def fits(catalogue: Catalogue, market: Market | None, basis: Basis) -> pd.DataFrame:
    """``market.fit`` of all cultivars, in catalogue order."""
    if market is None:
        return markets.neutral(catalogue.cultivars)
    told = prospects.shares(catalogue, market, basis)
    return markets.fit(market, catalogue.cultivars, catalogue.figures[basis], catalogue.fruit, told)


@lru_cache(maxsize=REMEMBERED)
def reasons(catalogue: Catalogue, market: Market | None, basis: Basis, units: str) -> dict[str, str]:
    """Why each cultivar is in or out, in one sentence; "barely" where its estimates and the chance do not agree."""
    fit = fits(catalogue, market, basis)
    written = markets.reasons(market, fit, units)
    told = prospects.prospects(catalogue, market, basis) if market else None
    if told is not None:
        barely = ((told["clears"] < EVEN) == fit["meets"]) & told["clears"].notna()
        written = written.where(~barely, written.str.replace(":", ", barely:", n=1))
    return {str(name): sentence for name, sentence in written.items()}


@lru_cache(maxsize=REMEMBERED)
def counts(
    catalogue: Catalogue, filters: Filters, basis: Basis, changed: tuple[str, Market | None] | None = None
) -> dict[str, int]:
    """How many of the passing cultivars clear every limit of each market on offer; "" is no market. ``changed`` is one of
    them, by its key, as the visitor has it."""
    passes = filtering.passes(catalogue, filters)
    every: dict[str, Market | None] = {"": None, **catalogue.markets}
    if changed and changed[0] in every:
        every[changed[0]] = changed[1]
    return {key: int((passes & _meets(catalogue, one, basis)).sum()) for key, one in every.items()}


@lru_cache(maxsize=REMEMBERED)
def clearing(catalogue: Catalogue, filters: Filters, market: Market | None, basis: Basis) -> tuple[str, ...]:
    """The passing cultivars that clear every limit."""
    return tuple(
        catalogue.cultivars.index[filtering.passes(catalogue, filters) & _meets(catalogue, market, basis)]
    )


@lru_cache(maxsize=REMEMBERED)
def ranked(
    catalogue: Catalogue, filters: Filters, market: Market | None, basis: Basis, top: int
) -> pd.DataFrame:
    """The passing cultivars: those that clear the market first, by expected score; then the others, by the chance (in whole
    per cent) that they do after all, then by score; then by name.

    leads is the chance of being among the ``top`` of them that score most and clear every limit; foremost and hindmost the
    places among those that clear it as all weights are moved (``weighing``). NaN where nothing can be foretold.
    """
    table, order = _standings(catalogue, market, basis)
    passes = filtering.passes(catalogue, filters)
    rows = order[passes[order]]
    numbered = _numbered(table.take(rows))
    if market is not None and (outlook := prospects.outlooks(catalogue, market, basis)) is not None:
        numbered["leads"] = among_first(outlook, passes, top)[rows]
        moved = prospects.shaken_scores(catalogue, market, basis)
        if moved is not None:
            told = places(moved, table["score"].to_numpy(), passes & table["meets"].to_numpy())
            for end in ("foremost", "hindmost"):
                numbered[end] = told[end].reindex(rows).to_numpy()
    return numbered


@lru_cache(maxsize=REMEMBERED)
def shortlisted(
    catalogue: Catalogue, shortlist: tuple[str, ...], market: Market | None, basis: Basis
) -> pd.DataFrame:
    """The shortlist in its own order; rank is the place within it."""
    table, order = _standings(catalogue, market, basis)
    names = [name for name in dict.fromkeys(shortlist) if name in table.index]
    places = table.index.get_indexer(pd.Index(names))
    return _numbered(table.take(order[np.isin(order, places)])).loc[names]


@lru_cache(maxsize=REMEMBERED)
def not_beaten(catalogue: Catalogue, filters: Filters, market: Market | None, basis: Basis) -> np.ndarray:
    """Who passes, clears the market, and is bettered by no other such one in size, sugar and firmness at once."""
    among = filtering.passes(catalogue, filters) & _meets(catalogue, market, basis)
    values = catalogue.figures[basis]
    estimates = pd.DataFrame({trait: values[trait]["estimate"] for trait in BETTER})
    answer = np.zeros(len(among), dtype=bool)
    answer[among] = markets.not_beaten(estimates[among], BETTER)
    answer.setflags(write=False)
    return answer


@lru_cache(maxsize=REMEMBERED)
def sure_not_beaten(
    catalogue: Catalogue, filters: Filters, market: Market | None, basis: Basis
) -> np.ndarray | None:
    """Of those that pass and clear the market, the chance of not being beaten in size, sugar and firmness at once; 0 for the
    others, None where nothing can be foretold."""
    if not all(catalogue.worth[trait].modelled for trait in BETTER):
        return None
    among = filtering.passes(catalogue, filters) & _meets(catalogue, market, basis)
    answer = _contest(catalogue, basis).chance(among)
    answer.setflags(write=False)
    return answer


@lru_cache(maxsize=2)  # few: up to 64 MB each
def _contest(catalogue: Catalogue, basis: Basis) -> Contest:
    drawn = [prospects.draws(catalogue, trait, basis)[:RING_DRAWS] for trait in BETTER]
    return Contest(np.stack(drawn), [1.0] * len(BETTER))


@lru_cache(maxsize=REMEMBERED)
def bounds(
    catalogue: Catalogue, market: Market | None, basis: Basis
) -> dict[str, tuple[float | None, float | None]]:
    """By trait with limits, the lowest and highest mean (SI) that clear them: of a limit on a share of fruit, the mean that has
    that share, where a model tells it, else its own bound."""
    found: dict[str, tuple[float | None, float | None]] = {}
    told = market is not None and prospects.outlooks(catalogue, market, basis) is not None
    for limit in market.limits if market else ():
        if limit.kind != "trait":
            continue
        ends = (limit.at_least, limit.at_most)
        if told and limit.share is not None:
            least, most = prospects.span(catalogue, limit, basis)
            ends = (least if np.isfinite(least) else None, most if np.isfinite(most) else None)
        low, high = found.get(limit.key, (None, None))
        lows, highs = ([end for end in pair if end is not None] for pair in ((low, ends[0]), (high, ends[1])))
        found[limit.key] = (max(lows, default=None), min(highs, default=None))
    return found


@lru_cache(maxsize=REMEMBERED)
def openings(
    catalogue: Catalogue, filters: Filters, market: Market | None, basis: Basis
) -> tuple[Opening, ...]:
    """What relaxing one limit would let in of the passing cultivars, most first."""
    if market is None:
        return ()
    return relaxing.openings(market, fits(catalogue, market, basis), filtering.passes(catalogue, filters))


@lru_cache(maxsize=REMEMBERED)
def nearest(catalogue: Catalogue, filters: Filters, market: Market | None, basis: Basis) -> tuple[str, ...]:
    """Who of the passing cultivars misses the market by least."""
    if market is None:
        return ()
    told = prospects.prospects(catalogue, market, basis)
    chance = None if told is None else told["clears"].to_numpy()
    fit, passes = fits(catalogue, market, basis), filtering.passes(catalogue, filters)
    return tuple(relaxing.nearest_misses(fit, chance, passes, _spreads(catalogue, basis)))


@dataclass(frozen=True, eq=False)
class Account:
    """``prospect`` is the cultivar's row of ``prospects`` (None where nothing can be foretold); ``needed`` for each missed limit
    on a trait its mean, and the lowest and highest with which the limit holds."""

    costs: tuple[Cost, ...]
    prospect: pd.Series | None
    needed: tuple[tuple[Limit, float, float, float], ...]
    holds: dict[Limit, float]  # the chance that each limit holds alone; nothing where it cannot be foretold

    def chance_of(self, part: Limit) -> float:
        """The chance that the limit of which ``part`` is one bound holds; NaN where it is not known."""
        for limit, chance in self.holds.items():
            whole = (limit.key, limit.share) == (part.key, part.share)
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
    return Account(costs(market, values), None if told is None else told.iloc[row], tuple(needed), holds)


def _meets(catalogue: Catalogue, market: Market | None, basis: Basis) -> np.ndarray:
    return fits(catalogue, market, basis)["meets"].to_numpy()


@lru_cache(maxsize=REMEMBERED)
def _standings(catalogue: Catalogue, market: Market | None, basis: Basis) -> tuple[pd.DataFrame, np.ndarray]:
    """Every cultivar's row of a ranking in catalogue order, and the order in which they are ranked."""
    fit = fits(catalogue, market, basis)
    told = prospects.prospects(catalogue, market, basis) if market else None
    foretold = told if told is not None else pd.DataFrame(index=fit.index)
    table = pd.concat([fit[["meets", "score"]], _columns(catalogue, basis)], axis=1)
    for name in FORETOLD:
        table[name] = foretold.get(name, np.nan)
    if told is not None:
        table["score"] = told["expected"]
    score = np.nan_to_num(table["score"].to_numpy(), nan=-1.0)
    out = ~fit["meets"].to_numpy()
    after_all = np.where(out, np.floor(100 * np.nan_to_num(table["clears"].to_numpy(dtype=float))), 0)
    order = np.lexsort((np.arange(len(fit)), -score, -after_all, out))  # names are sorted already
    return table, order


@lru_cache(maxsize=64)
def _spreads(catalogue: Catalogue, basis: Basis) -> dict[str, float]:
    """By trait, how far cultivars lie apart."""
    return {trait: float(frame["estimate"].std()) for trait, frame in catalogue.figures[basis].items()}


def _numbered(table: pd.DataFrame) -> pd.DataFrame:
    table.insert(0, "rank", np.arange(1, len(table) + 1))
    return table


@lru_cache(maxsize=64)
def _columns(catalogue: Catalogue, basis: Basis) -> pd.DataFrame:
    columns: dict[str, Any] = {name: catalogue.cultivars[name] for name in (*CLASSES, "status", "check")}
    for name in ("first", "middle", "last", "from_check", "seasons", "sites"):
        columns[name] = catalogue.windows[name]
    index = catalogue.cultivars.index
    for name in ("samples", "fruit"):
        table = catalogue.summaries if name == "samples" else catalogue.fruit
        columns[name] = table["cultivar"].value_counts().reindex(index, fill_value=0)
    values = catalogue.figures[basis]
    if basis.site:  # what the figures at one site rest on there
        columns |= {name: values["size"][name] for name in ("seasons", "sites", "samples", "fruit")}
    for trait in TRAITS:
        frame = values[trait]
        columns |= {trait: frame["estimate"], f"{trait}_low": frame["low"], f"{trait}_high": frame["high"]}
    return pd.DataFrame(columns, index=index)
