"""How high a cultivar's long-run mean must stand for a share of its future fruit to lie within bounds.

The fruit of a cultivar to come, at a site like these in a season to come, scatter about its mean with a spread that is the
same for all cultivars of a trait; so "80 % of the fruit reach 63.5 mm" is a bound on the mean, found once. That is over all seasons
together: a poor one may lie far below. "In 8 seasons of 10 at least 80 %" is another, higher bound: seasons move the mean of their
fruit, and the share is counted within each.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from scipy import optimize, stats

from dashboard.estimates.chances import FRUIT, NEXT_SEASON, level_df, levels, spreads
from dashboard.estimates.one_season import BORROWED
from dashboard.estimates.worth import Worth

NOBODY = (float("inf"), float("-inf"))
SHIFTS = 400  # seasons to come, each as likely as the others


def means_for_share(
    worth: Worth,
    at_least: float | None,
    at_most: float | None,
    share: float,
    site: str = "",
    seasons: float | None = None,
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
    seasons : float, optional
        In at least so many seasons of ten, each for itself; over all seasons together without.

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
    within = _within(worth, site, seasons)
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
    worth: Worth,
    means: np.ndarray,
    at_least: float | None,
    at_most: float | None,
    site: str = "",
    seasons: float | None = None,
) -> np.ndarray:
    """The share of future fruit within the bounds, by long-run mean (SI): what ``means_for_share`` turns round; with ``seasons`` the
    share that so many seasons of ten reach. NaN stays."""
    if not worth.modelled:
        raise ValueError(worth.plan.refused)
    return _within(worth, site, seasons).share(np.asarray(means, dtype=float)[:, None], at_least, at_most)


def seasons_with_share(
    worth: Worth, mean: float, at_least: float | None, at_most: float | None, share: float, site: str = ""
) -> float:
    """In how many seasons of ten at least ``share`` of the fruit lies within the bounds, by long-run mean (SI); NaN stays."""
    if not worth.modelled:
        raise ValueError(worth.plan.refused)
    reached = _within(worth, site, 0.0).each(np.asarray(mean), at_least, at_most)
    return float(10 * np.mean(reached >= share)) if mean == mean else float("nan")


class _Within:
    """Fruit scatter by ``known`` about seasons that lie at ``shifts`` from the mean; of ``seasons`` of ten, or of all together."""

    def __init__(self, known: float, shifts: np.ndarray, seasons: float | None) -> None:
        self.known, self.shifts, self.seasons = np.sqrt(known), shifts, seasons
        self.spread = float(self.known + np.abs(self.shifts).max())

    def share(self, mean: float | np.ndarray, at_least: float | None, at_most: float | None) -> Any:
        """Of a mean, or of means (k, 1) each."""
        each = self.each(mean, at_least, at_most)
        if self.seasons is None:
            return np.mean(each, axis=-1)
        return np.quantile(each, 1 - self.seasons / 10, axis=-1)

    def each(self, mean: float | np.ndarray, at_least: float | None, at_most: float | None) -> Any:
        """(…, seasons) the share in each season."""
        about = mean + self.shifts
        below = 1.0 if at_most is None else stats.norm.cdf((at_most - about) / self.known)
        under = 0.0 if at_least is None else stats.norm.cdf((at_least - about) / self.known)
        return below - under


def _within(worth: Worth, site: str, seasons: float | None) -> _Within:
    at = site if site in worth.at else None
    found = spreads(worth, at, BORROWED if worth.plan.one_season else None)
    (known, level), (own, _) = found[FRUIT], found[NEXT_SEASON]
    shifts = np.sqrt(level) * levels(level_df(worth)) if level > 0 else np.zeros(1)
    if seasons is None:
        return _Within(known, shifts, None)
    # What the cultivar does in one season moves all of its fruit there, as the level of the season does.
    normal = stats.norm.ppf((np.arange(SHIFTS) + 0.5) / SHIFTS)
    both = np.add.outer(shifts, np.sqrt(own) * normal)
    return _Within(known - own, np.quantile(both, (np.arange(SHIFTS) + 0.5) / SHIFTS), seasons)


def _root(excess, low: float, high: float) -> float:
    """Where the share is exactly what is asked; all or none of the fruit is reached only at the very end."""
    at_low, at_high = excess(low), excess(high)
    if at_low * at_high > 0:
        return high if abs(at_high) < abs(at_low) else low
    return float(optimize.brentq(excess, low, high, xtol=1e-9))
