"""What a frost takes of the bloom: published kill temperatures by stage, and the share lost in each past spring."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import pandas as pd

from dashboard.site.station import Station


class Stage(NamedTuple):
    """Temperatures (°F, half an hour long) that kill 10 % and 90 % of the flower buds, and on which day after full bloom it begins."""

    name: str
    kills_10_f: float
    kills_90_f: float
    begins: int


# Temperatures: Washington State University EB0913, as the table of Penn State Extension has them. Another extension table has 2 °F for 90 %
# of swollen buds and 18 °F at pink; the two differ. Days: averages beside one orchard, as EB0913 prints them (from memory): a warm spring
# runs through the stages faster.
STAGES = (
    Stage("first swelling", 18, 1, -32),
    Stage("calyx green", 21, 5, -23),
    Stage("calyx red", 23, 9, -20),
    Stage("first pink", 25, 15, -12),
    Stage("first bloom", 26, 21, -5),
    Stage("full bloom", 27, 24, -1),
    Stage("post bloom", 28, 25, 6),
)
LAST_DAY = 20  # after full bloom; from then on the small fruit is no longer in these tables
NEEDED = 0.1  # the share of the flowers that sets a full crop: 7 to 10 % (North Carolina), 10 to 15 % (intermountain extension pages)
_LOGIT_90 = float(np.log(9.0))


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def share_killed(lowest: np.ndarray, stage: Stage) -> np.ndarray:
    """The share of flower buds that a night kills.

    Parameters
    ----------
    lowest : ndarray
        The night's lowest, °C, any shape.
    stage : Stage

    Returns
    -------
    ndarray
        0 to 1: 0.1 and 0.9 at the two published temperatures, along a logistic curve between them and beyond; the curve is ours.
    """
    ten, ninety = celsius(stage.kills_10_f), celsius(stage.kills_90_f)
    x = _LOGIT_90 * (2 * (np.asarray(lowest, dtype=float) - ninety) / (ten - ninety) - 1)
    return 1 / (1 + np.exp(np.clip(x, -700, 700)))


def springs(station: Station) -> list[int]:
    """The years whose months with buds and bloom are on record without a gap."""
    known = ~np.isnan(station.tmin)
    found = []
    for year in sorted(set(station.days.year)):
        opens, closes = (station.days.searchsorted(day) for day in _months(station, int(year)))
        if closes - opens >= 180 and known[opens:closes].all():
            found.append(int(year))
    return found


def lost(station: Station, year: int, full_bloom: np.ndarray) -> np.ndarray:
    """The share of its bloom that each frost of a spring would have taken from whatever was in full bloom on some day.

    Buds that a first frost kills are those a second would have killed too, so the worst night counts alone.

    Parameters
    ----------
    station : Station
    year : int
        One of ``springs``.
    full_bloom : ndarray
        Day of the year of full bloom (1 is 1 January), any shape; whole days.

    Returns
    -------
    ndarray
        The same shape, 0 to 1; NaN where the day is.
    """
    by_stage = lost_by_stage(station, year, full_bloom)
    return by_stage.max(axis=0)


def lost_by_stage(station: Station, year: int, full_bloom: np.ndarray) -> np.ndarray:
    """The same by stage, first axis as ``STAGES``."""
    bloom = np.asarray(full_bloom, dtype=float)
    first = (
        station.days.searchsorted(pd.Timestamp(year, 1, 1)) - 1
    )  # its place plus the day of the year is the day's
    place = np.nan_to_num(np.rint(bloom), nan=0).astype(int) + first
    ends = [stage.begins for stage in STAGES[1:]] + [LAST_DAY]
    found = np.empty((len(STAGES), *bloom.shape))
    for row, (stage, end) in enumerate(zip(STAGES, ends, strict=True)):
        killed = share_killed(station.tmin, stage)
        worst = np.full(bloom.shape, -np.inf)
        for day in range(stage.begins, end):
            at = np.clip(place + day, 0, len(killed) - 1)
            worst = np.maximum(worst, killed[at])
        found[row] = worst
    return np.where(np.isnan(bloom), np.nan, found)


def crop_left(share_lost: np.ndarray) -> np.ndarray:
    """The share of a full crop that is left where frost took a share of the flowers: full while one in ten is left."""
    return np.clip((1 - np.asarray(share_lost, dtype=float)) / NEEDED, 0, 1)


def _months(station: Station, year: int) -> tuple[pd.Timestamp, pd.Timestamp]:
    """From the middle of winter on, half a year."""
    if station.south:
        return pd.Timestamp(year, 7, 1), pd.Timestamp(year, 12, 28)
    return pd.Timestamp(year, 1, 1), pd.Timestamp(year, 7, 1)
