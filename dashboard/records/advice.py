"""What is said about a cell that cannot be read, and what to write instead."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from datetime import date, timedelta
from difflib import get_close_matches

from dashboard.records.exchanged import Place, hint
from dashboard.records.problems import listed
from dashboard.records.schema import Column, Range
from dashboard.terms.units import QUANTITIES, UNITS, Unit

Said = tuple[str, str]  # rule and suggestion

_TYPED_UNIT = re.compile(r"([+-]?\d+(?:[.,]\d+)?)\s*([^\d\s.,][^\d]*)")
_FRACTION = re.compile(r"(?:(\d+)[\s-]*)?(?:([¼-¾⅐-⅞])|(\d{1,2})\s*[/⁄]\s*(\d{1,2}))\s*([^\d\s.,/][^\d]*)?")
_PARTS = {2, 4, 8, 16}  # what inches are divided into; 12/13 is no part of any scale
_TWO_FIGURES = re.compile(r"\d+(?:[.,]\d+)?\s*[/⁄]\s*\d+(?:[.,]\d+)?")
_COMMA = re.compile(r"[+-]?\d+(,\d+)+(\.\d+)?")
_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2}(,\d{3})+(\.\d+)?")
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
_IN_WORDS = {"in": "inches"}
_MISREAD = "look whether it was misread"
_LEAVE_EMPTY = "leave the cell empty where nothing was measured"


def number_fault(cell: str, column: Column, unit: Unit | None) -> Said:
    if cell.startswith("="):
        return formula_fault()
    if cell.lstrip("+-").casefold() in _NO_NUMBER:
        return "is not a number", _LEAVE_EMPTY
    if _COMMA.fullmatch(cell):
        return _comma_fault(cell, column, unit)
    fraction, typed = _FRACTION.fullmatch(cell), _TYPED_UNIT.fullmatch(cell)
    if fraction and (value := _of_fraction(fraction)) is not None:
        return _typed_fault("is written with a fraction", value, fraction[5] or "", column, unit)
    if _TWO_FIGURES.fullmatch(cell):
        return (
            "holds two figures, so the cell is set aside",
            f"write the one that was read, or {_LEAVE_EMPTY}",
        )
    if typed:
        bare = typed[1].replace(",", ".")
        return _typed_fault("has its unit typed in", bare, typed[2], column, unit)
    if re.fullmatch(r"[<>~≈]\s*\d+(\.\d+)?", cell):
        return (
            "is not one number",
            f"write the reading itself; of firmness or sugar past an end of the instrument, a row of the table beyond; or {_LEAVE_EMPTY}",
        )
    return "is not a number", f"write it with digits and a point, or {_LEAVE_EMPTY}"


def formula_fault() -> Said:
    return (
        "is a formula without a stored result",
        "open and save the workbook in a spreadsheet program, so that it is worked out, or write the value",
    )


def _comma_fault(cell: str, column: Column, unit: Unit | None) -> Said:
    decimal, whole = cell.replace(",", "."), cell.replace(",", "")
    if not _THOUSANDS.fullmatch(cell):
        return ("has a decimal comma", f"write {decimal}") if cell.count(",") == 1 and "." not in cell else (
            "has commas where a number has none", f"write it with digits and a point, or {_LEAVE_EMPTY}"
        )  # fmt: skip
    readings = [whole] if cell.count(",") > 1 or "." in cell else [whole, decimal]
    usual = column.flag or column.refuse
    if usual and len(readings) > 1:
        likely = [
            one
            for one in readings
            if usual[0] <= (unit.to_si(float(one)) if unit else float(one)) <= usual[1]
        ]
        readings = likely or readings
    if len(readings) == 1:
        return (
            ("has a comma between thousands", f"write {whole}")
            if readings == [whole]
            else ("has a decimal comma", f"write {decimal}")
        )
    return "has a comma that may stand before decimals or between thousands", f"write {decimal} or {whole}"


def _of_fraction(found: re.Match[str]) -> str | None:
    """The value of 2½, 2 1/2 or 1/2 as written with a point; None where nothing is divided as inches are."""
    whole = float(found[1] or 0)
    if found[2]:
        return f"{whole + unicodedata.numeric(found[2]):.4g}"
    upper, lower = int(found[3]), int(found[4])
    return f"{whole + upper / lower:.4g}" if 0 < upper < lower and lower in _PARTS else None


def _typed_fault(rule: str, bare: str, typed: str, column: Column, unit: Unit | None) -> Said:
    """A number with something after it, most often a unit."""
    mark = typed.strip().casefold().rstrip(".")
    if mark == "%" and column.quantity != "share":
        what = "rating on the declared scale" if column.rating else "value itself"
        return "is a per cent, and the column is not", f"write the {what}"
    if mark == "%":
        return (
            "has its unit typed in, or is formatted as per cent",
            f"write {bare} as a plain number; the unit stands in the column's name",
        )
    meant = _meant(mark, column)
    if meant and unit and meant != unit.suffix:
        heading = next(spelling for spelling, other in column.spellings.items() if other is UNITS[meant])
        value = UNITS[meant].to_si(float(bare))
        return (
            "has its unit typed in, and not the column's",
            f"write {_short(unit.from_si(value))}, or name the column {heading}",
        )
    if mark and not meant:
        return "is not a number alone", f"write the number alone, or {_LEAVE_EMPTY}"
    return rule, f"write {bare}" + ("; the unit stands in the column's name" if mark else "")


def whole_fault(cell: str) -> Said:
    return "is not a whole number", "write it without a fraction"


def range_fault(number: float, column: Column, unit: Unit | None, limits: Range, exchanged: Sequence[Place] = ()) -> Said:  # fmt: skip
    """``number`` as written, in ``unit``; ``limits`` in SI; ``exchanged``: columns of its row that it may stand exchanged with."""
    low, high = (unit.from_si(limit) if unit else limit for limit in limits)
    symbol = f" {unit.symbol}" if unit and column.quantity != "rating" else ""
    return f"is outside {_short(low)} to {_short(high)}{symbol}", hint(exchanged) or _likely(
        number, column, unit
    )


def unusual(number: float, column: Column, unit: Unit | None, exchanged: Sequence[Place] = ()) -> Said:
    """A value that may be, outside the usual range of its column; ``exchanged`` as of ``range_fault``."""
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
    return rule, hint(exchanged, not far) or (_likely(number, column, unit) if far else _MISREAD)


def class_fault(cell: str, column: Column) -> Said:
    if cell.startswith("="):
        return formula_fault()
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


def date_fault(cell: str, coarse: bool = False) -> Said:
    """``coarse``: a week or a year would do as well."""
    if cell.startswith("="):
        return formula_fault()
    if re.fullmatch(r"\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}.*(Z|[+-]\d{2}:?\d{2})", cell):
        return (
            "has a time zone, so at the site it may have been another day",
            "write the day there, like 2024-07-03",
        )
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
    or_coarse = "; 2024-W27 where only the week is known, 2024 where only the year is" if coarse else ""
    return "is not a date", f"write it year-month-day, like 2024-07-03{or_coarse}"


def unseen_fault() -> Said:
    return "holds characters that cannot be seen", "type the text again"


def _likely(number: float, column: Column, unit: Unit | None) -> str:
    """What the number may have been meant to be: another unit, or a slipped decimal point."""
    number, usual = float(number), column.flag or column.refuse
    if unit and usual:
        for suffix in QUANTITIES[column.quantity]:
            other = UNITS[suffix]
            if other is not unit and usual[0] <= other.to_si(number) <= usual[1] and other.to_si(number) != 0:
                return f"it may be in {_IN_WORDS.get(suffix, other.symbol)}: write {_short(unit.from_si(other.to_si(number)))} here"
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
