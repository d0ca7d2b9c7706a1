"""What a market may expect of every cultivar of a catalogue, over joint draws of how good each truly is; drawn once and
remembered for all visitors.

Draws belong to the records, what they are welcome for to a wish, and only the last sum to its weights: moving a weight draws
nothing anew.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np
import pandas as pd

from dashboard.answers.catalogue import Basis, Catalogue
from dashboard.estimates import EQUAL_FIRMNESS, Worth, together
from dashboard.estimates.chances import FRUIT, chances
from dashboard.estimates.draws import error_correlation, errors, long_run_draws
from dashboard.estimates.one_season import BORROWED
from dashboard.estimates.shares import means_for_share, seasons_with_share, share_of_fruit
from dashboard.estimates.worked_out import worked_out_errors
from dashboard.market import Limit, Market, Wish
from dashboard.market.prospects import Outlook, expected, log_welcome, outlook, traits_of
from dashboard.market.weighing import shaken
from dashboard.terms.traits import TRAITS

FEW_DRAWS = 250  # of the draws, for what is only looked at in differences


@lru_cache(maxsize=64)
def refused(catalogue: Catalogue, market: Market | None, basis: Basis) -> str:
    """Why nothing can be foretold for a market: "" where it can."""
    if market is None:
        return ""
    on_fruit = {limit.key for limit in market.limits if limit.share is not None}
    for trait in traits_of(market):
        found = _worth(catalogue, trait, basis)
        if not found.modelled:
            return found.plan.refused
        if trait in on_fruit and (why := _refused_on_fruit(found, basis.site)):
            return why
    return ""


def shares(catalogue: Catalogue, market: Market, basis: Basis) -> dict[Limit, np.ndarray]:
    """By limit on fruit, what share of each cultivar's future fruit lies within it if its mean is as estimated, where a model tells."""
    asked = [limit for limit in market.limits if limit.kind == "trait" and limit.share is not None]
    within = {limit: _share(catalogue, limit, basis) for limit in asked}
    return {limit: share for limit, share in within.items() if share is not None}


@lru_cache(maxsize=8)
def size_share(catalogue: Catalogue, market: Market | None, basis: Basis) -> np.ndarray:
    """(cultivars,) of its future fruit, the share within all size limits of the market at once, if its mean is as estimated; 1 where
    nothing is asked, or no share can be told."""
    return _within(catalogue, _sizes(market), basis)


@lru_cache(maxsize=8)
def share_for_both(
    catalogue: Catalogue, first: Market | None, second: Market | None, basis: Basis
) -> np.ndarray:
    """(cultivars,) the share within all size limits of both markets, as ``size_share``."""
    return _within(catalogue, [*_sizes(first), *_sizes(second)], basis)


def _sizes(market: Market | None) -> list[Limit]:
    return [one for one in market.limits if one.kind == "trait" and one.key == "size"] if market else []


def _within(catalogue: Catalogue, asked: list[Limit], basis: Basis) -> np.ndarray:
    lows = [one.at_least for one in asked if one.at_least is not None]
    highs = [one.at_most for one in asked if one.at_most is not None]
    if lows and highs and max(lows) >= min(highs):
        return np.zeros(len(catalogue.cultivars))
    whole = Limit("trait", "size", at_least=max(lows, default=None), at_most=min(highs, default=None))
    share = _share(catalogue, whole, basis) if asked else None
    return np.ones(len(catalogue.cultivars)) if share is None else np.nan_to_num(share, nan=1.0)


@lru_cache(maxsize=8)
def outlooks(catalogue: Catalogue, market: Market, basis: Basis) -> Outlook | None:
    """``prospects.outlook`` of all cultivars, in catalogue order; None where ``refused`` says why."""
    if refused(catalogue, market, basis):
        return None
    drawn = {trait: draws(catalogue, trait, basis) for trait in traits_of(market)}
    spans = {limit: span(catalogue, limit, basis) for limit in market.limits if limit.share is not None}
    return outlook(market, catalogue.cultivars, drawn, spans, _logs(catalogue, market, basis))


@lru_cache(maxsize=64)
def span(catalogue: Catalogue, limit: Limit, basis: Basis) -> tuple[float, float]:
    """Lowest and highest long-run mean with which a limit on a trait holds: its bounds or, of a limit on a share of fruit,
    what the mean must be for that share."""
    if limit.share is None:
        low = -np.inf if limit.at_least is None else limit.at_least
        return low, np.inf if limit.at_most is None else limit.at_most
    found = _worth(catalogue, limit.key, basis)
    return means_for_share(found, limit.at_least, limit.at_most, limit.share, basis.site, limit.seasons)


@lru_cache(maxsize=64)
def prospects(catalogue: Catalogue, market: Market, basis: Basis) -> pd.DataFrame | None:
    """``prospects.expected`` of all cultivars, in catalogue order."""
    found = outlooks(catalogue, market, basis)
    return None if found is None else expected(found, catalogue.cultivars.index)


@lru_cache(maxsize=64)
def shaken_scores(catalogue: Catalogue, market: Market, basis: Basis) -> np.ndarray | None:
    """(corners, cultivars) expected scores with the weights moved up and down, as ``weighing.shaken``."""
    foretold = prospects(catalogue, market, basis)
    if foretold is None or not market.wishes:
        return None
    few = [log[:FEW_DRAWS] for log in _logs(catalogue, market, basis)]
    return shaken([wish.weight for wish in market.wishes], few, foretold["expected"].to_numpy())


@lru_cache(maxsize=48)
def draws(catalogue: Catalogue, trait: str, basis: Basis) -> np.ndarray:
    """(draws, cultivars) long-run means in SI, cultivars in catalogue order; NaN without a reading."""
    found = _worth(catalogue, trait, basis)
    drawn = long_run_draws(found, _errors(catalogue, basis.ripeness)[trait], basis.site)
    if found.values.index.equals(catalogue.cultivars.index):
        return drawn
    whole = np.full((len(drawn), len(catalogue.cultivars)), np.nan, dtype=drawn.dtype)
    places = catalogue.cultivars.index.get_indexer(found.values.index)
    whole[:, places[places >= 0]] = drawn[:, places >= 0]
    return whole


def _worth(catalogue: Catalogue, trait: str, basis: Basis) -> Worth:
    return (catalogue.equal if basis.ripeness == "equal" else catalogue.worth)[trait]


@lru_cache(maxsize=4)
def _errors(catalogue: Catalogue, ripeness: str) -> dict[str, np.ndarray]:
    basis = Basis("", ripeness)
    worths = {trait: _worth(catalogue, trait, basis) for trait in TRAITS}
    drawn = errors(worths, error_correlation(worths, EQUAL_FIRMNESS if ripeness == "equal" else ()))
    for key in catalogue.own_traits:  # as the measured ones say, which stay as they are
        alike = together(catalogue.summaries, (*TRAITS, key)).correlation
        drawn[key] = worked_out_errors(catalogue.worth[key], drawn, alike[key], alike)
    return drawn


def _logs(catalogue: Catalogue, market: Market, basis: Basis) -> list[np.ndarray]:
    return [_log(catalogue, replace(wish, weight=1.0, source=""), basis) for wish in market.wishes]


@lru_cache(maxsize=48)
def _log(catalogue: Catalogue, wish: Wish, basis: Basis) -> np.ndarray:
    return log_welcome(wish, draws(catalogue, wish.key, basis))


@lru_cache(maxsize=64)
def _share(catalogue: Catalogue, limit: Limit, basis: Basis) -> np.ndarray | None:
    found = _worth(catalogue, limit.key, basis)
    if _refused_on_fruit(found, basis.site):
        return None
    means = catalogue.figures[basis][limit.key]["estimate"].to_numpy(dtype=float)
    return share_of_fruit(found, means, limit.at_least, limit.at_most, basis.site, limit.seasons)


def seasons_of_ten(catalogue: Catalogue, limit: Limit, mean: float, basis: Basis) -> float:
    """In how many seasons of ten a cultivar of this long-run mean has the share of fruit that a limit asks for; NaN where it asks
    for none, or no model tells."""
    found = _worth(catalogue, limit.key, basis)
    if limit.share is None or _refused_on_fruit(found, basis.site):
        return float("nan")
    return seasons_with_share(found, mean, limit.at_least, limit.at_most, limit.share, basis.site)


def _refused_on_fruit(found: Worth, site: str) -> str:
    """Why the share of a trait's future fruit cannot be told; "" where it can."""
    ratio = BORROWED if found.plan.one_season else None
    return chances(found, 0.0, site=site if site in found.at else None, ratio=ratio)[FRUIT].refused
