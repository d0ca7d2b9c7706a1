"""How high a cultivar's long-run mean must stand for a share of its future fruit to lie within bounds.

The fruit of a cultivar to come, at a site like these in a season to come, scatter about its mean with a spread that is the
same for all cultivars of a trait; so "80 % of the fruit reach 63.5 mm" is a bound on the mean, found once.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from scipy import optimize, stats

from dashboard.estimates.chances import FRUIT, level_df, levels, spreads
from dashboard.estimates.one_season import BORROWED
from dashboard.estimates.worth import Worth

NOBODY = (float("inf"), float("-inf"))


def means_for_share(
    worth: Worth, at_least: float | None, at_most: float | None, share: float, site: str = ""
) -> tuple[float, float]:
    """The long-run means with which a share of future fruit lies within bounds.

    Parameters
    ----------
    worth : Worth
    at_least, at_most : float or None
        In SI units; None for no bound.
    share : float
        0 to 1.
    site : str
        At one site; "" at a site like these.

    Returns
    -------
    lowest, highest : float
        In SI units. Infinite where there is no end; NOBODY (lowest above highest) where no mean does it, as between bounds closer
        than fruit scatter.

    Raises
    ------
    ValueError
        A trait without a model, or no bounds.
    """
    if not worth.modelled:
        raise ValueError(worth.plan.refused)
    if at_least is None and at_most is None:
        raise ValueError("A share lies within bounds; give at least one.")
    within = _within(worth, site)
    reach = 40 * within.spread
    if at_least is not None and at_most is not None:
        middle = (at_least + at_most) / 2  # the share is highest there and falls alike to both sides
        if within.share(middle, at_least, at_most) < share:
            return NOBODY
        end = _root(lambda mean: within.share(mean, at_least, at_most) - share, middle, at_most + reach)
        return 2 * middle - end, end
    if at_least is not None:
        return _root(
            lambda mean: within.share(mean, at_least, None) - share, at_least - reach, at_least + reach
        ), float("inf")
    assert at_most is not None
    return float("-inf"), _root(
        lambda mean: within.share(mean, None, at_most) - share, at_most - reach, at_most + reach
    )


def share_of_fruit(
    worth: Worth, means: np.ndarray, at_least: float | None, at_most: float | None, site: str = ""
) -> np.ndarray:
    """The share of future fruit within the bounds, by long-run mean (SI): what ``means_for_share`` turns round. NaN stays."""
    if not worth.modelled:
        raise ValueError(worth.plan.refused)
    return _within(worth, site).share(np.asarray(means, dtype=float)[:, None], at_least, at_most)


class _Within:
    def __init__(self, known: float, of_seasons: float, df: int) -> None:
        self.known = np.sqrt(known)
        self.shifts = np.sqrt(of_seasons) * levels(df) if of_seasons > 0 else np.zeros(1)
        self.spread = float(self.known + np.abs(self.shifts).max())

    def share(self, mean: float | np.ndarray, at_least: float | None, at_most: float | None) -> Any:
        """Of a mean, or of means (k, 1) each."""
        about = mean + self.shifts
        below = 1.0 if at_most is None else stats.norm.cdf((at_most - about) / self.known)
        under = 0.0 if at_least is None else stats.norm.cdf((at_least - about) / self.known)
        return np.mean(below - under, axis=-1)


def _within(worth: Worth, site: str) -> _Within:
    at = site if site in worth.at else None
    ratio = BORROWED if worth.plan.one_season else None
    return _Within(*spreads(worth, at, ratio)[FRUIT], level_df(worth))


def _root(excess, low: float, high: float) -> float:
    """Where the share is exactly what is asked; all or none of the fruit is reached only at the very end."""
    at_low, at_high = excess(low), excess(high)
    if at_low * at_high > 0:
        return high if abs(at_high) < abs(at_low) else low
    return float(optimize.brentq(excess, low, high, xtol=1e-9))
