"""Names that a spreadsheet made into days or numbers: what each may have been, among the names that stand elsewhere.

What is made of 3-8 goes by the machine's country: the eighth of March, or the third of August. Where all others of an import tell of one country,
a name is offered by it; of one that could be two it is only shown.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import date

from dashboard.records.name_lists import DATE, NUMBER

IS_DATE = "is a date: a spreadsheet may have made it of a name"
IS_NUMBER = "is a number: a spreadsheet may have made it of a name"
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_AS_DAY = re.compile(r"\d{4}-\d{2}-\d{2}|\d{1,2}-[A-Z][a-z]{2}|[A-Z][a-z]{2}-\d{2}")
_AS_NUMBER = re.compile(r"\d+(\.\d+)?")
_ISO = re.compile(r"(\d{4})-(\d{2})-(\d{2})(?: .*)?")


def spoiled(spelling: str) -> bool:
    """Whether it is as a spreadsheet writes what it took for a day or a number."""
    return bool(_AS_DAY.fullmatch(spelling) or _AS_NUMBER.fullmatch(spelling))


def changed(name: str) -> bool:
    number = NUMBER.fullmatch(name) and (_value(name) is None or _plainly(name))
    return bool(DATE.fullmatch(name) or _ISO.fullmatch(name) or number)


def _plainly(number: str) -> bool:
    """Whether a spreadsheet would write it so: not 12.10, 007 or 1E5, which it would have changed."""
    return re.fullmatch(r"(0|[1-9]\d*)([.,]\d*[1-9])?", number) is not None


def made_of(name: str, others: Iterable[str]) -> tuple[str, tuple[str, ...]]:
    """What a spreadsheet may have made into this date or number, among the names that stand elsewhere."""
    if not NUMBER.fullmatch(name):
        return IS_DATE, tuple(
            one for one in others if not _AS_DAY.fullmatch(one) and _as_date(one) & _days(name)
        )
    value = _value(name)
    meant = tuple(
        one for one in others if value is not None and _as_number(one) == value and not _plainly(one)
    )
    return IS_NUMBER, meant


def by_one_country(made: Mapping[str, tuple[str, ...]]) -> dict[str, str]:
    """Of days that may be one of two names the one that all others tell of; ``made``: by day what it may have been."""
    told = {_day_first(day, some[0]) for day, some in made.items() if len(some) == 1} - {None}
    if len(told) != 1:
        return {}
    two = {day: some for day, some in made.items() if {_day_first(day, one) for one in some} == {True, False}}
    return {day: next(one for one in some if _day_first(day, one) in told) for day, some in two.items() if len(some) == 2}  # fmt: skip


def _day_first(day: str, name: str) -> bool | None:
    """Whether a machine that has the day first made this day of that name; None where it says nothing."""
    numbers = [int(part) for part in re.findall(r"\d+", name)]
    if len(numbers) != 2 or numbers[0] == numbers[1]:
        return None
    there = _days(day)
    return (numbers[1], numbers[0]) in there if {tuple(numbers), (numbers[1], numbers[0])} & there else None


def _days(name: str) -> set[tuple[int, int]]:
    """Month and day, or month and the last figures of the year, of a cell that shows a date."""
    if found := _ISO.fullmatch(name):
        year, month, day = (int(part) for part in found.groups())
        return {(month, day), (month, year % 100)} if day == 1 else {(month, day)}
    return _as_date(name)


def _as_date(name: str) -> set[tuple[int, int]]:
    """What a spreadsheet would take a typed name for: Mar 12 and 3-12 become days."""
    parts = re.findall(r"[A-Za-z]+|\d+", name)
    numbers = [int(part) for part in parts if part.isdigit() and len(part) <= 4]
    months = [
        _MONTHS.index(part[:3].lower()) + 1
        for part in parts
        if part[:3].lower() in _MONTHS and not part.isdigit()
    ]
    if len(parts) not in (2, 3) or not numbers:
        return set()
    if months:
        return {(months[0], numbers[0] % 100)}
    if len(numbers) < 2 or not re.fullmatch(r"\d+([-/.])\d+(\1\d+)?", name):
        return set()
    pairs = ((numbers[0], numbers[1]), (numbers[1], numbers[0]))
    return {(month, day) for month, day in pairs if _is_day(month, day)}


def _is_day(month: int, day: int) -> bool:
    try:
        date(2000, month, day)
    except ValueError:
        return False
    return True


def _value(name: str) -> float | None:
    try:
        return float(name.replace(",", "."))
    except ValueError:
        return None


def _as_number(name: str) -> float | None:
    """1E5 becomes 100000, 007 becomes 7, 12.10 becomes 12.1."""
    return _value(name) if re.fullmatch(r"\d+(\.\d+)?([eE]\d{1,3})?", name) else None
