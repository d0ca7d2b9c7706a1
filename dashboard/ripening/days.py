"""Days of the season written as dates, and halves of months.

A day of the season is 1 on 1 January in the north and 1 on 1 July in the south, so that a southern season
(November to March) does not break at New Year. Dates are written in a year of 365 days: the same day is
the same date every year, and 29 February shares its number with 1 March.
"""

from __future__ import annotations

import numpy as np

_MONTHS = (
    ("January", 31), ("February", 28), ("March", 31), ("April", 30), ("May", 31), ("June", 30),
    ("July", 31), ("August", 31), ("September", 30), ("October", 31), ("November", 30), ("December", 31),
)  # fmt: skip
_STARTS = np.concatenate([[0], np.cumsum([days for _, days in _MONTHS])])
_YEAR = 365
_SOUTHERN_START = 181  # 30 June, the day before a southern season's first


def day_label(day: float, south: bool = False, form: str = "short") -> str:
    """A day of the season as a date: "14 Jul" (short) or "14 July" (long); an en dash where not known."""
    if form not in ("short", "long"):
        raise ValueError(f"form {form!r}: short or long")
    if day is None or not np.isfinite(day):
        return "–"
    of_year = (int(np.floor(day + 0.5)) - 1 + (_SOUTHERN_START if south else 0)) % _YEAR
    month = int(np.searchsorted(_STARTS, of_year, side="right")) - 1
    name = _MONTHS[month][0]
    return f"{of_year - int(_STARTS[month]) + 1} {name if form == 'long' else name[:3]}"


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


def half_span(half: str, south: bool = False) -> tuple[float, float]:
    """First and last day of a half month: "07a" is 1 to 15 July, "07b" 16 to 31 July."""
    month = int(half[:2])
    if half[2] == "a":
        return day_of(month, 1, south), day_of(month, 15, south)
    return day_of(month, 16, south), day_of(month, _MONTHS[month - 1][1], south)


def half_label(half: str) -> str:
    """ "1–15 Jul" or "16–31 Jul"."""
    name, days = _MONTHS[int(half[:2]) - 1]
    return f"1–15 {name[:3]}" if half[2] == "a" else f"16–{days} {name[:3]}"


def half_months() -> list[str]:
    """Every half month of a year: "01a", "01b", …"""
    return [f"{month:02d}{part}" for month in range(1, 13) for part in "ab"]
