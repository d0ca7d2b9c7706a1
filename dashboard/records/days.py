"""Cells to days, and how exactly each day is known: a day, a week of ISO 8601, or only a year."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd

DATE = "datetime64[us]"
DAY, WEEK, YEAR = 0, 1, 2  # as in schema.PRECISIONS; the larger, the coarser

_TIMED = r"\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(:\d{2}(\.\d+)?)?"
_WEEK = r"(\d{4})-?W(\d{1,2})"
_MIDDLE = np.timedelta64(3, "D")  # from Monday to Thursday


def days_of(cells: Sequence[str] | np.ndarray, coarse: bool) -> tuple[np.ndarray, np.ndarray]:
    """Days (n,) datetime64, NaT for what is no day; and how exactly each is known (n,) int.

    Read are 2024-07-03, also with a time of day; where ``coarse``, also 2024-W27 and 2024. A time with a time zone
    is no day: at the site it may have been another.
    """
    plain = pd.Series(cells, dtype=object)
    days = pd.to_datetime(plain, format="%Y-%m-%d", errors="coerce").to_numpy().astype(DATE)
    known = np.full(len(days), DAY)
    late = np.flatnonzero(np.isnat(days) & (plain != "").to_numpy())
    if not len(late):
        return days, known
    rest = plain.iloc[late]
    timed = rest.where(rest.str.fullmatch(_TIMED), None).str[:10]
    days[late] = pd.to_datetime(timed, format="%Y-%m-%d", errors="coerce").to_numpy().astype(DATE)
    if coarse:
        weeks = rest.str.extract(f"^{_WEEK}$")
        mondays = pd.to_datetime(
            weeks[0] + "-W" + weeks[1].str.zfill(2) + "-1", format="%G-W%V-%u", errors="coerce"
        )
        years = pd.to_datetime(
            rest.where(rest.str.fullmatch(r"[12]\d{3}"), None), format="%Y", errors="coerce"
        )
        for found, precision in ((mondays.to_numpy() + _MIDDLE, WEEK), (years.to_numpy(), YEAR)):
            there = late[~np.isnat(found)]
            days[there], known[there] = found[~np.isnat(found)].astype(DATE), precision
    return days, known


def coarsened(days: np.ndarray, known: np.ndarray) -> np.ndarray:
    """Days as exactly as they are known: of a week its Thursday, of a year the first of January."""
    whole = days.astype("datetime64[D]")
    with np.errstate(invalid="ignore"):
        weekday = (whole.astype(int) + 3) % 7  # 1970-01-01 was a Thursday; Monday is 0
    thursdays = whole - weekday.astype("timedelta64[D]") + _MIDDLE
    firsts = whole.astype("datetime64[Y]").astype("datetime64[D]")
    found = np.where(known == WEEK, thursdays, np.where(known == YEAR, firsts, whole))
    return np.where(np.isnat(days), np.datetime64("NaT"), found).astype(DATE)
