"""What is said about a cell that cannot be read, and what to write instead."""

from __future__ import annotations

import re
from datetime import date, timedelta
from difflib import get_close_matches

from dashboard.records.problems import listed
from dashboard.records.schema import Column, Range
from dashboard.units import QUANTITIES, UNITS, Unit

Said = tuple[str, str]  # rule and suggestion

_TYPED_UNIT = re.compile(r"([+-]?\d+(?:[.,]\d+)?)\s*([^\d\s.,][^\d]*)")
_DECIMAL_COMMA = re.compile(r"[+-]?\d+,\d+")
_SLASHED = re.compile(r"(\d{1,2})[/.\-](\d{1,2})[/.\-](\d{4})")
_NO_NUMBER = {
    "nan",
    "inf",
    "infinity",
    "null",
    "none",
    "missing",
    "?",
    "x",
    "#n/a",
    "#value!",
    "#ref!",
    "#div/0!",
}
_MISREAD = "look whether it was misread"
_LEAVE_EMPTY = "leave the cell empty where nothing was measured"


def number_fault(cell: str, column: Column, unit: Unit | None) -> Said:
    if cell.lstrip("+-").casefold() in _NO_NUMBER:
        return "is not a number", _LEAVE_EMPTY
    if _DECIMAL_COMMA.fullmatch(cell):
        return "has a decimal comma", f"write {cell.replace(',', '.')}"
    typed = _TYPED_UNIT.fullmatch(cell)
    if typed:
        bare, mark = typed[1].replace(",", "."), typed[2].strip().casefold().rstrip(".")
        meant = _meant(mark, column)
        if meant and unit and meant != unit.suffix:
            heading = next(spelling for spelling, other in column.spellings.items() if other is UNITS[meant])
            value = UNITS[meant].to_si(float(bare))
            return (
                "has its unit typed in, and not the column's",
                f"write {_short(unit.from_si(value))}, or name the column {heading}",
            )
        return "has its unit typed in", f"write {bare}; the unit stands in the column's name"
    if re.fullmatch(r"[<>~≈]\s*\d+(\.\d+)?", cell):
        return "is not one number", f"write the reading itself, or {_LEAVE_EMPTY}"
    return "is not a number", f"write it with digits and a point, or {_LEAVE_EMPTY}"


def whole_fault(cell: str) -> Said:
    return "is not a whole number", "write it without a fraction"


def range_fault(number: float, column: Column, unit: Unit | None, limits: Range) -> Said:
    """``number`` as written, in ``unit``; ``limits`` in SI."""
    low, high = (unit.from_si(limit) if unit else limit for limit in limits)
    symbol = f" {unit.symbol}" if unit and column.quantity != "rating" else ""
    return f"is outside {_short(low)} to {_short(high)}{symbol}", _likely(number, column, unit)


def unusual(number: float, column: Column, unit: Unit | None) -> Said:
    """A value that may be, outside the usual range of its column."""
    assert column.flag is not None
    low, high = (unit.from_si(limit) if unit else limit for limit in column.flag)
    symbol = f" {unit.symbol}" if unit else ""
    rule = (
        f"is unusually low, under {_short(low)}{symbol}"
        if number < low
        else f"is unusually high, over {_short(high)}{symbol}"
    )
    far = (
        number > 1.5 * high or number < low / 1.5
    )  # near the limit nothing else is likely to have been meant
    return rule, _likely(number, column, unit) if far else _MISREAD


def class_fault(cell: str, column: Column) -> Said:
    near = get_close_matches(cell.casefold(), column.words, 1, 0.4)
    meant = next(
        (word for word in column.words if word in cell.casefold() or cell.casefold() in word),
        near[0] if near else "",
    )
    hint = (
        f"did you mean {meant}? The words are {listed(column.words)}"
        if meant
        else f"write {listed(column.words, 'or')}"
    )
    return f"is not a word for {column.name.replace('_', ' ')}", hint


def yes_no_fault(cell: str) -> Said:
    return "is neither yes nor no", "write yes or no"


def date_fault(cell: str) -> Said:
    slashed = _SLASHED.fullmatch(cell)
    if slashed:
        first, second, year = int(slashed[1]), int(slashed[2]), int(slashed[3])
        forms = [
            f"{year:04}-{month:02}-{day:02}"
            for month, day in ((second, first), (first, second))
            if _is_date(year, month, day)
        ]
        forms = list(dict.fromkeys(forms))
        if len(forms) == 2:
            return (
                "is ambiguous: it may be one of two days",
                f"write {forms[0]} or {forms[1]} (year-month-day)",
            )
        if forms:
            return "is not written year-month-day", f"write {forms[0]}"
    if re.fullmatch(r"\d{5}", cell) and 20000 <= int(cell) <= 80000:
        day = date(1899, 12, 30) + timedelta(days=int(cell))
        return "is a day number, not a date", f"write {day.isoformat()}, or format the cell as a date"
    if re.fullmatch(r"\d{4}-\d{1,2}-\d{1,2}", cell):
        return "is not a day of the calendar", "correct the month or the day"
    return "is not a date", "write it year-month-day, like 2024-07-03"


def unseen_fault() -> Said:
    return "holds characters that cannot be seen", "type the text again"


def _likely(number: float, column: Column, unit: Unit | None) -> str:
    """What the number may have been meant to be: another unit, or a slipped decimal point."""
    number, usual = float(number), column.flag or column.refuse
    if unit and usual:
        for suffix in QUANTITIES[column.quantity]:
            other = UNITS[suffix]
            if other is not unit and usual[0] <= other.to_si(number) <= usual[1] and other.to_si(number) != 0:
                return f"it may be in {other.symbol}: write {_short(unit.from_si(other.to_si(number)))} here"
        for slip in (10.0, 0.1, 100.0, 0.01):
            if usual[0] <= unit.to_si(number * slip) <= usual[1] and number and not column.rating:
                return f"a slipped decimal point? {_short(number * slip)} would be usual"
    return "write the scale's own value, or declare the scale that was used" if column.rating else _MISREAD


def _meant(mark: str, column: Column) -> str | None:
    words = {
        '"': "in",
        "”": "in",
        "inch": "in",
        "inches": "in",
        "lbs": "lbf",
        "lb": "lbf",
        "kg": "kgf",
        "°c": "c",
        "°f": "f",
    }
    suffix = mark if mark in QUANTITIES.get(column.quantity, ()) else words.get(mark, mark)
    return suffix if suffix in QUANTITIES.get(column.quantity, ()) else None


def _is_date(year: int, month: int, day: int) -> bool:
    try:
        date(year, month, day)
    except ValueError:
        return False
    return True


def _short(number: float) -> str:
    return f"{number:.4g}" if abs(number) < 1e4 else f"{number:.0f}"
