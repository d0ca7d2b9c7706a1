"""The scale a trait is fitted on and the one its values are told on: the same for most; log odds, and per cent, for shares of fruit.

Near its ends a share cannot scatter as far as in the middle, nor to both sides alike; its log odds can. A cultivar whose site-seasons
scatter about log odds x with variance v has on average the share

    told(x) = mean over z of  top / (1 + exp(-(x + sqrt(v) z))),      z standard normal

(Zeger, Liang & Albert 1988, Biometrics 44: 1049-1060). It grows with x throughout, so chances and ends of intervals carry over.
"""

from __future__ import annotations

from functools import cached_property, lru_cache
from typing import Any

import numpy as np
import pandas as pd
from scipy import special, stats

from dashboard.terms.traits import OWN, trait_called

LEVEL = 0.90
# What a reading cannot go beyond, so that no interval ends at a negative share or a rating of 11.
_BOUNDS = {"share": (0.0, 100.0), "rating": (0.0, 10.0), OWN: (-np.inf, np.inf)}
_ABOVE_ZERO = (0.0, np.inf)
_GRID = np.linspace(
    -40.0, 40.0, 3201
)  # log odds at which a scale is worked out; between them it is all but straight
# How far skewness moves the ends of an interval (Cornish & Fisher 1938, Revue de l'Institut International de Statistique 5: 307-320).
_MOVED = (stats.norm.ppf(0.5 + LEVEL / 2) ** 2 - 1) / 6
_NODES, _WEIGHTS = np.polynomial.hermite_e.hermegauss(30)


def bounds(trait: str) -> tuple[float, float]:
    """The least and the greatest value a reading of the trait can have, SI."""
    return _BOUNDS.get(trait_called(trait).quantity, _ABOVE_ZERO)


def on_odds(trait: str) -> bool:
    """Whether the trait is fitted by log odds."""
    return trait_called(trait).quantity == "share"


class Scale:
    """Values told as they are fitted, no further than readings can go."""

    def __init__(self, low: float, high: float) -> None:
        self.low, self.high = low, high

    def told(self, fitted) -> Any:
        """Values (…,) as a reader gets them, SI."""
        return np.clip(fitted, self.low, self.high)

    def fitted(self, told) -> Any:
        """The other way round."""
        return told

    def middle(self, estimate: np.ndarray, se: np.ndarray, reliability: np.ndarray) -> np.ndarray:
        """Half-way between the ends of the intervals of values that a fit puts at ``estimate``: these themselves."""
        return estimate

    def interval(self, estimate: np.ndarray, se: np.ndarray, df: np.ndarray) -> dict[str, np.ndarray]:
        """estimate, se, low and high as they are told, of values, errors and degrees of freedom on the scale of the fit."""
        half = se * stats.t.ppf(0.5 + LEVEL / 2, df)
        return {
            "estimate": self.told(estimate),
            "se": se,
            "low": self.told(estimate - half),
            "high": self.told(estimate + half),
        }

    def frame(self, told: pd.DataFrame) -> pd.DataFrame:
        """estimate, se and df on the scale of the fit, of values that were told."""
        return told[["estimate", "se", "df"]].astype(float)


class Odds(Scale):
    """Shares of ``top``, fitted as log odds that scatter by the variance ``scatter`` about a cultivar's own."""

    def __init__(self, top: float, scatter: float) -> None:
        super().__init__(0.0, top)
        self.scatter = scatter

    @cached_property
    def _odds(self) -> np.ndarray:
        """Log odds of the mean share, by the grid: of two tails, the smaller one is exact."""
        about = _GRID[:, None] + np.sqrt(self.scatter) * _NODES
        over, under = (special.expit(sign * about) @ _WEIGHTS for sign in (1, -1))
        return np.log(over) - np.log(under)

    def told(self, fitted) -> Any:
        odds = np.interp(fitted, _GRID, self._odds)
        return self.high * special.expit(np.where(np.isnan(fitted), np.nan, odds))

    def fitted(self, told) -> Any:
        with np.errstate(divide="ignore", invalid="ignore"):
            odds = special.logit(np.clip(np.asarray(told, dtype=float) / self.high, 0, 1))
        inside = np.interp(odds, self._odds, _GRID)
        return np.where(np.isfinite(odds), inside, odds)

    def middle(self, estimate: np.ndarray, se: np.ndarray, reliability: np.ndarray) -> np.ndarray:
        """The fewer fruit are faulty the less they tell, so log odds may be lower by more than higher. Of n fruit the third derivative
        of their likelihood is - n p (1 - p) (1 - 2 p): with h the part of what is known that comes from fruit their error has the
        skewness g = - (1 - 2 p) h se, which moves both ends of an interval by g (z^2 - 1) / 6 of se."""
        skewness = (2 * special.expit(estimate) - 1) * np.nan_to_num(reliability) * se
        return estimate + _MOVED * skewness * se

    def interval(self, estimate: np.ndarray, se: np.ndarray, df: np.ndarray) -> dict[str, np.ndarray]:
        """The estimate is the mean of what the log odds leave open, as a share may be off by more to one side, and se its spread."""
        ways = self.told(estimate[:, None] + se[:, None] * _NODES)
        mean = ways @ _WEIGHTS / _WEIGHTS.sum()
        spread = np.sqrt(np.square(ways - mean[:, None]) @ _WEIGHTS / _WEIGHTS.sum())
        return super().interval(estimate, se, df) | {"estimate": mean, "se": spread}

    def frame(self, told: pd.DataFrame) -> pd.DataFrame:
        low, high, df = (told[name].to_numpy(dtype=float) for name in ("low", "high", "df"))
        low, high = self.fitted(low), self.fitted(high)
        se = (high - low) / 2 / stats.t.ppf(0.5 + LEVEL / 2, df)
        return pd.DataFrame({"estimate": (low + high) / 2, "se": se, "df": df}, index=told.index)


@lru_cache(maxsize=256)
def scale_of(trait: str, scatter: float | None = None) -> Scale:
    """That of a trait; ``scatter`` is the variance of log odds about a cultivar's own, None where it is not fitted by log odds."""
    low, high = bounds(trait)
    return Scale(low, high) if scatter is None else Odds(high, scatter)
