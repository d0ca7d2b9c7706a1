"""Fruit in a piece of a plain file, each cell judged by the ordinary rules: what they would say nothing of may come in as it stands."""

from __future__ import annotations

from dataclasses import dataclass
from threading import Lock

import numpy as np
import pandas as pd

from dashboard.records.checking import MISSING
from dashboard.records.not_used import plain as plain_name
from dashboard.records.plain_text import all_ordinary, texts
from dashboard.records.schema import TABLES, Column
from dashboard.records.store.whole_columns import (
    AT_ONCE,
    Lines,
    NotPlainError,
    alike_above,
    distinct,
    lines_of,
    texts_at,
    texts_of,
    words,
)
from dashboard.terms.units import Unit

TABLE = "fruit"
OWNER, NUMBER = TABLES[TABLE].key
MOST_FRUIT = int((TABLES[TABLE].by_name[NUMBER].refuse or (0, 0))[1])  # the number of a fruit is no greater
_SLOTS, _STRANGE = 1 << 16, 1_000
_MIX, _SHIFT = np.uint64(0x9E3779B97F4A7C15), np.uint64(48)  # a product that spreads cells over the slots
Place = tuple[str, int, Unit | None]  # name, place and unit of a column


@dataclass(frozen=True, eq=False)
class Piece:
    """The fruit of some lines; a sample begins at each of the lines ``firsts``."""

    letters: np.ndarray  # (bytes,) uint8
    starts: np.ndarray  # (lines,) int, as in ``letters``
    ends: np.ndarray  # (lines,) int, with the line break
    firsts: np.ndarray  # (samples,) int
    names: list[str]  # of the samples
    numbers: np.ndarray  # (lines,) int, of the fruit; those of odd ones say nothing
    odd: np.ndarray  # (lines,) bool: a cell is refused or flagged

    def __len__(self) -> int:
        return len(self.starts)


def columns_of(headings: tuple[str, ...]) -> list[Place]:
    """NotPlainError where a heading is none, or two say the same."""
    by_spelling = TABLES[TABLE].by_spelling
    names = [plain_name(heading) for heading in headings]
    if not all(name in by_spelling for name in names):
        raise NotPlainError
    found = [
        (by_spelling[name].name, place, by_spelling[name].spellings[name]) for place, name in enumerate(names)
    ]
    there = {name for name, _, _ in found}
    if len(there) < len(found) or not {OWNER, NUMBER} <= there:
        raise NotPlainError
    return found


class _Known:
    """Cells of one column of which nothing is said: most cells stand again and again, and are found in their slot.

    What a slot has stays, so that several threads may look while one learns.
    """

    def __init__(self, column: Column, unit: Unit | None):
        self.column, self.unit = column, unit
        self._fine = np.zeros(_SLOTS, dtype=np.uint64)  # the eight bytes of a cell
        self._fine[0] = 1  # of no cell: this one would lie elsewhere, as 0 would in all other slots
        self._numbers = np.zeros(_SLOTS, dtype=np.int16)
        self._taken = np.zeros(_SLOTS, dtype=bool)
        self._strange = np.zeros(0, dtype=np.uint64)  # odd cells, a few
        self._learning = Lock()

    def look(self, lines: Lines, place: int) -> tuple[np.ndarray, np.ndarray]:
        """The lines that are odd; and, where they are asked for, (lines,) the numbers of fruit."""
        if lines.longest(place) > AT_ONCE:
            codes, long = distinct(lines, place)
            odd, numbers = self._judged(long)
            return np.flatnonzero(odd[codes]), numbers[codes]
        cells = words(lines, place)
        slots = _slots(cells)
        new = np.flatnonzero(self._fine.take(slots) != cells)
        numbers = self._numbers.take(slots) if self.column.name == NUMBER else self._numbers[:0]
        if not len(new):
            return new, numbers
        codes, some = pd.factorize(cells[new])
        if np.isin(some, self._strange).all():
            return new, numbers
        odd, their_numbers = self._judged(texts_of(some))
        if len(numbers):
            numbers[new] = their_numbers[codes]
        self._learn(some, odd, their_numbers)
        return new[odd[codes]], numbers

    def _learn(self, cells: np.ndarray, odd: np.ndarray, numbers: np.ndarray) -> None:
        strange, cells, numbers = cells[odd], cells[~odd], numbers[~odd]
        slots, first = np.unique(_slots(cells), return_index=True)
        with self._learning:
            self._strange = np.append(self._strange, strange)[:_STRANGE]
            free = ~self._taken[slots]
            slots, first = slots[free], first[free]
            self._taken[slots] = True
            self._numbers[slots] = numbers[first]
            self._fine[slots] = cells[first]

    def _judged(self, cells: list[bytes]) -> tuple[np.ndarray, np.ndarray]:
        """Which are odd, and the numbers of fruit."""
        said = np.array([cell.decode() for cell in cells], dtype=object)
        values = pd.to_numeric(pd.Series(said, dtype=object), errors="coerce").to_numpy(dtype=float)
        odd = _odd(said, values, self.column, self.unit)
        return odd, np.nan_to_num(values).clip(0, MOST_FRUIT).astype(np.int16)


def _slots(cells: np.ndarray) -> np.ndarray:
    return (cells * _MIX >> _SHIFT).view(np.int64)


def _odd(cells: np.ndarray, values: np.ndarray, column: Column, unit: Unit | None) -> np.ndarray:
    """Which cells are no number, refused or flagged."""
    empty = np.fromiter((cell in MISSING for cell in cells), bool, len(cells))
    odd = (empty & column.needed) | (~empty & ~np.isfinite(values))
    values = unit.to_si(values) if unit else values
    with np.errstate(invalid="ignore"):
        for low, high in filter(None, (column.refuse, column.flag)):
            odd |= (values < low) | (values > high)
        if column.kind == "whole":
            odd |= ~empty & (values % 1 != 0)
    return odd


class Judge:
    """Pieces of one file. What was once said of a cell holds wherever it stands again; several threads may ask."""

    def __init__(self, headings: tuple[str, ...]):
        columns = columns_of(headings)
        self._width = len(columns)
        self._owner = next(place for name, place, _ in columns if name == OWNER)
        by_name = TABLES[TABLE].by_name
        self._known = {place: _Known(by_name[name], unit) for name, place, unit in columns if name != OWNER}

    def piece(self, raw: bytes, part: slice) -> Piece:
        """NotPlainError where it is not plain, ValueError where it is no text."""
        lines = lines_of(raw, part, self._width)
        firsts = np.flatnonzero(~alike_above(lines, self._owner))
        names = texts_at(lines, self._owner, firsts)
        if not all_ordinary(names):
            said, faults, flags = texts(np.array(names, dtype=object), False)
            if faults or flags or [one or "" for one in said] != names:
                raise NotPlainError
        odd = np.zeros(len(lines.starts), dtype=bool)
        for place, known in self._known.items():
            strange, found = known.look(lines, place)
            odd[strange] = True
            if known.column.name == NUMBER:
                numbers = found
        return Piece(lines.letters, lines.starts, lines.ends[-1] + 1, firsts, names, numbers, odd)
