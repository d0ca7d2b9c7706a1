"""A place beside a station: its temperatures out of the station's, by what days on record at two places say, month by month.

Nothing is moved that no paired days speak for.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
import pandas as pd

from dashboard.site.station import Station, usable

PAIRED_DAYS = 20  # of a month, below which nothing is said of it; ours
ENDS = ("tmin", "tmax")


@dataclass(frozen=True, eq=False)
class Moved:
    """What is added to a station's days: ``shift`` has a row a month (1 to 12) and columns tmin and tmax, °C; ``rests_on`` how many paired
    days, and between which places. ``refused`` says why there is none."""

    shift: pd.DataFrame | None = None
    rests_on: str = ""
    refused: str = ""


def by_elevation(found: Mapping[str, Station], key: str, higher_m: float) -> Moved:
    """What a place so many meters above a station (below, where negative) differs by, as the other stations beside it do.

    Parameters
    ----------
    found : Mapping of str to Station
        All stations of the records.
    key : str
        The station that is moved.
    higher_m : float
        Meters; no more than the farthest other station lies above or below.

    Returns
    -------
    Moved
        By month, the line through the station on differences from it against meters, least squares over the other stations.
    """
    here = found[key]
    if not np.isfinite(here.elevation_m):
        return Moved(
            refused=f"The elevation of {here.name} is not on record, so nothing can be said of a place above or below it."
        )
    others = {one.name: one for other, one in usable(found).items() if other != key and np.isfinite(one.elevation_m) and one.elevation_m != here.elevation_m}  # fmt: skip
    rises, differences, days = [], [], 0
    for other in others.values():
        difference, paired = monthly(here, other)
        if difference is not None:
            rises.append(other.elevation_m - here.elevation_m)
            differences.append(difference)
            days += paired
    if not rises:
        return Moved(refused=f"No other station has days paired with those of {here.name}, so nothing can be said of a place above or below it.")  # fmt: skip
    most = max(abs(rise) for rise in rises)
    if abs(higher_m) > most:
        return Moved(refused=f"No station lies more than {most:.0f} m above or below {here.name}, so nothing can be said of {abs(higher_m):.0f} m.")  # fmt: skip
    each = 0.0 * differences[0]
    for rise, one in zip(rises, differences, strict=True):
        each += rise * one / sum(other**2 for other in rises)
    told = f"{days:,} days on record at both {here.name} and {' or '.join(others)}"
    return Moved(each * higher_m, told)


def by_own_days(here: Station, own: Station) -> Moved:
    """What a place differs by from a station, from the days on record at both.

    Parameters
    ----------
    here : Station
        With many winters.
    own : Station
        With few.

    Returns
    -------
    Moved
        Mean differences by month, told only where each month has enough days.
    """
    difference, paired = monthly(here, own)
    if difference is None:
        return Moved(
            refused=f"{own.name} and {here.name} have too few days on record at both: each month needs {PAIRED_DAYS}."
        )
    return Moved(difference, f"{paired:,} days on record at both {here.name} and {own.name}")


def monthly(here: Station, other: Station) -> tuple[pd.DataFrame | None, int]:
    """How much warmer another place is, by month: its mean differences and how many days they rest on; None where a month has too few."""
    frames = [pd.DataFrame({"tmin": one.tmin, "tmax": one.tmax}, index=one.days) for one in (here, other)]
    both = (frames[1] - frames[0]).dropna()
    by_month = both.groupby(pd.DatetimeIndex(both.index).month)
    counts = by_month.size().reindex(range(1, 13), fill_value=0)
    if (counts < PAIRED_DAYS).any():
        return None, len(both)
    return by_month.mean().reindex(range(1, 13)), len(both)


def moved(here: Station, by: Moved, name: str, elevation_m: float = np.nan) -> Station:
    """The station's days with what a place differs by added; its own refusal where there is none."""
    if by.shift is None:
        return replace(here, name=name, refused=by.refused)
    month = here.days.month.to_numpy() - 1
    add = by.shift.to_numpy()[month]
    tmin, tmax = here.tmin + add[:, 0], here.tmax + add[:, 1]
    measured = None if here.measured is None else here.measured + add.mean(axis=1)[:, None]
    told = (*here.told, f"Moved by month, by what {by.rests_on} say.")
    return replace(
        here, name=name, elevation_m=elevation_m, tmin=np.minimum(tmin, tmax), tmax=np.maximum(tmin, tmax), told=told, measured=measured
    )  # fmt: skip
