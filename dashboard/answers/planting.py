"""Who could be planted for one buyer or several: what each takes, how welcome it is beside its days, and who offers its trees."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

import numpy as np
import pandas as pd

from dashboard.answers import filters as filtering
from dashboard.answers import ranking, standing
from dashboard.answers.catalogue import Basis, Catalogue
from dashboard.answers.choices import on_offer
from dashboard.answers.class_weeks import class_of
from dashboard.answers.filters import REMEMBERED, Filters
from dashboard.market import Market
from dashboard.market.verdict import QUALIFIES

# How much each counts beside the score, where two cover the same days: a choice of ours.
EVIDENCE, OFFERED, SPOTTED = 0.1, 0.1, 0.1
ENOUGH = 5  # seasons, from which more evidence counts no more
WORST_SPOT, USUAL_SPOT = 5.0, 2.5  # 0 none to 5 severe; where it is not recorded
UNSCORED = 0.5


class Pool(NamedTuple):
    """Who may be planted: ``filters`` (picking time left out), only what some nursery ``offered`` last, whether fruit that only
    ``may`` qualify counts, ``kept`` whatever the filters say, ``barred`` never."""

    filters: Filters = Filters()
    offered: bool = False
    may: bool = True
    kept: tuple[str, ...] = ()
    barred: tuple[str, ...] = ()


@lru_cache(maxsize=REMEMBERED)
def takes(
    catalogue: Catalogue, markets: tuple[Market | None, ...], basis: Basis, may: bool = True
) -> pd.DataFrame:
    """(cultivars, markets by their place) whether each takes it: what qualifies or, with ``may``, what may."""
    told = {}
    for place, market in enumerate(markets):
        fit = standing.fits(catalogue, market, basis)
        told[place] = fit["taken"].to_numpy() if may else (fit["verdict"] == QUALIFIES).to_numpy()
    return pd.DataFrame(told, index=catalogue.cultivars.index)


@lru_cache(maxsize=REMEMBERED)
def could_be_planted(
    catalogue: Catalogue, markets: tuple[Market | None, ...], basis: Basis, pool: Pool
) -> tuple[str, ...]:
    """Who passes, was ever picked and is taken by one market at least; and ``kept``."""
    asked = filtering.passes(catalogue, replace(pool.filters, ripening=())) & catalogue.ripening.known
    asked = asked & takes(catalogue, markets, basis, pool.may).to_numpy().any(axis=1)
    if pool.offered:
        asked &= (nurseries(catalogue).map(len) > 0).to_numpy()
    index = catalogue.cultivars.index
    asked = (asked | index.isin(pool.kept)) & ~index.isin(pool.barred)
    return tuple(index[asked])


@lru_cache(maxsize=REMEMBERED)
def merits(catalogue: Catalogue, markets: tuple[Market | None, ...], basis: Basis) -> pd.DataFrame:
    """One row a cultivar, catalogue order: ``worth``, by which one is preferred to another that covers the same days, and what it
    is made of.

    score (0–1) and clears (the chance that all limits hold; NaN where none can be told), each by market (``score 0``, …) and the best
    of those that take it; verdict by market; seasons picked; bacterial_spot; nurseries; class; chill_requirement_h and _cp; first, middle, last day of an ordinary season.
    """
    known, taken = catalogue.cultivars, takes(catalogue, markets, basis)
    frame = pd.DataFrame(index=known.index)
    for place, market in enumerate(markets):
        rows = ranking.shortlisted(catalogue, tuple(known.index), market, basis)
        frame[f"score {place}"], frame[f"clears {place}"] = rows["score"], rows["clears"].astype(float)
        frame[f"verdict {place}"] = rows["verdict"].astype(str)
    for name in ("score", "clears"):
        each = frame[[f"{name} {place}" for place in range(len(markets))]].to_numpy(dtype=float)
        frame[name] = (
            pd.DataFrame(np.where(taken.to_numpy(), each, np.nan), index=known.index).max(axis=1).to_numpy()
        )
    frame["seasons"] = catalogue.windows["seasons"]
    frame["nurseries"] = nurseries(catalogue)
    frame["class"] = class_of(catalogue)
    frame[["bacterial_spot", "chill_requirement_h", "chill_requirement_cp"]] = known[
        ["bacterial_spot", "chill_requirement_h", "chill_requirement_cp"]
    ].astype(float)
    frame["worth"] = (
        frame["score"].fillna(UNSCORED)
        * frame["clears"].fillna(1.0)  # without a chance the averages decide: in full
        + EVIDENCE * frame["seasons"].clip(upper=ENOUGH) / ENOUGH
        + OFFERED * (frame["nurseries"].map(len) > 0)
        - SPOTTED * frame["bacterial_spot"].fillna(USUAL_SPOT) / WORST_SPOT
    )
    return frame


def offers_known(catalogue: Catalogue) -> bool:
    """Whether the records tell of anything that it can be bought."""
    return bool(nurseries(catalogue).map(len).any())


@lru_cache(maxsize=8)
def nurseries(catalogue: Catalogue) -> pd.Series:
    """By cultivar who offers trees of it: () for nobody. An offer counts in the newest season there are offers of, while trees are
    left or it is not said how many."""
    offers = on_offer(catalogue)
    told = {
        str(name): tuple(sorted(set(rows["nursery"].astype(str))))
        for name, rows in offers.groupby(offers["cultivar"].astype(str))
    }
    index = catalogue.cultivars.index
    return pd.Series([told.get(str(name), ()) for name in index], index=index, dtype=object)
