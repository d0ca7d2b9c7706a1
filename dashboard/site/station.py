"""The temperatures of one place, day by day, as far as they can be believed: what is missing, filled, or not used is said."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import pandas as pd

from dashboard.site.hourly import FARTHEST_DEG, hourly

FILLED_DAYS = 3  # the longest gap filled by a straight line; ours
SAME_DAYS = 5  # so many days with the very same two readings are a thermometer that stands still, or zeros for none; ours
# No month of a weather station is warmer than the first, and peaches grow nowhere without any cooler than the second (°C): such
# readings are in Fahrenheit. Both ours, with much room.
_HOTTEST_C, _COOLEST_C = 42.0, 22.0


@dataclass(frozen=True, eq=False)
class Station:
    """One day after the other from the first record to the last; NaN where a gap was too long to fill."""

    name: str
    latitude_deg: float
    elevation_m: float  # NaN where it is not known
    days: pd.DatetimeIndex
    tmin: np.ndarray  # (days,) °C
    tmax: np.ndarray
    told: tuple[str, ...] = ()  # what was done to the records, in sentences
    refused: str = ""  # why nothing can be told of it; "" where it can
    measured: np.ndarray | None = None  # (days, 24) °C, where hours were recorded

    @property
    def south(self) -> bool:
        return self.latitude_deg < 0

    @cached_property
    def hours(self) -> np.ndarray:
        """(days, 24) °C on the hour: measured, or by ``hourly``."""
        made = hourly(self.tmin, self.tmax, self.latitude_deg, self.days.day_of_year.to_numpy())
        return made if self.measured is None else np.where(np.isnan(self.measured), made, self.measured)


def stations(weather: pd.DataFrame, sites: pd.DataFrame) -> dict[str, Station]:
    """The station of each site that has weather, by the site's key.

    Parameters
    ----------
    weather : DataFrame
        The table ``weather``: site, date, and tmin_c and tmax_c, or hour and temp_c.
    sites : DataFrame
        The table ``sites``.

    Returns
    -------
    dict of str to Station
        In the order of ``sites``; those that cannot be used refuse and say why.
    """
    found, whose = {}, weather["site"].astype("str").to_numpy(dtype=object)
    for row in sites.to_dict("records"):
        key, named = str(row["site"]), row.get("name")
        here = weather[whose == key]
        if len(here):
            name = str(named) if isinstance(named, str) and named else key
            found[key] = station(
                here, name, _number(row.get("latitude_deg")), _number(row.get("elevation_m"))
            )
    return found


def station(weather: pd.DataFrame, name: str, latitude_deg: float, elevation_m: float = np.nan) -> Station:
    """The days of one place, looked through.

    Parameters
    ----------
    weather : DataFrame
        One row a day (date, tmin_c, tmax_c) or an hour (date, hour, temp_c), °C.
    name : str
        As a reader knows it.
    latitude_deg, elevation_m : float
        Degrees north, meters; NaN where they are not known.

    Returns
    -------
    Station
        One that ``refused`` where nothing can be told.
    """
    none = Station(name, latitude_deg, elevation_m, pd.DatetimeIndex([]), np.array([]), np.array([]))
    if not np.isfinite(latitude_deg):
        return replace(
            none, refused=f"{name} has no latitude on record, so its hours cannot be told from its days."
        )
    if abs(latitude_deg) > FARTHEST_DEG:
        return replace(none, refused=f"{name} lies beyond {FARTHEST_DEG:.0f} degrees of latitude, where its hours cannot be told from its days.")  # fmt: skip
    daily, measured, told = _by_day(weather)
    if not len(daily):
        return replace(none, refused=f"{name} has no day with both a lowest and a highest temperature.")
    if _in_fahrenheit(daily):
        return replace(none, refused=f"The temperatures of {name} read like Fahrenheit declared as Celsius; name the columns tmin_f and tmax_f.")  # fmt: skip
    tmin, tmax = (daily[name].to_numpy(dtype=float, copy=True) for name in ("tmin_c", "tmax_c"))
    with np.errstate(invalid="ignore"):
        told += _cleared(
            tmin, tmax, tmin > tmax, "{} with the lowest above the highest temperature: taken as missing."
        )
    told += _cleared(
        tmin, tmax, _standing(tmin, tmax), "{} that repeat the very same readings: taken as missing."
    )
    if np.isnan(tmin).all() or np.isnan(tmax).all():
        return replace(
            none, refused=f"No day of {name} can be believed: {' '.join(told) or 'none is whole.'}"
        )
    told += _filled(tmin, tmax)
    days = pd.DatetimeIndex(daily.index)
    return Station(name, latitude_deg, elevation_m, days, tmin, tmax, tuple(told), measured=measured)


def _number(value: object) -> float:
    return float(value) if isinstance(value, int | float) else float("nan")


def _by_day(weather: pd.DataFrame) -> tuple[pd.DataFrame, np.ndarray | None, list[str]]:
    """Every day from the first to the last, hours where they were recorded, and what was done."""
    columns = {name: weather.get(name, pd.Series(np.nan, index=weather.index)) for name in ("hour", "tmin_c", "tmax_c", "temp_c")}  # fmt: skip
    frame = pd.DataFrame({"date": pd.to_datetime(weather["date"]).dt.normalize(), **columns})
    by_hour = frame[frame["hour"].notna() & frame["temp_c"].notna()]
    daily = (
        frame[frame["tmin_c"].notna() & frame["tmax_c"].notna()].groupby("date")[["tmin_c", "tmax_c"]].first()
    )
    if by_hour.empty:
        return _every_day(daily), None, []
    # 24 o'clock is the next day's 0; an hour read twice, as when clocks go back, counts once with its mean.
    late = by_hour["hour"] >= 24
    date = by_hour["date"] + pd.to_timedelta(late.to_numpy(dtype=int), unit="D")
    wide = by_hour.assign(date=date, hour=by_hour["hour"].mod(24).astype(int)).pivot_table("temp_c", "date", "hour").reindex(columns=range(24))  # fmt: skip
    near = wide.T.interpolate(limit=3, limit_area="inside").T
    whole = near.notna().sum(axis=1) >= 22  # of a day with fewer, the lowest or the highest may be missing
    ends = pd.DataFrame({"tmin_c": near.min(axis=1), "tmax_c": near.max(axis=1)})[whole]
    short = int((wide.notna().sum(axis=1) < 24)[whole].sum())
    daily = _every_day(ends.combine_first(daily))
    told = (
        [f"{_days(short)} with an hour missing, as when clocks change: the hours next to it were joined."]
        if short
        else []
    )
    return daily, near.where(whole, axis=0).reindex(daily.index).to_numpy(dtype=float), told


def _every_day(daily: pd.DataFrame) -> pd.DataFrame:
    return daily.reindex(pd.date_range(daily.index.min(), daily.index.max())) if len(daily) else daily


def _in_fahrenheit(daily: pd.DataFrame) -> bool:
    mean = (
        daily[["tmin_c", "tmax_c"]].mean(axis=1).groupby(pd.DatetimeIndex(daily.index).month).mean().dropna()
    )
    return bool(mean.max() > _HOTTEST_C or (len(mean) >= 6 and mean.min() > _COOLEST_C))


def _standing(tmin: np.ndarray, tmax: np.ndarray) -> np.ndarray:
    """Days within a run of the very same two readings."""
    new = np.r_[True, (np.diff(tmin) != 0) | (np.diff(tmax) != 0)]  # NaN differs from everything
    run = np.cumsum(new)
    return (np.bincount(run)[run] >= SAME_DAYS) & ~np.isnan(tmin)


def _cleared(tmin: np.ndarray, tmax: np.ndarray, wrong: np.ndarray, sentence: str) -> list[str]:
    tmin[wrong], tmax[wrong] = np.nan, np.nan
    return [sentence.format(_days(int(wrong.sum())))] if wrong.any() else []


def _filled(tmin: np.ndarray, tmax: np.ndarray) -> list[str]:
    """Short gaps get a straight line between the days around them."""
    missing = np.isnan(tmin) | np.isnan(tmax)
    if not missing.any():
        return []
    starts, ends = _runs(missing)
    short = np.zeros(len(missing), dtype=bool)
    for start, end in zip(starts, ends, strict=True):
        short[start:end] = end - start <= FILLED_DAYS and start > 0 and end < len(missing)
    days = np.arange(len(missing))
    for values in (tmin, tmax):
        values[short] = np.interp(days[short], days[~missing], values[~missing])
        values[missing & ~short] = np.nan
    left = int((missing & ~short).sum())
    told = (
        [f"{_days(int(short.sum()))} missing in short gaps: filled from the days around them."]
        if short.any()
        else []
    )
    return told + (
        [f"{_days(left)} missing in gaps longer than {FILLED_DAYS} days: not filled."] if left else []
    )


def _runs(marked: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    edges = np.flatnonzero(np.diff(np.r_[False, marked, False].astype(int)))
    return edges[::2], edges[1::2]


def _days(count: int) -> str:
    return f"{count:,} day" + ("s" if count != 1 else "")


def usable(found: Mapping[str, Station]) -> dict[str, Station]:
    """Those that do not refuse."""
    return {key: one for key, one in found.items() if not one.refused}
