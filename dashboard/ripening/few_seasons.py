"""What seasons do to the days of picking, where few were seen: weighed with a stated assumption, never taken as certain.

Two seasons may fall alike by chance, or lie as far apart as no two others. What fewer than FEW show is weighed with an
assumption, as if that rested on AS_IF further seasons: a season moves the first day of all cultivars by five days (SD) and
that of a single one by two. Choices of ours.
"""

from __future__ import annotations

import numpy as np
from scipy import stats

FEW, AS_IF = 6, 4
SEASON_SD = {"first": 5.0, "days": 1.0}  # of a season, for all cultivars alike
LUCK_SD = {"first": 2.0, "days": 1.0}  # of one cultivar in one season


def freedom(seasons: int) -> int:
    """Degrees of freedom by which the spread of seasons is known: those seen, and where they are few those assumed."""
    return seasons - 1 + (AS_IF if seasons < FEW else 0)


def weighed(variance: float, seasons: int, part: str) -> float:
    """The variance (days²) of seasons in "first" or "days", from what so many of them showed."""
    if seasons >= FEW:
        return variance
    return (variance * (seasons - 1) + AS_IF * SEASON_SD[part] ** 2) / freedom(seasons)


def assumption(seasons: int) -> str:
    """What dates of so few seasons also rest on; "" where they are enough."""
    if seasons >= FEW:
        return ""
    seen = "one season" if seasons == 1 else f"{seasons} seasons"
    return f"Picking was seen in {seen} only. So it is also taken that a season moves it by about {SEASON_SD['first']:g} days."


def half_width(own: np.ndarray, common: np.ndarray | float, df: int, share: float) -> np.ndarray:
    """How far off a day lies at most, ``share`` being the chance to stay on one side of that.

    Variances (k,): ``own``, and a ``common`` one of seasons, known by ``df`` degrees of freedom only: Student's t with those of
    the sum (Satterthwaite 1946, Biometrics Bulletin 2: 110-114).
    """
    total = own + common
    with np.errstate(divide="ignore"):
        of_sum = max(df, 1) * np.square(total / common)
    return np.sqrt(total) * stats.t.ppf(share, of_sum)
