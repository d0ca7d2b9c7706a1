"""How the averages of each cultivar stand in a market: whether they clear the limits, what they score, and what they miss."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np
import pandas as pd

from dashboard.market.desirability import desirability, overall
from dashboard.market.placed import winters_in_ten
from dashboard.market.profile import Limit, Market
from dashboard.terms.traits import UNKNOWN

_LAST_BITS = 1e-9


def fit(
    market: Market,
    cultivars: pd.DataFrame,
    values: Mapping[str, pd.DataFrame],
    fruit: pd.DataFrame,
    shares: Mapping[Limit, np.ndarray] | None = None,
) -> pd.DataFrame:
    """How the averages of each cultivar stand in a market.

    Parameters
    ----------
    market : Market
    cultivars : DataFrame
        Index its name, class columns.
    values : Mapping of str to DataFrame
        By trait a frame by cultivar with the column estimate, SI.
    fruit : DataFrame
        One row a fruit.
    shares : Mapping of Limit to ndarray, optional
        (cultivars,) what share of future fruit lies within a limit, 0 to 1; for limits it does not tell, the measured fruit
        are counted.

    Returns
    -------
    DataFrame
        One row a cultivar, in the order of ``cultivars``. by_averages: its averages clear every limit (a limit nobody can judge is
        not cleared). score: 0 to 1, the weighted geometric mean of the wishes, NaN where one has no reading or the market has no
        wishes. seen: tuple of what there is to judge each limit by, the class, the share of fruit or the mean, None when unknown.
        missed: tuple of (limit, seen) for each limit not cleared. held_back, held_value: the trait whose wish costs the score most
        ("" when none costs anything) and its mean. unread: traits wished for that have no reading.

    Source
    ------
    Derringer & Suich (1980), Journal of Quality Technology 12: 214-219; weights of Derringer (1994), Quality Progress 27(6): 51-58.
    """
    count = len(cultivars)
    told = shares or {}
    counted = any(limit.share is not None and limit not in told for limit in market.limits)
    owner = _owners(fruit, cultivars.index) if counted else None
    observed = [
        told[limit] if limit in told else _observed(limit, cultivars, values, fruit, owner)
        for limit in market.limits
    ]
    cleared = [_cleared(limit, seen) for limit, seen in zip(market.limits, observed, strict=True)]
    meets = np.logical_and.reduce(cleared) if cleared else np.ones(count, dtype=bool)

    wished = np.empty((count, len(market.wishes)))
    for column, wish in enumerate(market.wishes):
        wished[:, column] = _estimates(values, wish.key, cultivars.index)
    welcome = np.empty_like(wished)
    for column, wish in enumerate(market.wishes):
        welcome[:, column] = desirability(wish, wished[:, column])
    weights = np.array([wish.weight for wish in market.wishes], dtype=float)
    held, held_value = _held_back(market, wished, welcome, weights)
    return pd.DataFrame(
        {
            "by_averages": meets,
            "score": overall(welcome, weights),
            "seen": _seen(market.limits, observed, count),
            "missed": _missed(market.limits, observed, cleared, count),
            "held_back": pd.Series(held, index=cultivars.index, dtype="str"),
            "held_value": held_value,
            "unread": _unread(market, wished),
        },
        index=cultivars.index,
    )


def neutral(cultivars: pd.DataFrame) -> pd.DataFrame:
    """The fit of every cultivar when no market is asked: all are in, none is scored."""
    count = len(cultivars)
    return pd.DataFrame(
        {
            "by_averages": np.ones(count, dtype=bool),
            "score": np.full(count, np.nan),
            "seen": _tuples([()] * count),
            "missed": _tuples([()] * count),
            "held_back": pd.Series("", index=cultivars.index, dtype="str"),
            "held_value": np.full(count, np.nan),
            "unread": _tuples([()] * count),
        },
        index=cultivars.index,
    )


def _owners(fruit: pd.DataFrame, index: pd.Index) -> np.ndarray:
    """Which row of the cultivars each fruit belongs to (-1: none of them)."""
    if "cultivar" not in fruit:
        return np.full(len(fruit), -1)
    names = fruit["cultivar"]
    if isinstance(names.dtype, pd.CategoricalDtype):  # look up each name once, not once a fruit
        place = np.append(index.get_indexer(names.cat.categories), -1)
        return place[names.cat.codes.to_numpy()]
    return index.get_indexer(pd.Index(names))


def _estimates(values: Mapping[str, pd.DataFrame], trait: str, index: pd.Index) -> np.ndarray:
    if trait not in values:
        return np.full(len(index), np.nan)
    column = values[trait]["estimate"]
    if not column.index.equals(index):
        column = column.reindex(index)
    return column.to_numpy(dtype=float)


def _observed(
    limit: Limit,
    cultivars: pd.DataFrame,
    values: Mapping[str, pd.DataFrame],
    fruit: pd.DataFrame,
    owner: np.ndarray | None,
) -> np.ndarray:
    """What there is to judge a limit by: class words, the share of fruit that clears it, or the mean."""
    if limit.kind == "class":
        return _words(limit, cultivars)
    if limit.kind == "place":
        return winters_in_ten(limit, cultivars)
    if limit.share is None:
        return _estimates(values, limit.key, cultivars.index)
    if owner is None or limit.key not in fruit:
        return np.full(len(cultivars), np.nan)
    reading = fruit[limit.key].to_numpy(dtype=float, na_value=np.nan)
    counted = (owner >= 0) & ~np.isnan(reading)
    measured = np.bincount(owner[counted], minlength=len(cultivars))
    if limit.seasons is not None and "season" in fruit:
        inside = pd.Series(within(limit, reading)[counted])
        each = inside.groupby([owner[counted], fruit["season"].to_numpy()[counted]]).mean()
        of_ten = limit.seasons
        reached = each.groupby(level=0).agg(lambda shares: _reached(shares.to_numpy(), of_ten))
        return reached.reindex(np.arange(len(cultivars))).to_numpy(dtype=float)
    good = np.bincount(owner[counted & within(limit, reading)], minlength=len(cultivars))
    return good / np.where(measured > 0, measured, np.nan)


def _reached(shares: np.ndarray, of_ten: float) -> float:
    """The share that so many seasons of ten reach, of those seen."""
    return float(np.sort(shares)[len(shares) - math.ceil(of_ten / 10 * len(shares) - 1e-9)])


def _words(limit: Limit, cultivars: pd.DataFrame) -> np.ndarray:
    if limit.key not in cultivars:
        return np.full(len(cultivars), UNKNOWN, dtype=object)
    return cultivars[limit.key].fillna(UNKNOWN).to_numpy(dtype=object)


def class_cleared(limit: Limit, cultivars: pd.DataFrame) -> np.ndarray:
    """(cultivars,) whether the recorded class is one that the limit takes."""
    return np.isin(_words(limit, cultivars).astype(str), limit.any_of)


def class_unread(limit: Limit, cultivars: pd.DataFrame) -> np.ndarray:
    """(cultivars,) whether the class that the limit asks for was never recorded, so that nobody can judge it."""
    return (_words(limit, cultivars).astype(str) == UNKNOWN) & ~class_cleared(limit, cultivars)


def within(limit: Limit, reading: np.ndarray) -> np.ndarray:
    """Inside the bounds, ends included; a missing reading is not.

    A reading that equals its bound may come out of a conversion or a mean a last bit away from it.
    """
    inside = ~np.isnan(reading)
    if limit.at_least is not None:
        inside &= reading >= limit.at_least - _LAST_BITS * max(1.0, abs(limit.at_least))
    if limit.at_most is not None:
        inside &= reading <= limit.at_most + _LAST_BITS * max(1.0, abs(limit.at_most))
    return inside


def _cleared(limit: Limit, observed: np.ndarray) -> np.ndarray:
    if limit.kind == "class":
        return np.isin(observed.astype(str), limit.any_of)
    if limit.share is None:
        return within(limit, observed)
    return observed >= limit.share


def _seen(limits: tuple[Limit, ...], observed: list, count: int) -> np.ndarray:
    return _tuples(
        [
            tuple(_plain(limit, seen[row]) for limit, seen in zip(limits, observed, strict=True))
            for row in range(count)
        ]
    )


def _missed(limits: tuple[Limit, ...], observed: list, cleared: list, count: int) -> np.ndarray:
    missed: list[tuple] = [()] * count
    for limit, seen, clear in zip(limits, observed, cleared, strict=True):
        for row in np.flatnonzero(~clear):
            missed[row] = (*missed[row], (limit, _plain(limit, seen[row])))
    return _tuples(missed)


def _plain(limit: Limit, seen: object) -> str | float | None:
    """A class word or a figure; None when unknown."""
    if limit.kind == "class":
        return None if seen == UNKNOWN else str(seen)
    value = float(seen)  # type: ignore[arg-type]
    return None if math.isnan(value) else value


def _held_back(
    market: Market, wished: np.ndarray, welcome: np.ndarray, weights: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """The trait with the largest weighted loss in the score, and its mean; "" and NaN when none loses."""
    count = len(wished)
    if not market.wishes or not count:
        return np.full(count, "", dtype=object), np.full(count, np.nan)
    with np.errstate(divide="ignore"):
        cost = np.nan_to_num(-np.log(welcome) * weights, nan=0.0, posinf=np.inf)
    # Of several fatal zeros the heaviest wish is named: infinities would otherwise name the first written.
    cost = np.where(np.isinf(cost), 1e6 * np.maximum(weights, 1e-9), cost)
    worst = cost.argmax(axis=1)
    rows = np.arange(count)
    loses = cost[rows, worst] > 0
    keys = np.array([wish.key for wish in market.wishes], dtype=object)
    return np.where(loses, keys[worst], ""), np.where(loses, wished[rows, worst], np.nan)


def _unread(market: Market, wished: np.ndarray) -> np.ndarray:
    unread: list[tuple] = [()] * len(wished)
    missing = np.isnan(wished)
    keys = [wish.key for wish in market.wishes]
    for row in np.flatnonzero(missing.any(axis=1)):
        unread[row] = tuple(dict.fromkeys(key for key, gone in zip(keys, missing[row], strict=True) if gone))
    return _tuples(unread)


def _tuples(rows: list[tuple]) -> np.ndarray:
    """Tuples as one column: NumPy would spread equal-length tuples over a second axis."""
    column = np.empty(len(rows), dtype=object)
    for place, row in enumerate(rows):
        column[place] = row
    return column
