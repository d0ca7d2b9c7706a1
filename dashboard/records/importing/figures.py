"""A cell as the number it was meant to be: 2 1/2, 2½, 2 5/8", 63,5. What is a limit, a word or two figures is no number and is told.

Nothing is made out of what may be two things: a comma is one thing or another by declaration, and a fraction is read where inches are.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache

import numpy as np

from dashboard.records.advice import Said, number_fault
from dashboard.records.beyond import READINGS as LIMITED
from dashboard.records.importing.forms import counted, form_of
from dashboard.records.importing.roles import Role, unit_meant
from dashboard.terms.units import UNITS

NOTHING, ASIDE = "nothing", "aside"
LIMITS = "<>"  # what the text of a limit begins with
READING = "a reading"
SET_ASIDE = "set aside"
_PLAIN = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?")
_COMMA = re.compile(r"[+-]?\d*,\d+")
_THREE = re.compile(r"[+-]?\d{1,3}\.\d{3}")
_LIMIT = re.compile(r"(<|>|≤|≥|<=|>=)\s*(\d+(?:[.,]\d+)?)\s*(\D*)")
_WITH_UNIT = re.compile(r"([+-]?(?:\d+(?:[.,]\d+)?|[.,]\d+))\s*([^\d\s.,/<>~][^\d]*)")
_FRACTION = re.compile(
    r"(?:(\d{1,3})(?:\s+|\s*-\s*)?)?(?:([¼½¾⅐-⅞])|(?<!\d)(\d{1,2})\s*[/⁄]\s*(\d{1,2}))\s*(\D*)"
)
_PAIR = re.compile(r"(\d{1,2})\s*/\s*(\d{1,2})")
_PARTS = (2, 4, 8, 16, 32)  # what inches are divided into
_PLUS_MINUS = re.compile(r"([^±]*\d[^±]*?)\s*(?:±|\+\s*/\s*-|\+-)\s*([^±]*\d[^±]*)")
# Common practice, no source: what is written where nothing was measured, by those whose programs take figures alone.
_CODES = frozenset((-1.0, -9.0, -99.0, -999.0, -9999.0, 88.0, 99.0, 999.0, 9999.0, 99.9, 999.9))
_FEWEST, _FAR = 3, 1.25  # other figures, and how many times above the highest of them (judgement)
_ISO = re.compile(r"\d{4}-\d{2}-\d{2}.*")


@dataclass(frozen=True)
class How:
    """How the cells of one column are to be read, as somebody has said it."""

    role: Role
    unit: str = ""
    decimal: str = "."
    zero: str = READING
    words: Mapping[str, str] = field(default_factory=dict)
    text_file: bool = False
    pairs: bool = False  # cells of it hold two figures, so that 7/8 is two as well
    fractions: bool = False  # somebody has said that 7/8 is a fraction
    forms: Mapping[str, str] = field(default_factory=dict)  # what 8+ and 6-7 count as, by ``form_of``


@dataclass(frozen=True)
class Figure:
    """``text``: the number with digits and a point, "" where nothing was measured or it was ``said`` why it is none. ``limit``: that it lies
    below or above a number, as <10."""

    text: str = ""
    said: Said | None = None
    limit: str = ""


def figure(cell: str, how: How) -> Figure:
    """The number of a filled cell."""
    told = how.words.get(cell)
    if told is not None:
        if told == NOTHING:
            return Figure()
        if told == ASIDE:
            return Figure(said=("was declared as no reading", "write the reading, if there was one"))
        cell = cell if told == READING else told
    if _PLAIN.fullmatch(cell):
        return _point(cell, how)
    if _COMMA.fullmatch(cell) and how.decimal == ",":
        return _zeroed(cell.replace(",", "."), how)
    if limit := _LIMIT.fullmatch(cell):
        return _limited(limit, how)
    if (form := form_of(cell)) and form[0] in how.forms:
        count = counted([figure(one, how).text for one in form[1]], how.forms[form[0]])
        return Figure(count) if count else Figure(said=("is not one figure", "write the one that was read"))
    if how.pairs and _PAIR.fullmatch(cell):
        return Figure(said=("holds two figures, so the cell is set aside", "if they are of two cheeks, give each a column of its own; else write the one that was read"))  # fmt: skip
    if (inches := _fraction(cell, how)) is not None:
        return inches
    if typed := _WITH_UNIT.fullmatch(cell):
        meant = unit_meant(typed[2], how.role)
        own = how.unit or (how.role.unit.suffix if how.role.unit else "")
        if meant and meant == own:
            return figure(typed[1], how)
    if _ISO.fullmatch(cell):
        return Figure(
            said=("is a date: a spreadsheet may have made it of a fraction", "write the number that was read")
        )
    return Figure(said=number_fault(cell, how.role.column, UNITS.get(how.unit) or how.role.unit))


def _limited(found: re.Match[str], how: How) -> Figure:
    """Of what an instrument may end below or above: firmness and sugar of single fruit."""
    sign = "<" if found[1][0] in "<≤" else ">"
    end = figure(found[2] + found[3].strip(), how)
    if how.role.name in LIMITED and end.text and (sign == ">" or float(end.text) > 0):
        return Figure(limit=sign + end.text)
    rule = f"is a limit, not a reading ({'below' if sign == '<' else 'above'} {found[2]})"
    return Figure(said=(rule, "write the reading, if there was one"))


def limited(texts: Iterable[str]) -> np.ndarray:
    """(n,) bool: which are limits, as a ``Figure`` has them."""
    return np.array([text.startswith(tuple(LIMITS)) for text in texts], dtype=bool)


def halves(cell: str) -> tuple[str, str] | None:
    """A mean and what stands behind it, of 2.55 ± 0.12; None of another cell."""
    found = _PLUS_MINUS.fullmatch(cell)
    return (found[1].strip(), found[2].strip()) if found else None


def is_pair(cell: str) -> bool:
    """Whether a cell is two figures that can be no part of an inch, like 10/9."""
    found = _PAIR.fullmatch(cell)
    return found is not None and not (0 < int(found[1]) < int(found[2]) and int(found[2]) in _PARTS)


def wordy(cell: str) -> bool:
    """Whether a cell in a column of numbers is a word, to be asked for, and not a number written badly."""
    return (
        bool(cell)
        and not any(letter.isnumeric() for letter in cell)
        and not cell.startswith("=")
        and len(cell) <= 40
    )


def comma(cell: str) -> bool:
    return _COMMA.fullmatch(cell) is not None


def missing_codes(cells: Iterable[str]) -> list[str]:
    """Those of the different cells that may be a code for a missing figure, like 99 or -9: far above all others, or below 0 where none is."""
    read = {cell: float(cell.replace(",", ".")) for cell in cells if _PLAIN.fullmatch(cell) or _COMMA.fullmatch(cell)}  # fmt: skip
    others = [value for value in read.values() if value not in _CODES]
    if len(others) < _FEWEST or min(others) < 0:
        return []
    return [
        cell for cell, value in read.items() if value in _CODES and (value < 0 or value > _FAR * max(others))
    ]


def is_zero(cell: str) -> bool:
    return re.fullmatch(r"[+-]?0+(?:[.,]0*)?", cell) is not None


def _point(cell: str, how: How) -> Figure:
    if how.decimal == "," and how.text_file and _THREE.fullmatch(cell):
        rule = "has a point that may stand between thousands, where decimals have a comma"
        return Figure(said=(rule, f"write {cell.replace('.', ',')} or {cell.replace('.', '')}"))
    return _zeroed(cell, how)


def _zeroed(text: str, how: How) -> Figure:
    if is_zero(text) and how.zero == NOTHING:
        return Figure()
    return Figure(text)


def _fraction(cell: str, how: How) -> Figure | None:
    """A number with a part of an inch, or of a pound or degree; None where the cell is written in another way."""
    found = _FRACTION.fullmatch(cell)
    length = how.role.column.quantity == "length"
    own = how.unit or (how.role.unit.suffix if how.role.unit else "")
    if not found or (found[5] and unit_meant(found[5], how.role) != own) or (length and own != "in"):
        return None
    if not length and not how.fractions and (how.pairs or not found[1]):  # 7/8 may be two readings
        return None
    value = _value(found[1] or "", found[2] or "", found[3] or "", found[4] or "")
    return Figure(value) if value else None


@lru_cache(maxsize=4096)
def _value(whole: str, sign: str, upper: str, lower: str) -> str:
    """Exact, as halves and sixteenths are; "" where nothing is divided as inches are."""
    part = (
        Fraction(unicodedata.numeric(sign)).limit_denominator(32)
        if sign
        else Fraction(int(upper), int(lower) or 1)
    )
    if part.denominator not in _PARTS or not 0 < part < 1 or (lower and int(lower) not in _PARTS):
        return ""
    return repr(float(int(whole or 0) + part))
