"""Days of the season written as dates, and halves of months.

A day of the season is 1 on 1 January in the north and 1 on 1 July in the south, so that a southern season
(November to March) does not break at New Year. Dates are written in a year of 365 days: the same day is
the same date every year, and 29 February shares its number with 1 March.

On a screen a date is written as its reader writes it, the month first or the day. Everywhere else, on paper, in files and where a
browser does not say, the month comes first, as in American English.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import date, timedelta
from math import ceil, floor

import numpy as np

_MONTH_FIRST: ContextVar[bool] = ContextVar("month first", default=True)

_MONTHS = (
    ("January", 31), ("February", 28), ("March", 31), ("April", 30), ("May", 31), ("June", 30),
    ("July", 31), ("August", 31), ("September", 30), ("October", 31), ("November", 30), ("December", 31),
)  # fmt: skip
MONTHS = tuple(name for name, _ in _MONTHS)
_STARTS = np.concatenate([[0], np.cumsum([days for _, days in _MONTHS])])
_YEAR = 365
# Days of a month that an axis is marked at: the first of these that give marks enough.
_MARKED = ((1, 15), (1, 8, 15, 22), (1, 4, 8, 11, 15, 18, 22, 25))
_FEWEST_MARKS = 3
_SOUTHERN_START = 181  # 30 June, the day before a southern season's first


def month_first() -> bool:
    """Whether dates are being written with the month first."""
    return _MONTH_FIRST.get()


@contextmanager
def written_for(languages: str) -> Iterator[None]:
    """Dates within are written for a reader of these languages (RFC 9110, Accept-Language; the first counts): the month first for
    American English, for English of no country, as the Unicode locale data (CLDR) has it, from memory, and where none is told; else
    the day."""
    first = languages.split(",")[0].split(";")[0].strip().lower()
    before = _MONTH_FIRST.set(first in ("en", "en-us", "", "*"))
    try:
        yield
    finally:
        _MONTH_FIRST.reset(before)


def _date(of_month: int | str, month: str) -> str:
    return f"{month} {of_month}" if month_first() else f"{of_month} {month}"


def date_label(day: date) -> str:
    """ "Jul 14, 2025" or "14 Jul 2025"."""
    if day != day:  # a date that is missing
        return "day unknown"
    written = _date(day.day, _MONTHS[day.month - 1][0][:3])
    return f"{written}, {day.year}" if month_first() else f"{written} {day.year}"


def picked_label(day: date, slack: float, season: int) -> str:
    """A day of picking as exactly as it is known: the day, "week of 1 Jul 2024" where it may be off, or the season's year."""
    if day != day:
        return str(season)
    return f"week of {date_label(day - timedelta(days=slack))}" if slack else date_label(day)


def day_label(day: float, south: bool = False, form: str = "short") -> str:
    """A day of the season as a date: "Jul 14" (short) or "July 14" (long), or the day first; an en dash where not known."""
    if form not in ("short", "long"):
        raise ValueError(f"form {form!r}: short or long")
    if day is None or not np.isfinite(day):
        return "–"
    of_month, month = of_calendar(day, south)
    name = _MONTHS[month - 1][0]
    return _date(of_month, name if form == "long" else name[:3])


def axis_days(first: float, last: float, south: bool = False) -> list[tuple[float, str]]:
    """The days that an axis from ``first`` to ``last`` is marked at, and what is written there.

    A long axis names each month at its first day, "Jul", and writes "15" at its fifteenth; its first mark, and every mark of an
    axis too short for two months' names, is a whole date.
    """
    every = [(float(day), *of_calendar(day, south)) for day in range(ceil(first), floor(last) + 1)]
    for marked in _MARKED:
        marks = [(day, of_month, month) for day, of_month, month in every if of_month in marked]
        if len(marks) >= _FEWEST_MARKS:
            break
    long = sum(of_month == 1 for _, of_month, _ in marks) > 1

    def label(place: int, day: float, of_month: int, month: int) -> str:
        if long and of_month == 1:
            return _MONTHS[month - 1][0][:3]
        return str(of_month) if long and place else day_label(day, south)

    return [(mark[0], label(place, *mark)) for place, mark in enumerate(marks)]


def of_calendar(day: float, south: bool = False) -> tuple[int, int]:
    """Day of the month, and month, of a day of the season."""
    of_year = (int(np.floor(day + 0.5)) - 1 + (_SOUTHERN_START if south else 0)) % _YEAR
    month = int(np.searchsorted(_STARTS, of_year, side="right"))
    return of_year - int(_STARTS[month - 1]) + 1, month


def day_of(month: int, day: int, south: bool = False) -> float:
    """The day of the season of a date; ValueError for a date that is in no calendar."""
    if not 1 <= month <= 12:
        raise ValueError(f"month {month}: 1 to 12")
    longest = 29 if month == 2 else _MONTHS[month - 1][1]
    if not 1 <= day <= longest:
        raise ValueError(f"day {day}: 1 to {longest} in {_MONTHS[month - 1][0]}")
    of_year = int(_STARTS[month - 1]) + day
    if not south:
        return float(of_year)
    return float((of_year - _SOUTHERN_START - 1) % _YEAR + 1)


def day_key(day: float, south: bool = False) -> str:
    """ "06-10" for the tenth of June: a day as it stands in a link."""
    of_month, month = of_calendar(day, south)
    return f"{month:02d}-{of_month:02d}"


def day_of_key(key: str, south: bool = False) -> float:
    """The day of the season of a key; ValueError for what is none."""
    month, _, day = key.partition("-")
    return day_of(int(month), int(day), south)


def day_keys() -> tuple[str, ...]:
    """Every day of a year, from "01-01" on."""
    return tuple(
        f"{month:02d}-{day:02d}" for month, (_, days) in enumerate(_MONTHS, 1) for day in range(1, days + 1)
    )


def half_span(half: str, south: bool = False) -> tuple[float, float]:
    """First and last day of a half month: "07a" is 1 to 15 July, "07b" 16 to 31 July."""
    month = int(half[:2])
    if half[2] == "a":
        return day_of(month, 1, south), day_of(month, 15, south)
    return day_of(month, 16, south), day_of(month, _MONTHS[month - 1][1], south)


def half_label(half: str) -> str:
    """ "Jul 1–15" or "Jul 16–31", or the day first."""
    name, days = _MONTHS[int(half[:2]) - 1]
    return _date("1–15" if half[2] == "a" else f"16–{days}", name[:3])


def half_months() -> list[str]:
    """Every half month of a year: "01a", "01b", …"""
    return [f"{month:02d}{part}" for month in range(1, 13) for part in "ab"]
