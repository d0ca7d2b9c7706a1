"""The season a day belongs to, and its day of that season, north and south."""

from __future__ import annotations

import numpy as np
import pandas as pd


def southern(sites: pd.DataFrame, named: pd.Series) -> np.ndarray:
    """Whether each named site lies south of the equator; unknown latitudes count as north. Shape (n,) bool."""
    south = sites.loc[sites["latitude_deg"] < 0, "site"]
    return named.isin(south).to_numpy(dtype=bool)


def season_and_day(dates: pd.Series, south: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Season (n,) int and day of season (n,) float.

    North: the calendar year and the day of the year. South: July to December count to the next year's
    season, and the day is that since 30 June, so that 1 July is day 1. Days are those of a year of 365 days,
    so that the same date is the same day in every year; 29 February shares its number with 1 March. Dates must
    all be there.
    """
    days = dates.to_numpy().astype("datetime64[D]")
    years = days.astype("datetime64[Y]").astype(int) + 1970
    months = days.astype("datetime64[M]").astype(int) % 12 + 1
    season = years + (south & (months >= 7))
    before = np.where(south, _day(season - 1, 6) + 29, _day(season, 1) - 1)  # 30 June, 31 December
    number = days.astype(int)
    leap = _day(season, 3) - _day(season, 2) == 29
    late = leap & (number >= _day(season, 3))  # the season's own 29 February has passed
    return season, (number - before - late).astype(float)


def _day(years: np.ndarray, month: int) -> np.ndarray:
    """Days from 1970-01-01 to the first of a month."""
    return ((years - 1970) * 12 + month - 1).astype("datetime64[M]").astype("datetime64[D]").astype(int)
