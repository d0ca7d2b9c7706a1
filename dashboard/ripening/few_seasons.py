"""What seasons do to the days of picking, where few were seen: weighed with a stated assumption, never taken as certain.

Two seasons may fall alike by chance, or lie as far apart as no two others. So where fewer than FEW were seen, the spread of seasons is not
taken as one figure: every spread within SPAN is weighed by how well it goes with what was seen, each being as likely beforehand as its double
or its half, and whatever is told is averaged over them. Five seasons speak for themselves all but wholly; one says nothing, so that there
the assumption is all there is. The ends of SPAN, and LUCK_SD, are choices of ours.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from scipy import special, stats

FEW = 6
HARDLY = 3  # seasons, up to which how sure a date is rests on the assumption first of all
SPAN = {"first": (1.0, 16.0), "days": (0.2, 3.2)}  # SD of a season, for all cultivars alike, days
LUCK_SD = {"first": 2.0, "days": 1.0}  # of one cultivar in one season
_STEPS, _HALVINGS = 41, 36


class Spread(NamedTuple):
    """Variances (k,) in days² that seasons may have, and how likely each is."""

    variance: np.ndarray
    chance: np.ndarray

    @property
    def mean(self) -> float:
        return float(self.chance @ self.variance)

    def drawn(self, count: int, random: np.random.Generator) -> np.ndarray:
        """(count,) of these variances."""
        return random.choice(self.variance, count, p=self.chance)


def assumed(part: str) -> Spread:
    """What is taken of seasons in "first" or "days" before any was seen."""
    return Spread(np.square(np.geomspace(*SPAN[part], _STEPS)), np.full(_STEPS, 1 / _STEPS))


def weighed(before: Spread, square: float, noise: float, seasons: int) -> Spread:
    """What is known once the means of so many seasons had the variance ``square`` (days²), of which ``noise`` is not the seasons' own."""
    total = before.variance + noise
    log = -(seasons - 1) / 2 * (np.log(total) + square / total)
    chance = before.chance * np.exp(log - log.max())
    return Spread(before.variance, chance / chance.sum())


def assumption(seasons: int) -> str:
    """What dates of so few seasons also rest on; "" where they are enough."""
    if seasons >= FEW:
        return ""
    seen = "one season" if seasons == 1 else f"{seasons} seasons"
    least, most = SPAN["first"]
    told = f"Picking was seen in {seen} only. So it is also taken that a season moves it by somewhere from {least:g} to {most:g} days."
    rests = " How wide the likely ranges of dates are rests more on that than on the records."
    return told + (rests if seasons <= HARDLY else "")


def half_width(own: np.ndarray, common: np.ndarray | float, df: int, share: float) -> np.ndarray:
    """How far off a day lies at most, ``share`` being the chance to stay on one side of that.

    Variances (k,): ``own``, and a ``common`` one of seasons, known by ``df`` degrees of freedom only: Student's t with those of
    the sum (Satterthwaite 1946, Biometrics Bulletin 2: 110-114).
    """
    total = own + common
    with np.errstate(divide="ignore"):
        of_sum = max(df, 1) * np.square(total / common)
    return np.sqrt(total) * stats.t.ppf(share, of_sum)


def half_width_over(own: np.ndarray, common: Spread, share: float) -> np.ndarray:
    """The same where the variance of seasons is one of several: by halving, over all of them."""
    sd = np.sqrt(own[:, None] + common.variance)
    low, high = np.zeros(len(own)), 10 * sd.max(axis=1, initial=0.0)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        short = special.ndtr(middle[:, None] / sd) @ common.chance < share
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    return (low + high) / 2
