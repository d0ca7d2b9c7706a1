"""Millions of fruit on their way into a store: the file is checked as whole columns, and kept as the bytes of its own lines.

Only a plain file goes this way: comma-separated, without quotation marks, the fruit of a sample together. Samples of which any row is odd, or
which the store has otherwise, are taken out and go the ordinary way, which tells what is wrong; a file that is not plain goes that way whole.
"""

from __future__ import annotations

import codecs
import hashlib
import io
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import pandas as pd

from dashboard.records.checking import MISSING
from dashboard.records.comma_files import read_csv
from dashboard.records.declaration import Declaration
from dashboard.records.not_used import plain as plain_name
from dashboard.records.plain_text import texts
from dashboard.records.problems import Problem
from dashboard.records.schema import TABLES, Column
from dashboard.records.sheets import MAX_BYTES, Sheet
from dashboard.terms.units import Unit

TABLE = "fruit"
_OWNER, _NUMBER = TABLES[TABLE].key
# A cell may hold more than its own text with any of these about, or end elsewhere than at a comma.
_NOT_PLAIN = (b'"', b"\t", b"\v", b"\f", b"\0", b";", b" ,", b", ", b" \n", b"\n ")
_NO_NUMBERS = (
    b"True",
    b"TRUE",
    b"true",
    b"False",
    b"FALSE",
    b"false",
)  # pandas takes a column of these for 1 and 0
_MOST_FRUIT = 10_000  # a fruit's number is less


@dataclass(frozen=True, eq=False)
class Plain:
    """Fruit by sample: each has the bytes from ``starts`` to ``ends`` of ``raw``, and ``counts`` lines from row ``rows`` on."""

    file: str
    headings: tuple[str, ...]
    raw: bytes
    names: np.ndarray  # (samples,) object of str
    starts: np.ndarray  # (samples,) int, as the others
    ends: np.ndarray
    rows: np.ndarray
    counts: np.ndarray
    odd: np.ndarray  # (samples,) bool: has a row that the ordinary way has to look at

    def cells(self, place: int) -> str:
        return self.raw[self.starts[place] : self.ends[place]].decode()

    def blocks(self) -> Iterator[tuple[str, str, int]]:
        """Sample, its lines, and how many."""
        view, names = self.raw, self.names.tolist()
        for name, start, end, count in zip(
            names, self.starts.tolist(), self.ends.tolist(), self.counts.tolist(), strict=True
        ):
            yield name, view[start:end].decode(), count

    def parted(
        self,
        samples: Collection[str],
        declaration: Declaration,
        columns: list[str],
        standing: Mapping[str, str],
    ) -> tuple[Plain, Sheet]:
        """What may come in as it is, and the rest as a sheet for the ordinary way. ``samples``: the names that are known; ``columns``
        and ``standing``: the headings of the store, and the lines that it has of these samples: the same once more changes nothing."""
        known = np.fromiter((name in samples for name in self.names), bool, len(self.names))
        usable = not columns or columns == list(self.headings)
        usable &= not any(declaration.refusal(name) for name, _, _ in _columns(self.headings) or ())
        usable &= not any(declaration.not_used.heading(TABLE, heading) for heading in self.headings)
        rest = self.odd | ~known | (not usable)
        again = np.zeros(len(rest), dtype=bool)
        for place in np.flatnonzero(
            np.fromiter((name in standing for name in self.names), bool, len(self.names)) & ~rest
        ):
            again[place] = standing[self.names[place]] == self.cells(int(place))
            rest[place] |= not again[place]
        return self._only(~rest & ~again), self._sheet(np.flatnonzero(rest))

    def frame(self) -> pd.DataFrame:
        """The rows, with the columns of the schema, in SI."""
        sheet = self._sheet(np.arange(len(self.names)))
        frame = pd.DataFrame(
            {name: pd.Series(np.nan, index=range(len(sheet))) for name in TABLES[TABLE].by_name}
        )
        for name, place, unit in _columns(self.headings) or ():
            values = pd.to_numeric(pd.Series(sheet.cells[place], dtype=object), errors="coerce")
            frame[name] = sheet.cells[place] if name == _OWNER else unit.to_si(values) if unit else values
        return frame

    def _only(self, kept: np.ndarray) -> Plain:
        parts = {
            name: getattr(self, name)[kept] for name in ("names", "starts", "ends", "rows", "counts", "odd")
        }
        return replace(self, **parts)

    def _sheet(self, places: np.ndarray) -> Sheet:
        lines = [line.split(",") for place in places for line in self.cells(place).splitlines()]
        rows = [
            row for place in places for row in range(self.rows[place], self.rows[place] + self.counts[place])
        ]
        columns = list(zip(*lines, strict=True)) if lines else [()] * len(self.headings)
        cells = tuple(np.array(column, dtype=object) for column in columns)
        return Sheet(TABLE, self.file, "", self.headings, np.array(rows, dtype=int), cells)


class Swift:
    """Opens the tables of a folder; the fruit, where they are plain, are kept in ``plain`` and their sheet is left empty."""

    def __init__(self) -> None:
        self.plain: Plain | None = None

    def opened(self, file: Path, table: str) -> tuple[Sheet | None, list[Problem], bytes]:
        if table != TABLE or file.stat().st_size > MAX_BYTES:
            return read_csv(file, table)
        raw = file.read_bytes()
        self.plain = plain(raw, file.name)
        if self.plain is None:
            return read_csv(file, table)
        return self.plain._sheet(np.array([], dtype=int)), [], hashlib.sha256(raw).digest()


def plain(raw: bytes, file: str) -> Plain | None:
    """The fruit of a file; None where it has to go the ordinary way."""
    raw = raw.removeprefix(codecs.BOM_UTF8).replace(b"\r\n", b"\n")
    raw += b"" if raw.endswith(b"\n") else b"\n"
    if b'"' in raw:  # some programs write nothing so
        for nothing in (b',"",', b',"",', b',""\n'):
            raw = raw.replace(nothing, nothing.replace(b'""', b""))
    if b"\r" in raw or any(mark in raw for mark in (*_NOT_PLAIN, *_NO_NUMBERS)):
        return None
    try:
        headings = tuple(raw[: raw.index(b"\n")].decode().split(","))
        columns = _columns(headings)
        ends = _ends(raw, len(headings))
        if columns is None or ends is None or len(ends) < 2:
            return None
        frame = _parsed(raw, headings, columns)
    except (UnicodeDecodeError, ValueError, OverflowError):
        return None
    return _by_sample(raw, file, headings, columns, ends, frame)


def _columns(headings: tuple[str, ...]) -> list[tuple[str, int, Unit | None]] | None:
    """Name, place and unit of each column; None where a heading is none, or two say the same."""
    by_spelling = TABLES[TABLE].by_spelling
    names = [plain_name(heading) for heading in headings]
    if not all(name in by_spelling for name in names):
        return None
    found = [
        (by_spelling[name].name, place, by_spelling[name].spellings[name]) for place, name in enumerate(names)
    ]
    there = {name for name, _, _ in found}
    return found if len(there) == len(found) and {_OWNER, _NUMBER} <= there else None


def _ends(raw: bytes, width: int) -> np.ndarray | None:
    """(lines,) where each line ends; None where one has other than ``width`` cells."""
    letters = np.frombuffer(raw, dtype=np.uint8)
    marks = np.flatnonzero((letters == 44) | (letters == 10))  # comma and line break
    if len(marks) % width:
        return None
    breaks = letters[marks].reshape(-1, width) == 10
    return marks[width - 1 :: width] + 1 if breaks[:, -1].all() and breaks.sum() == len(breaks) else None


def _parsed(
    raw: bytes, headings: tuple[str, ...], columns: list[tuple[str, int, Unit | None]]
) -> pd.DataFrame:
    """ValueError where a cell is neither a number nor a word for nothing."""
    numbers = [name for name, _, _ in columns if name != _OWNER]
    return pd.read_csv(
        io.BytesIO(raw), header=0, names=[name for name, _, _ in columns], engine="c", quoting=3, keep_default_na=False,
        skip_blank_lines=False, dtype={name: "str" if name == _OWNER else "float64" for name, _, _ in columns},
        na_values={name: sorted(MISSING) for name in numbers},
    )  # fmt: skip


def _by_sample(
    raw: bytes, file: str, headings: tuple[str, ...], columns: list[tuple[str, int, Unit | None]], ends: np.ndarray, frame: pd.DataFrame
) -> Plain | None:  # fmt: skip
    codes, uniques = pd.factorize(frame[_OWNER])
    first = np.flatnonzero(np.diff(codes, prepend=-1))
    names = np.asarray(uniques, dtype=object)
    values, faults, flags = texts(names, False)
    if len(first) != len(names) or faults or flags or values != names.tolist():
        return None
    counts = np.diff(first, append=len(codes))
    odd = np.zeros(len(codes), dtype=bool)
    for name, _, unit in columns:
        if name != _OWNER:
            odd |= _odd(frame[name].to_numpy(), TABLES[TABLE].by_name[name], unit)
    odd_samples = np.bincount(codes[odd], minlength=len(names)) > 0
    odd_samples |= _twice(codes, frame[_NUMBER].to_numpy(), len(names))
    last = first + counts
    return Plain(file, headings, raw, names, ends[first], ends[last], first + 2, counts, odd_samples)


def _odd(values: np.ndarray, column: Column, unit: Unit | None) -> np.ndarray:
    """Which values are refused or flagged."""
    values = unit.to_si(values) if unit else values
    odd = np.isnan(values) if column.needed else np.zeros(len(values), dtype=bool)
    with np.errstate(invalid="ignore"):
        for low, high in filter(None, (column.refuse, column.flag)):
            odd |= (values < low) | (values > high)
        if column.kind == "whole":
            odd |= values % 1 != 0
    return odd


def _twice(codes: np.ndarray, numbers: np.ndarray, samples: int) -> np.ndarray:
    """(samples,) bool: a number of a fruit stands in it more than once."""
    keys = codes * _MOST_FRUIT + np.nan_to_num(numbers, posinf=0, neginf=0).astype(np.int64) % _MOST_FRUIT
    if (np.diff(keys) > 0).all():
        return np.zeros(samples, dtype=bool)
    keys = np.sort(keys)
    return np.bincount(keys[1:][np.diff(keys) == 0] // _MOST_FRUIT, minlength=samples) > 0
