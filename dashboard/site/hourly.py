"""Hourly temperatures out of the day's lowest and highest, by the length of the day.

Linvill (1990), HortScience 25: 14-16: a sine by day, a logarithm by night; day length with the declination of Spencer (1971),
Search 2: 172, and the sun's upper rim on the horizon (-0.8333 degrees).
"""

from __future__ import annotations

import numpy as np

HORIZON_DEG = -0.8333
FARTHEST_DEG = (
    60.0  # from the equator; beyond it nights of summer and days of winter are too short for the two curves
)
_AFTER_NOON_H = 4.0  # Linvill: the warmest hour is two hours after the middle of the day


def daylight(latitude_deg: float, day_of_year: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Sunrise and sunset.

    Parameters
    ----------
    latitude_deg : float
        Degrees north; south is negative.
    day_of_year : ndarray
        (days,) 1 for 1 January.

    Returns
    -------
    tuple of ndarray
        (days,) each, hours of solar time.

    Source
    ------
    Spencer (1971), Search 2: 172.
    """
    angle = 2 * np.pi / 365 * (np.asarray(day_of_year, dtype=float) - 1)
    declination = (
        0.006918
        - 0.399912 * np.cos(angle)
        + 0.070257 * np.sin(angle)
        - 0.006758 * np.cos(2 * angle)
        + 0.000907 * np.sin(2 * angle)
        - 0.002697 * np.cos(3 * angle)
        + 0.00148 * np.sin(3 * angle)
    )
    here = np.radians(latitude_deg)
    up = (np.sin(np.radians(HORIZON_DEG)) - np.sin(here) * np.sin(declination)) / (
        np.cos(here) * np.cos(declination)
    )
    half = np.degrees(np.arccos(np.clip(up, -1, 1))) / 15
    return 12 - half, 12 + half


def hourly(tmin: np.ndarray, tmax: np.ndarray, latitude_deg: float, day_of_year: np.ndarray) -> np.ndarray:
    """Temperatures on the hour of days that follow each other.

    By day the sine of the paper. By night ``Ts - (Ts - Tmin) ln(t + 1) / ln(night + 1)``, t hours after sunset: the paper counts
    from one hour on, and this begins at the sunset's Ts and ends at the next lowest of the day. A published code leaves out the
    second + 1 before dawn, which falls below the day's lowest; that is not followed.

    Parameters
    ----------
    tmin, tmax : ndarray
        (days,) lowest and highest, °C; NaN makes the hours next to it NaN.
    latitude_deg : float
        Degrees north.
    day_of_year : ndarray
        (days,) 1 for 1 January.

    Returns
    -------
    ndarray
        (days, 24) °C at 0 to 23 o'clock solar time. The first night begins and the last one ends as if a day like the nearest stood
        there.

    Source
    ------
    Linvill (1990), HortScience 25: 14-16.
    """
    tmin, tmax = np.asarray(tmin, dtype=float), np.asarray(tmax, dtype=float)
    rise, sets = daylight(latitude_deg, day_of_year)
    span = sets - rise
    at_sunset = (tmax - tmin) * np.sin(np.pi * span / (span + _AFTER_NOON_H)) + tmin
    before, after = _moved(sets, 1), _moved(rise, -1)
    hour = np.arange(24.0)

    since = hour - rise[:, None]
    by_day = (tmax - tmin)[:, None] * np.sin(np.pi * since / (span + _AFTER_NOON_H)[:, None]) + tmin[:, None]
    found = np.where(since >= 0, by_day, _night(hour + (24 - before)[:, None], rise + 24 - before, _moved(at_sunset, 1), tmin))  # fmt: skip
    late = hour - sets[:, None]
    return np.where(late > 0, _night(late, after + 24 - sets, at_sunset, _moved(tmin, -1)), found)


def _night(since: np.ndarray, length: np.ndarray, begins: np.ndarray, ends: np.ndarray) -> np.ndarray:
    gone = np.log1p(np.maximum(since, 0)) / np.log1p(length)[:, None]
    return begins[:, None] - (begins - ends)[:, None] * gone


def _moved(values: np.ndarray, by: int) -> np.ndarray:
    """The values of so many days before, the ends as they are."""
    moved = np.roll(values, by)
    moved[0 if by > 0 else -1] = values[0 if by > 0 else -1]
    return moved
