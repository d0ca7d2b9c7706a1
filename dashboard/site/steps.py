"""Whether a record jumps, as it does when a thermometer was moved: a standard normal homogeneity test on yearly means.

Alexandersson (1986), Journal of Climatology 6: 661-675. A jump is told, and left in: what caused it, the test cannot say.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

import numpy as np
import pandas as pd

from dashboard.site.station import Station

FEWEST_YEARS = 10
WHOLE_DAYS = 330
# What the test's figure stays below in 99 of 100 records without a jump, by years: 40,000 normal series each, recomputed.
_CRITICAL = (
    (10, 6.77),
    (15, 8.25),
    (20, 9.15),
    (25, 9.61),
    (30, 10.19),
    (40, 10.64),
    (50, 11.17),
    (70, 11.79),
    (100, 12.24),
)


class Jump(NamedTuple):
    """From the first of January of ``year`` on it reads so much warmer (°C) against what it was held against."""

    year: int
    by_c: float
    against: str


def jump(here: Station, others: Iterable[Station] = ()) -> Jump | None:
    """The year in which a record jumps; None for none that is sure.

    Parameters
    ----------
    here : Station
    others : iterable of Station
        Others nearby, against whose mean it is held; without any it is held against itself, and then only the span from the lowest to
        the highest of a day, which a change of climate moves little.

    Returns
    -------
    Jump or None
        At 99 %.

    Source
    ------
    Alexandersson (1986), Journal of Climatology 6: 661-675; critical values recomputed.
    """
    near = [one for one in others if one is not here and not one.refused]
    mean = _daily(here)
    if near:
        series = mean - pd.concat([_daily(one) for one in near], axis=1).mean(axis=1, skipna=False)
    else:
        series = pd.Series(here.tmax - here.tmin, index=here.days)
    known = series.dropna()
    years = pd.DatetimeIndex(known.index).year
    whole = known.groupby(years).agg(["mean", "size"])
    yearly = whole["mean"][whole["size"] >= WHOLE_DAYS]
    if len(yearly) < FEWEST_YEARS or yearly.std(ddof=1) == 0:
        return None
    figure, at = homogeneity(yearly.to_numpy())
    years_known, critical = zip(*_CRITICAL, strict=True)
    if figure <= np.interp(len(yearly), years_known, critical):
        return None
    by = float(yearly.iloc[at:].mean() - yearly.iloc[:at].mean())
    return Jump(int(yearly.index[at]), by, "the stations nearby" if near else "")


def homogeneity(values: np.ndarray) -> tuple[float, int]:
    """The largest figure of the test over all splits of a series, and the place of the first value after that split."""
    z = (values - values.mean()) / values.std(ddof=1)
    count = np.arange(1, len(z))
    before = np.cumsum(z)[:-1] / count
    after = (z.sum() - np.cumsum(z)[:-1]) / (len(z) - count)
    figures = count * before**2 + (len(z) - count) * after**2
    at = int(figures.argmax())
    return float(figures[at]), at + 1


def _daily(one: Station) -> pd.Series:
    return pd.Series((one.tmin + one.tmax) / 2, index=one.days)
