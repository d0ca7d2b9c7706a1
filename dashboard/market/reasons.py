"""What a market says of a cultivar and why, in one plain sentence in the reader's units."""

from __future__ import annotations

import math
from typing import Any

import pandas as pd

from dashboard.market.profile import Limit, Market
from dashboard.market.verdict import MAY_QUALIFY, MISSES, NOT_KNOWN
from dashboard.terms.traits import CLASSES, trait_called
from dashboard.terms.units import figure

WEAKEST = "Weakest point"  # the wish that is met least, or where every limit holds on average the limit least likely to


def reason(market: Market | None, row: Any, system: str) -> str:
    """One sentence for a row of ``standing.fits`` (a Series, or a named tuple of its columns); "" without a market.

    "Misses: 62 % of its fruit reach 2.50 in, 80 % wanted; flesh color is white, yellow wanted", "May qualify. Weakest point: size
    averages 2.52 in, at least 2.50 wanted" or "Qualifies. Weakest point: sugar 10.2 °Brix".
    """
    if market is None:
        return ""
    word = str(row.verdict)
    if word in (MISSES, NOT_KNOWN, MAY_QUALIFY):
        why = "; ".join(_shortfall(limit, observed, system) for limit, observed in row.missed)
        return f"{word.capitalize()}{_by_averages(row, word)}{f': {why}' if why else _doubt(row, system)}"
    told = "" if market.limits else "This market sets no limits"
    point = _weakest(market, row, system)
    return f"{word.capitalize()}{_by_averages(row, word)}. {point or told or 'Every limit holds'}".rstrip(
        ". "
    )


def reasons(market: Market | None, fit: pd.DataFrame, system: str) -> pd.Series:
    """``reason`` of every row of ``fit``; index as given."""
    sentences = [reason(market, row, system) for row in fit.itertuples(index=False)]
    return pd.Series(sentences, index=fit.index, name="reason", dtype="str")


def _by_averages(row: Any, word: str) -> str:
    """Said where no chance stands behind the word."""
    return " by its averages" if row.judged_by_averages and word != NOT_KNOWN else ""


def _doubt(row: Any, system: str) -> str:
    """Every average lies within its limit, and yet that is not sure: which limit is the least so."""
    limit, observed = row.least_sure
    if limit is None:
        return ": each limit holds on average, all of them at once hardly"
    if limit.kind == "class":
        return f": {_shortfall(limit, observed, system)}"
    if limit.kind == "place":
        return f". {WEAKEST}: {_in_winters(limit, observed)}"
    label = trait_called(limit.key).label.lower()
    if limit.share is not None:
        reached = f"{math.floor(100 * observed)} % of its fruit {_bounds(limit, system)}{in_seasons(limit)}"
        return f". {WEAKEST}: {label}, {reached}, {limit.share * 100:g} % wanted"
    ends = ((limit.at_least, "at least"), (limit.at_most, "at most"))
    wanted = " and ".join(
        f"{word} {bound_written(limit.key, end, system)}" for end, word in ends if end is not None
    )
    return f". {WEAKEST}: {label} averages {_measure(limit.key, observed, system)}, {wanted} wanted"


def _weakest(market: Market, row: Any, system: str) -> str:
    if not market.wishes:
        return ""
    if row.unread:
        return f"Not scored, no {_listed([trait_called(key).label.lower() for key in row.unread])} reading"
    if not row.held_back:
        return "Every wish is met in full"
    trait = trait_called(row.held_back)
    value = _measure(row.held_back, row.held_value, system)
    if row.score == 0:
        return f"Scores 0: {trait.label.lower()} {value} is outside what this market wants"
    return f"{WEAKEST}: {trait.label.lower()} {value}"


def _shortfall(limit: Limit, observed: Any, system: str) -> str:
    if limit.kind == "class":
        label = CLASSES[limit.key][0].lower()
        wanted = _listed(limit.any_of, "or")
        return f"{label} {'not recorded' if observed is None else f'is {observed}'}, {wanted} wanted"
    if limit.kind == "place":
        return _in_winters(limit, observed)
    if observed is None:
        return f"no {trait_called(limit.key).label.lower()} reading"
    if limit.share is not None:
        reached = (
            f"{_percent(observed, limit.share)} of its fruit {_bounds(limit, system)}{in_seasons(limit)}"
        )
        return f"{reached}, {limit.share * 100:g} % wanted"
    return _mean_shortfall(limit, observed, system)


def _in_winters(limit: Limit, observed: float | None) -> str:
    if limit.winters is None:
        return "winter chill not known, no station is chosen"
    if observed is None:
        return "chill needed not recorded"
    return (
        f"enough chill in {math.floor(10 * observed + 1e-9) / 10:g} winters of 10, {limit.at_least:g} wanted"
    )


def in_seasons(limit: Limit) -> str:
    """In how many seasons of ten the share is asked for; "" where it is over all of them."""
    return "" if limit.seasons is None else f" in {limit.seasons:g} seasons of 10"


def _mean_shortfall(limit: Limit, observed: float, system: str) -> str:
    trait = trait_called(limit.key)
    too_low = limit.at_least is not None and observed < limit.at_least
    bound = limit.at_least if too_low else limit.at_most
    assert bound is not None  # a trait limit has a bound, and this one was missed
    wanted = f"at {'least' if too_low else 'most'} {bound_written(limit.key, bound, system)} wanted"
    # A miss smaller than the last decimal would read as if the limit were met.
    near = trait.written(observed, system) == trait.written(bound, system)
    just = f"just {'under' if too_low else 'over'} " if near else ""
    return f"{trait.label.lower()} averages {just}{_measure(limit.key, observed, system)}, {wanted}"


def _bounds(limit: Limit, system: str) -> str:
    symbol = trait_called(limit.key).unit(system).symbol
    ends = (limit.at_least, limit.at_most)
    low, high = (
        None if end is None else f"{bound_written(limit.key, end, system)} {symbol}".strip() for end in ends
    )
    if limit.key == "size" and high is None:
        return f"reach {low}"
    label = trait_called(limit.key).label.lower()
    if high is None:
        return f"have {label} of {low} or more"
    return f"have {label} of {high} or less" if low is None else f"have {label} from {low} to {high}"


def _percent(share: float, wanted: float) -> str:
    """The share as a whole per cent, never rounded up to what was wanted and missed."""
    whole = round(share * 100)
    if whole >= wanted * 100:
        whole = math.floor(share * 100)
    return f"just under {wanted * 100:g} %" if whole >= wanted * 100 else f"{whole} %"


def bound_written(key: str, si: float, system: str) -> str:
    """A bound in the trait's decimals, or with one more where that says it exactly (2.375 in)."""
    trait = trait_called(key)
    exact, finer = trait.unit(system).from_si(si), trait.decimals(system) + 1
    rounded_off = abs(exact - round(exact, finer - 1)) > 1e-6
    if rounded_off and abs(exact - round(exact, finer)) < 1e-6:
        return figure(exact, finer)
    return trait.written(si, system)


def _measure(key: str, si: float, system: str) -> str:
    trait = trait_called(key)
    symbol = trait.unit(system).symbol
    return f"{trait.written(si, system)} {symbol}" if symbol else trait.written(si, system)


def _listed(words: Any, joint: str = "or") -> str:
    *most, last = words
    return f"{', '.join(most)} {joint} {last}" if most else str(last)
