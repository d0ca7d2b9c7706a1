"""In which order the cultivars stand in a market on one basis, remembered by exactly what was asked; and who is not beaten.

Cultivars that no chain of shared site-seasons joins are never set against each other: each such group has an order of its
own, the largest group first.

What is handed out is shared: it is read, never written to.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np
import pandas as pd

from dashboard import market as markets
from dashboard.answers import filters as filtering
from dashboard.answers import prospects
from dashboard.answers.catalogue import Basis, Catalogue
from dashboard.answers.filters import REMEMBERED, Filters
from dashboard.answers.growing import growing
from dashboard.answers.merits import BETTER, bearings, merits
from dashboard.answers.standing import fits
from dashboard.market import Contest, Market, Wish, relaxing
from dashboard.market.desirability import merit
from dashboard.market.prospects import among_first, traits_of
from dashboard.market.relaxing import Opening
from dashboard.market.verdict import MISSES, QUALIFIES
from dashboard.market.weighing import places
from dashboard.records.summary import fruit_counts
from dashboard.terms.traits import CLASSES

FORETOLD = ("score_low", "score_high", "clears", "on_means", "on_fruit", "leads", "foremost", "hindmost")
RING_DRAWS = 120  # enough for how full a ring is drawn: give or take 4 in 100


@lru_cache(maxsize=REMEMBERED)
def ranked(
    catalogue: Catalogue, filters: Filters, market: Market | None, basis: Basis, top: int
) -> pd.DataFrame:
    """The passing cultivars by group; in each those that qualify first, by expected score, then those that may, by score, those
    not known, and those that miss, by the chance (in whole per cent) that they do not after all, then by score; then by name.

    Parameters
    ----------
    catalogue : Catalogue
    filters : Filters
        Who passes.
    market : Market or None
        None for no market.
    basis : Basis
        Site and ripeness that figures stand for.
    top : int
        Of so many first places ``leads`` tells the chance.

    Returns
    -------
    DataFrame
        One row a passing cultivar. rank: place within the group. score: 0 to 1. leads: chance of being among the ``top`` of the
        group that score most and clear every limit. foremost, hindmost: places among those of it that qualify as all weights are
        moved (``weighing``). NaN where nothing can be foretold.
    """
    table, order = _standings(catalogue, market, basis)
    passes = filtering.passes(catalogue, filters)
    rows = order[passes[order]]
    found = table.take(rows)
    found.insert(0, "rank", found.groupby("group", sort=False).cumcount().to_numpy() + 1)
    outlook = prospects.outlooks(catalogue, market, basis) if market is not None else None
    if market is None or outlook is None:
        return found
    moved = prospects.shaken_scores(catalogue, market, basis)
    leads, foremost, hindmost = (np.full(len(table), np.nan) for _ in range(3))
    for group in _each(table["group"].to_numpy(), passes):
        leads[group] = among_first(outlook, group, top)[group]
        if moved is not None:
            sure = group & (table["verdict"] == QUALIFIES).to_numpy()
            moves = places(moved, table["score"].to_numpy(), sure)
            foremost[moves.index], hindmost[moves.index] = moves["foremost"], moves["hindmost"]
    return found.assign(leads=leads[rows], foremost=foremost[rows], hindmost=hindmost[rows])


@lru_cache(maxsize=REMEMBERED)
def shortlisted(
    catalogue: Catalogue, shortlist: tuple[str, ...], market: Market | None, basis: Basis
) -> pd.DataFrame:
    """The shortlist in its own order; rank is the place within it."""
    table, order = _standings(catalogue, market, basis)
    names = [name for name in dict.fromkeys(shortlist) if name in table.index]
    rows = order[np.isin(order, table.index.get_indexer(pd.Index(names)))]
    found = table.take(rows)
    found.insert(0, "rank", np.arange(1, len(found) + 1))
    return found.loc[names]


@lru_cache(maxsize=64)
def groups(catalogue: Catalogue, market: Market | None, basis: Basis) -> np.ndarray:
    """(cultivars,) the group each is joined to through shared site-seasons in every trait the market asks about, the largest 0."""
    asked = (traits_of(market) if market else ()) or tuple(BETTER)
    worth = catalogue.equal if basis.ripeness == "equal" else catalogue.worth
    index = catalogue.cultivars.index
    joined = [
        pd.Series(worth[t].group, index=worth[t].values.index).reindex(index, fill_value=-1) for t in asked
    ]
    together = np.column_stack(
        [np.maximum(group.to_numpy(), 0) for group in joined]
    )  # one without a reading is set against nobody
    _, code, sizes = np.unique(together, axis=0, return_inverse=True, return_counts=True)
    place = np.empty(len(sizes), dtype=int)
    place[np.argsort(-sizes, kind="stable")] = np.arange(len(sizes))
    return place[code.ravel()]


def _each(group: np.ndarray, among: np.ndarray) -> list[np.ndarray]:
    """The members of each group that has any ``among``, as True and False."""
    return [among & (group == number) for number in np.unique(group[among])]


@lru_cache(maxsize=REMEMBERED)
def not_beaten(catalogue: Catalogue, filters: Filters, market: Market | None, basis: Basis) -> np.ndarray:
    """Who passes, is taken by the market, and is bettered by no other such one in size, sugar and firmness at once, each as the
    market wishes it: more is better where it wishes nothing.

    Parameters
    ----------
    catalogue : Catalogue
    filters : Filters
        Who passes.
    market : Market or None
        None for no market.
    basis : Basis
        Site and ripeness that figures stand for.

    Returns
    -------
    ndarray of bool
        (cultivars,) in catalogue order, read-only.
    """
    estimates = merits(catalogue, market, basis)
    answer = np.zeros(len(estimates), dtype=bool)
    for group in _rivals(catalogue, filters, market, basis):
        answer[group] = markets.not_beaten(estimates[group], BETTER)
    answer.setflags(write=False)
    return answer


@lru_cache(maxsize=REMEMBERED)
def sure_not_beaten(
    catalogue: Catalogue, filters: Filters, market: Market | None, basis: Basis
) -> np.ndarray | None:
    """The chance of each to be ``not_beaten``, over the doubt in the estimates.

    Parameters
    ----------
    catalogue : Catalogue
    filters : Filters
        Who passes.
    market : Market or None
        None for no market.
    basis : Basis
        Site and ripeness that figures stand for.

    Returns
    -------
    ndarray of float or None
        (cultivars,) 0 to 1, read-only; 0 for those that do not pass or are not taken, None where nothing can be foretold.
    """
    if not all(catalogue.worth[trait].modelled for trait in BETTER):
        return None
    answer = np.zeros(len(catalogue.cultivars))
    for group in _rivals(catalogue, filters, market, basis):
        answer += _contest(catalogue, basis, bearings(market)).chance(group)
    answer.setflags(write=False)
    return answer


def _rivals(catalogue: Catalogue, filters: Filters, market: Market | None, basis: Basis) -> list[np.ndarray]:
    """Those that pass and are taken, by group."""
    among = filtering.passes(catalogue, filters) & fits(catalogue, market, basis)["taken"].to_numpy()
    return _each(groups(catalogue, market, basis), among)


@lru_cache(maxsize=2)  # few: up to 64 MB each
def _contest(catalogue: Catalogue, basis: Basis, ways: tuple[Wish | None, ...]) -> Contest:
    drawn = [
        merit(way, prospects.draws(catalogue, trait, basis)[:RING_DRAWS])
        for trait, way in zip(BETTER, ways, strict=True)
    ]
    return Contest(np.stack(drawn), [1.0] * len(BETTER))


@lru_cache(maxsize=REMEMBERED)
def bounds(
    catalogue: Catalogue, market: Market | None, basis: Basis
) -> dict[str, tuple[float | None, float | None]]:
    """The means that clear the limits of a market, by trait.

    Parameters
    ----------
    catalogue : Catalogue
    market : Market or None
        None for no market.
    basis : Basis
        Site and ripeness that figures stand for.

    Returns
    -------
    dict of str to (float or None, float or None)
        Lowest and highest mean in SI units. Of a limit on a share of fruit it is the mean that has that share, where a model tells
        it, else its own bound.
    """
    found: dict[str, tuple[float | None, float | None]] = {}
    foretellable = market is not None and prospects.outlooks(catalogue, market, basis) is not None
    for limit in market.limits if market else ():
        if limit.kind != "trait":
            continue
        ends = (limit.at_least, limit.at_most)
        if foretellable and limit.share is not None:
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
    fit, passes = fits(catalogue, market, basis), filtering.passes(catalogue, filters)
    return tuple(relaxing.nearest_misses(fit, fit["clears"].to_numpy(), passes, _spreads(catalogue, basis)))


@lru_cache(maxsize=REMEMBERED)
def _standings(catalogue: Catalogue, market: Market | None, basis: Basis) -> tuple[pd.DataFrame, np.ndarray]:
    """Every cultivar's row of a ranking in catalogue order, and the order in which they are ranked."""
    fit = fits(catalogue, market, basis)
    forecast = prospects.prospects(catalogue, market, basis) if market else None
    foretold = forecast if forecast is not None else pd.DataFrame(index=fit.index)
    table = pd.concat([fit[["verdict", "taken", "score"]], _columns(catalogue, basis)], axis=1)
    table["group"] = groups(catalogue, market, basis)
    for name in FORETOLD:
        table[name] = foretold.get(name, np.nan)
    if forecast is not None:
        table["score"] = forecast["expected"]
    score = np.nan_to_num(table["score"].to_numpy(), nan=-1.0)
    word = table["verdict"].cat.codes.to_numpy()
    missing = (table["verdict"] == MISSES).to_numpy()
    after_all = np.where(missing, np.floor(100 * np.nan_to_num(table["clears"].to_numpy(dtype=float))), 0)
    names = np.arange(len(fit))  # sorted already
    return table, np.lexsort((names, -score, -after_all, word, table["group"].to_numpy()))


@lru_cache(maxsize=64)
def _spreads(catalogue: Catalogue, basis: Basis) -> dict[str, float]:
    """By trait, how far cultivars lie apart."""
    return {trait: float(frame["estimate"].std()) for trait, frame in catalogue.figures[basis].items()}


@lru_cache(maxsize=64)
def _columns(catalogue: Catalogue, basis: Basis) -> pd.DataFrame:
    columns: dict[str, Any] = {name: catalogue.cultivars[name] for name in (*CLASSES, "status", "check")}
    for name in ("first", "middle", "last", "from_check", "seasons", "sites"):
        columns[name] = catalogue.windows[name]
    index = catalogue.cultivars.index
    sampled = catalogue.summaries["cultivar"]
    columns["samples"] = sampled.value_counts().reindex(index, fill_value=0)
    fruit = pd.Series(fruit_counts(catalogue.summaries, catalogue.fruit)).groupby(sampled.to_numpy()).sum()
    columns["fruit"] = fruit.reindex(index, fill_value=0)
    columns |= {str(name): told for name, told in growing(catalogue).items()}
    values = catalogue.figures[basis]
    if basis.site:  # what the figures at one site rest on there
        columns |= {name: values["size"][name] for name in ("seasons", "sites", "samples", "fruit")}
    columns |= {name: fact.values for name, fact in catalogue.own_facts.items()}
    for trait, frame in values.items():
        columns |= {trait: frame["estimate"], f"{trait}_low": frame["low"], f"{trait}_high": frame["high"]}
    return pd.DataFrame(columns, index=index)
