"""What chill and frost may cost a set of cultivars, as joint draws of whole years: those that fail together fail in the same draw."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import pandas as pd

from dashboard.site.bloom import Bloom
from dashboard.site.clock import Springs
from dashboard.site.frost import crop_left, lost
from dashboard.site.needs import NEEDS, rounded_to
from dashboard.site.winters import Winters

# A winter that brings this share less than a cultivar needs leaves no crop, and in between it falls on a straight line; ours: the trade
# agrees that a short winter costs fruit set, not how much.
NO_CROP = 0.3


class Losses(NamedTuple):
    """(draws, cultivars) what is left of a full crop, 0 to 1, by each cause alone; and of which year each draw is (draws,)."""

    after_chill: np.ndarray
    after_frost: np.ndarray
    year: np.ndarray

    @property
    def left(self) -> np.ndarray:
        """What is left after both: the one takes its share of what the other left."""
        return self.after_chill * self.after_frost


def losses(
    cultivars: pd.DataFrame,
    winters: Winters,
    springs: Springs,
    bloom: Bloom,
    site: str,
    draws: int,
    rng: np.random.Generator,
) -> Losses:
    """Years drawn whole from those on record, each with the doubt of its bloom and of what cultivars need.

    Parameters
    ----------
    cultivars : DataFrame
        In the order of ``bloom.cultivars``, with chill_requirement_cp and chill_requirement_h.
    winters, springs : Winters, Springs
        Of one station.
    bloom : Bloom
        A fitted model.
    site : str
        The site of the records that the station is; "" for another.
    draws : int
        How many years are drawn.
    rng : Generator
        Where they are drawn from.

    Returns
    -------
    Losses
        A cultivar whose need is not on record loses nothing to chill: that is not known, not safe.

    Raises
    ------
    ValueError
        No year has both its winter and its spring on record, or the bloom model refused.
    """
    years = [year for year in springs.years if year in set(winters.years)]
    if bloom.refused or not years:
        raise ValueError(
            bloom.refused
            or f"{winters.station.name} has no year with both its winter and its spring on record."
        )
    which = rng.integers(len(years), size=draws)
    day, own, common = bloom.expected(springs, years, site)
    together = rng.normal(size=(draws, 1)) * common[which]  # a spring is early or late for all of them
    drawn = np.rint(day[which] + together + rng.normal(size=(draws, day.shape[1])) * own[which])
    after_frost = np.ones(drawn.shape)
    for at, year in enumerate(years):
        rows = np.flatnonzero(which == at)
        after_frost[rows] = crop_left(lost(winters.station, year, drawn[rows]))
    after_chill = np.ones(drawn.shape)
    off = rng.uniform(-0.5, 0.5, size=drawn.shape[1])  # a rounded need is off by the same in every year
    supply = winters.supply.loc[years]
    for name, column in reversed(NEEDS.items()):  # portions hold where both are recorded
        need = cultivars[column].to_numpy(dtype=float)
        known = np.isfinite(need) & (need > 0)
        true = np.maximum(need + off * rounded_to(need), 1e-9)
        short = 1 - supply[name].to_numpy()[which][:, None] / true
        after_chill[:, known] = np.clip(1 - short / NO_CROP, 0, 1)[:, known]
    return Losses(after_chill, after_frost, np.array(years)[which])
