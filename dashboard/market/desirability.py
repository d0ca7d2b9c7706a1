"""How welcome a value is, and how welcome all of them are together.

Derringer, G. & Suich, R. (1980) Simultaneous optimization of several response variables. Journal of Quality
Technology 12: 214–219; with weights as in Derringer (1994) Quality Progress 27(6): 51–58.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import ArrayLike

from dashboard.market.profile import Wish


def desirability(wish: Wish, y: ArrayLike) -> np.ndarray:
    """Desirability of each value (SI units), 0 to 1, the shape of ``y``; NaN where the value is missing."""
    value = np.asarray(y, dtype=float)
    if wish.shape == "larger":
        rise = (value - wish.low) / (wish.high - wish.low)
    elif wish.shape == "smaller":
        rise = (wish.high - value) / (wish.high - wish.low)
    elif wish.shape == "target":
        rise = np.where(
            value <= wish.target,
            (value - wish.low) / (wish.target - wish.low),
            (wish.high - value) / (wish.high - wish.target),
        )
    else:
        raise ValueError(f"shape {wish.shape!r}: larger, smaller or target")
    welcome = np.clip(rise, 0.0, 1.0)
    return welcome if wish.exponent == 1 else welcome**wish.exponent


def bearing(wishes: Iterable[Wish], key: str) -> Wish | None:
    """Which way a trait is to go, whatever it weighs: None for the larger the better, also where nothing is wished of it."""
    wish = next((wish for wish in wishes if wish.key == key), None)
    if wish is None or wish.shape == "larger":
        return None
    if wish.shape == "smaller":
        return Wish(key, "smaller", 0.0, 0.0, 1.0)
    return Wish(key, "target", wish.low, wish.target, wish.high)


def merit(bearing: Wish | None, y: np.ndarray) -> np.ndarray:
    """The more, the better, without end where a wish is met in full: the value, its opposite, or less the distance from the
    ideal, each side of it by its own width."""
    if bearing is None:
        return y
    if bearing.shape == "smaller":
        return -y
    below, above = bearing.target - bearing.low, bearing.high - bearing.target
    return np.minimum((y - bearing.target) / below, (bearing.target - y) / above)


def overall(desirabilities: ArrayLike, weights: ArrayLike) -> np.ndarray:
    """Weighted geometric mean over the last axis: (…, k) and (k,) to (…). One zero makes it zero.

    Missing desirabilities make it NaN, and so does having nothing to weigh. Only the ratios of the weights
    count; a weight of zero leaves its column out.
    """
    d, w = np.asarray(desirabilities, dtype=float), np.asarray(weights, dtype=float)
    if (w < 0).any():
        raise ValueError("weights below zero")
    d, w = d[..., w > 0], w[w > 0]
    if not len(w):
        return np.full(d.shape[:-1], np.nan)
    with np.errstate(divide="ignore"):
        logs = np.log(d)
    return np.exp((logs * (w / w.sum())).sum(axis=-1))
