"""One cultivar's account with a market: what each wish costs its score."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from dashboard.market.desirability import desirability, overall
from dashboard.market.profile import Market, Wish


@dataclass(frozen=True)
class Cost:
    """``welcome`` 0 to 1; ``costs`` is what the score (0 to 1) would gain were this wish met in full, nothing else changed;
    ``met_from`` is the value (SI) from which it is. NaN without a reading."""

    wish: Wish
    value: float
    welcome: float
    share: float  # of all weights
    costs: float
    met_from: float


def costs(market: Market, values: Mapping[str, float]) -> tuple[Cost, ...]:
    """The wishes of ``market``, the dearest first; ``values`` are SI by trait."""
    welcome = np.array([float(desirability(wish, values.get(wish.key, np.nan))) for wish in market.wishes])
    weights = np.array([wish.weight for wish in market.wishes])
    if not len(weights):
        return ()
    score = float(overall(welcome, weights))
    found = []
    for place, wish in enumerate(market.wishes):
        met = np.where(np.arange(len(weights)) == place, 1.0, welcome)
        gain = float(overall(met, weights)) - score
        value = float(values.get(wish.key, np.nan))
        found.append(
            Cost(
                wish,
                value,
                float(welcome[place]),
                float(weights[place] / weights.sum()),
                gain,
                _met_from(wish),
            )
        )
    return tuple(sorted(found, key=lambda one: -np.nan_to_num(one.costs, nan=-1.0)))


def _met_from(wish: Wish) -> float:
    return {"larger": wish.high, "smaller": wish.low, "target": wish.target}[wish.shape]
