"""What a market may expect of each cultivar, over joint draws of how good it truly is.

Every figure is counted over the same draws: in each, a cultivar has a score, clears the limits or not, and stands somewhere
among those that do. A cultivar seen in one season has wide draws, so it gets a wide interval and not a lucky place.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.market.desirability import desirability
from dashboard.market.fitting import class_cleared, class_unread, within
from dashboard.market.placed import holding
from dashboard.market.profile import Limit, Market, Wish

INTERVAL = 0.80
POSSIBLE = 0.2  # below such a chance that its limits hold a cultivar is ruled out
PLACE_DRAWS = 200  # of a need within its rounding, where a market asks about nothing that was measured
Draws = Mapping[str, np.ndarray]  # by trait (draws, cultivars) long-run means, SI; NaN without a reading
Spans = Mapping[
    Limit, tuple[float, float]
]  # by limit on a share: lowest and highest mean with which it holds


@dataclass(frozen=True, eq=False)
class Outlook:
    """score (draws, cultivars) 0 to 1, NaN without a reading or a wish; clears the same, True where every limit holds, never
    without a reading to tell; by_limit (limits, cultivars) the chance that each holds alone, NaN without a reading."""

    market: Market
    score: np.ndarray
    clears: np.ndarray
    by_limit: np.ndarray
    chance: np.ndarray  # (cultivars,) that every limit holds; NaN where a missing reading leaves that open
    on_means: np.ndarray  # (cultivars,) chance that all limits on classes and means hold
    on_fruit: np.ndarray  # (cultivars,) chance that all limits on shares of fruit hold


def traits_of(market: Market) -> tuple[str, ...]:
    """Traits that the market asks about, each once."""
    keys = [limit.key for limit in market.limits if limit.kind == "trait"]
    return tuple(dict.fromkeys([*keys, *(wish.key for wish in market.wishes)]))


def log_welcome(wish: Wish, drawn: np.ndarray) -> np.ndarray:
    """Logarithm of the desirability in each draw: minus infinity where a value is not wanted at all."""
    with np.errstate(divide="ignore"):
        return np.log(desirability(wish, drawn).astype(np.float32))


def scores(weights: Sequence[float], logs: Sequence[np.ndarray]) -> np.ndarray:
    """Weighted geometric means of the desirabilities whose ``logs`` are given, as ``desirability.overall``."""
    total = float(sum(weights))
    summed = np.zeros_like(logs[0])
    for weight, log in zip(weights, logs, strict=True):
        if weight > 0:
            summed += log * np.float32(weight / total)
    return np.exp(summed, out=summed)


def outlook(
    market: Market, cultivars: pd.DataFrame, drawn: Draws, spans: Spans, logs: Sequence[np.ndarray]
) -> Outlook:
    """``cultivars`` has the class columns; ``logs`` the ``log_welcome`` of each wish, which change less often than weights."""
    count = len(cultivars)
    draws = len(next(iter(drawn.values()))) if drawn else 1
    if not drawn and any(limit.kind == "place" for limit in market.limits):
        draws = PLACE_DRAWS
    shape = (draws, count)
    by_limit = np.ones((len(market.limits), count))
    parts = {True: np.ones(shape, dtype=bool), False: np.ones(shape, dtype=bool)}
    unread = {True: np.zeros(count, dtype=bool), False: np.zeros(count, dtype=bool)}
    for row, limit in enumerate(market.limits):
        if limit.kind == "class":
            holds, lacking = (
                np.broadcast_to(class_cleared(limit, cultivars), shape),
                class_unread(limit, cultivars),
            )
        elif limit.kind == "place":
            holds, lacking = holding(limit, cultivars, draws)
        elif limit.share is not None:
            lowest, highest = spans[limit]
            holds = (drawn[limit.key] >= lowest) & (drawn[limit.key] <= highest)
            lacking = np.isnan(drawn[limit.key][0])
        else:
            holds, lacking = within(limit, drawn[limit.key]), np.isnan(drawn[limit.key][0])
        by_limit[row] = np.where(lacking, np.nan, holds.mean(axis=0))
        parts[limit.share is not None] &= holds | lacking  # what it lacks may yet turn out well
        unread[limit.share is not None] |= lacking
    clears, open_ones = parts[True] & parts[False], unread[True] | unread[False]
    chance = _unless(open_ones, clears.mean(axis=0))
    score = scores([wish.weight for wish in market.wishes], logs) if logs else np.full(shape, np.nan)
    on_means, on_fruit = (_unless(unread[fruit], parts[fruit].mean(axis=0)) for fruit in (False, True))
    return Outlook(market, score, clears & ~open_ones, by_limit, chance, on_means, on_fruit)


def _unless(unread: np.ndarray, at_best: np.ndarray) -> np.ndarray:
    """The chance where every reading is there; without one it is open, unless what was read rules the cultivar out."""
    return np.where(unread & (at_best >= POSSIBLE), np.nan, at_best)


def expected(found: Outlook, index: pd.Index) -> pd.DataFrame:
    """By cultivar: expected score and its 80 % interval, chance that all limits hold, those on means, those on shares of fruit."""
    tail = (1 - INTERVAL) / 2
    count = len(found.score)
    places = [min(count - 1, int(part * count)) for part in (tail, 1 - tail)]
    ordered = np.partition(found.score.T, places, axis=1)
    return pd.DataFrame(
        {
            "expected": found.score.mean(axis=0, dtype=float),
            "score_low": ordered[:, places[0]],
            "score_high": ordered[:, places[1]],
            "clears": found.chance,
            "on_means": found.on_means,
            "on_fruit": found.on_fruit,
        },
        index=index,
    )


def among_first(found: Outlook, pool: np.ndarray, top: int) -> np.ndarray:
    """(cultivars,) chance of being one of the ``top`` that score most, among those of the ``pool`` (True or False) that clear
    every limit; 0 outside the pool, NaN where the market has no wishes or it has no score."""
    answer = np.zeros(len(pool))
    rows = np.flatnonzero(pool)
    score = found.score[:, rows]
    answer[rows[np.isnan(score).any(axis=0)]] = np.nan
    standing = np.where(found.clears[:, rows] & (score > 0), score, 0)
    if len(rows) > top:
        last = np.partition(standing, len(rows) - top, axis=1)[:, len(rows) - top]
        first = (standing >= last[:, None]) & (standing > 0)
    else:
        first = standing > 0
    answer[rows] += first.mean(axis=0)
    return answer
