"""Two figures in one cell, like 7/8: the two cheeks of a fruit, where somebody has said so, and never by a guess.

7/8 may be a fraction as well, 7-8 a range; and a spreadsheet makes a date of either.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from dashboard.records.importing.figures import SET_ASIDE, How, figure
from dashboard.records.importing.mapping import Answers, Path_, Question
from dashboard.records.importing.roles import Role
from dashboard.records.problems import quoted

SECOND = {"firmness 1": "firmness 2"}  # by the reading of a cell that of its second figure
TWO, FRACTION = "two cheeks", "a fraction"
MONTH_DAY, DAY_MONTH = "month, then day", "day, then month"
CHEEKS, CHEEK_DATES = "cheeks", "cheek_dates"  # the last steps of where the answers stand
_ONE = r"(?:\d{1,3}(?:[.,]\d+)?|\d{1,2}\s+\d{1,2}/\d{1,2}|\d{1,2}\s?[¼½¾⅐-⅞])"
_TWO = re.compile(rf"({_ONE})\s*[/\-–&|;]\s*({_ONE})")
_DATE = re.compile(r"(\d{4})-(\d{2})-(\d{2})(?:[T ]00:00(?::00)?)?")
_TYPED = 2000  # a date of an earlier year was made of a month and two figures, as 7/32
_SHOWN = 3


def two(cell: str) -> tuple[str, str] | None:
    """The two figures of a cell; None of another."""
    found = _TWO.fullmatch(cell)
    return (found[1], found[2]) if found else None


def cheek(cell: str, answers: Answers, path: Path_, second: bool = False) -> str:
    """What stands in a cell of one cheek, as it was answered under ``path``; "" where nothing stands of the second."""
    if answers.at((*path, CHEEKS)) != TWO:
        return "" if second else cell
    both = two(cell)
    dated, order = _DATE.fullmatch(cell), answers.at((*path, CHEEK_DATES))
    if dated and int(dated[1]) >= _TYPED and order in (MONTH_DAY, DAY_MONTH):
        month, day = str(int(dated[2])), str(int(dated[3]))
        both = (month, day) if order == MONTH_DAY else (day, month)
    return both[second] if both else "" if second else cell


def figures_in(cell: str, role: Role) -> tuple[str, ...]:
    """The figures that a cell of this reading may hold, each by itself."""
    return (two(cell) if role.name in SECOND else None) or (cell,)


def asked_cheeks(path: Path_, about: str, role: Role, values: Sequence[str], answers: Answers) -> Iterator[Question]:  # fmt: skip
    """What two figures in a cell are, and which of them comes first where a spreadsheet took them for a date."""
    both = {value: pair for value in values if (pair := two(value))}
    if role.name not in SECOND or not both:
        return
    parts = {value: figure(value, How(role, fractions=True)).text for value in both}
    split = sorted(both, key=lambda value: not parts[value])[:_SHOWN]  # what may be either comes first
    shown = tuple(
        f"  {quoted(cell)} → {TWO}: {both[cell][0]} and {both[cell][1]}; {FRACTION}: {parts[cell] or SET_ASIDE}" for cell in split
    )  # fmt: skip
    words = (TWO, *([FRACTION] if any(parts.values()) else []), SET_ASIDE)
    yield Question((*path, CHEEKS), "two figures stand in one cell; what are they?", words, shown, about=about)  # fmt: skip
    dated = [value for value in values if _DATE.fullmatch(value)]
    if dated and answers.at((*path, CHEEKS)) == TWO:
        told = [(value, int(value[5:7]), int(value[8:10])) for value in dated[:_SHOWN]]
        shown = tuple(f"  {quoted(cell)} → {MONTH_DAY}: {month} and {day}; {DAY_MONTH}: {day} and {month}" for cell, month, day in told)  # fmt: skip
        asks = "a spreadsheet made dates of some; in which order were their two figures typed?"
        yield Question((*path, CHEEK_DATES), asks, (MONTH_DAY, DAY_MONTH, SET_ASIDE), shown, about=about)
