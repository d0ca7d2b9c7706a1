"""Millions of fruit on their way into a store: the file is checked as whole columns, and kept as the text of its own lines.

Only a plain file goes this way (``whole_columns``). Samples of which any row is odd, or which the store has otherwise, are taken out and
go the ordinary way, which tells what is wrong; a file that is not plain goes that way whole.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import pandas as pd

from dashboard.records.checking import MISSING
from dashboard.records.comma_files import read_csv
from dashboard.records.declaration import Declaration
from dashboard.records.not_used import plain as plain_name
from dashboard.records.plain_text import all_ordinary, texts
from dashboard.records.problems import Problem
from dashboard.records.schema import TABLES, Column
from dashboard.records.sheets import MAX_BYTES, Sheet
from dashboard.records.store.bales import Bale
from dashboard.records.store.whole_columns import Lines, alike_above, distinct, lines_of, texts_at
from dashboard.terms.units import Unit

TABLE = "fruit"
_OWNER, _NUMBER = TABLES[TABLE].key
_MOST_FRUIT = 10_000  # a fruit's number is less


@dataclass(frozen=True, eq=False)
class Plain:
    """Fruit by sample: each has the bytes from ``starts`` to ``ends`` of ``raw``, and ``counts`` lines from the line ``firsts`` on."""

    file: str
    headings: tuple[str, ...]
    raw: bytes
    names: Sequence[str]  # of the samples, as they come
    starts: np.ndarray  # (samples,) int, as the others
    ends: np.ndarray
    firsts: np.ndarray
    counts: np.ndarray
    odd: np.ndarray  # (samples,) bool: has a row that the ordinary way has to look at
    rows: np.ndarray  # (lines,) int: the number of its row in the file

    def cells(self, place: int) -> str:
        return self.raw[self.starts[place] : self.ends[place]].decode()

    def parted(
        self,
        samples: set[str],
        declaration: Declaration,
        columns: list[str],
        standing: Mapping[str, str],
    ) -> tuple[Plain, Sheet]:
        """What may come in as it is, and the rest as a sheet for the ordinary way. ``samples``: the names that are known; ``columns``
        and ``standing``: the headings of the store, and the lines that it has of these samples: the same once more changes nothing."""
        usable = not columns or columns == list(self.headings)
        usable &= not any(declaration.refusal(name) for name, _, _ in _columns(self.headings) or ())
        usable &= not any(declaration.not_used.heading(TABLE, heading) for heading in self.headings)
        rest = self.odd | (not usable)
        if not samples.issuperset(self.names):
            rest |= ~np.fromiter((name in samples for name in self.names), bool, len(self.names))
        again = np.zeros(len(rest), dtype=bool)
        for place in [at for at, name in enumerate(self.names) if name in standing] if standing else []:
            again[place] = not rest[place] and standing[self.names[place]] == self.cells(place)
            rest[place] |= not again[place]
        return self._only(~rest & ~again), self._sheet(np.flatnonzero(rest))

    def bales(self, most: int) -> Iterator[Bale]:
        """All of it in the order of the file, ``most`` samples together."""
        for at in range(0, len(self.names), most):
            starts, ends = self.starts[at : at + most], self.ends[at : at + most]
            gaps = np.flatnonzero(starts[1:] != ends[:-1])  # where a sample was taken out
            pieces = zip(starts[[0, *(gaps + 1)]].tolist(), ends[[*gaps, -1]].tolist(), strict=True)
            cells = b"".join([self.raw[start:end] for start, end in pieces])  # of one piece it is that
            lengths = ends - starts
            if not cells.isascii():
                lengths = np.array([len(self.cells(place)) for place in range(at, at + len(starts))])
            counts = self.counts[at : at + most].tolist()
            yield Bale(self.names[at : at + most], lengths.tolist(), counts, cells.decode())

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
        if kept.all():
            return self
        parts = {name: getattr(self, name)[kept] for name in ("starts", "ends", "firsts", "counts", "odd")}
        return replace(self, names=[self.names[place] for place in np.flatnonzero(kept).tolist()], **parts)

    def _sheet(self, places: np.ndarray) -> Sheet:
        """These samples; a row with no cell filled is none."""
        lines: list[list[str]] = []
        rows: list[int] = []
        for place in places:
            mine = [[cell.strip() for cell in line.split(",")] for line in self.cells(place).split("\n")[:-1]]
            numbered = self.rows[self.firsts[place] : self.firsts[place] + self.counts[place]].tolist()
            kept = [(line, row) for line, row in zip(mine, numbered, strict=True) if any(line)]
            lines += [line for line, _ in kept]
            rows += [row for _, row in kept]
        columns = list(zip(*lines, strict=True)) if lines else [()] * len(self.headings)
        cells = tuple(np.array(column, dtype=object) for column in columns)
        return Sheet(TABLE, self.file, "", self.headings, np.array(rows, dtype=int), cells)


class Swift:
    """Opens the tables of a folder; the fruit, where they are plain, are kept in ``plain`` and their sheet is left empty."""

    def __init__(self) -> None:
        self.plain: Plain | None = None
        self.hashes: dict[Path, bytes] = {}  # SHA-256 of a file that was read

    def opened(self, file: Path, table: str) -> tuple[Sheet | None, list[Problem], bytes]:
        if table != TABLE or file.stat().st_size > MAX_BYTES:
            return read_csv(file, table)
        raw = file.read_bytes()
        self.plain = plain(raw, file.name)
        if self.plain is None:
            return read_csv(file, table)
        self.hashes[file] = hashlib.sha256(raw).digest()
        return self.plain._sheet(np.array([], dtype=int)), [], self.hashes[file]


def plain(raw: bytes, file: str) -> Plain | None:
    """The fruit of a file; None where it has to go the ordinary way."""
    try:
        lines = lines_of(raw)
        columns = _columns(lines.headings) if lines is not None else None
        if lines is None or columns is None:
            return None
        return _by_sample(lines, columns, file)
    except (ValueError, OverflowError):  # not UTF-8, among others
        return None


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


def _by_sample(lines: Lines, columns: list[tuple[str, int, Unit | None]], file: str) -> Plain | None:
    owner = next(place for name, place, _ in columns if name == _OWNER)
    firsts = np.flatnonzero(~alike_above(lines, owner))
    names = texts_at(lines, owner, firsts)
    if not all_ordinary(names):
        said, faults, flags = texts(np.array(names, dtype=object), False)
        if faults or flags or [one or "" for one in said] != names:
            return None
    raw, starts, ends = lines.raw, lines.starts, lines.ends[:, -1] + 1
    rows = np.arange(2, len(starts) + 2)
    values, odd = _values(lines, columns)
    counts = np.diff(firsts, append=len(starts))
    if len(set(names)) < len(names):  # fruit of a sample that stand apart are laid together
        which, unique = pd.factorize(np.array(names, dtype=object))
        names = unique.tolist()
        codes = np.repeat(which, counts)
        order = np.argsort(codes, kind="stable")
        raw = b"".join([raw[start:end] for start, end in zip(starts[order].tolist(), ends[order].tolist(), strict=True)])  # fmt: skip
        ends = np.cumsum((ends - starts)[order])
        starts = np.append(0, ends[:-1])
        rows, values, odd = rows[order], values[order], odd[order]
        counts = np.bincount(codes)
        firsts = np.cumsum(counts) - counts
    odd_samples = np.logical_or.reduceat(odd, firsts) | _twice(values, firsts, counts)
    odd_samples[[place for place, name in enumerate(names) if not name] if "" in names else []] = True
    return Plain(file, lines.headings, raw, names, starts[firsts], ends[firsts + counts - 1], firsts, counts, odd_samples, rows)  # fmt: skip


def _values(lines: Lines, columns: list[tuple[str, int, Unit | None]]) -> tuple[np.ndarray, np.ndarray]:
    """(lines,) the number of each fruit; and whether any cell of its line is refused or flagged."""
    odd = np.zeros(len(lines.starts), dtype=bool)
    for name, place, unit in columns:
        if name == _OWNER:
            continue
        codes, cells = distinct(lines, place)
        values = pd.to_numeric(pd.Series(cells, dtype=object), errors="coerce").to_numpy(dtype=float)
        strange = _odd(cells, values, TABLES[TABLE].by_name[name], unit)
        odd |= strange[codes] if strange.any() else False
        if name == _NUMBER:
            number = values[codes]
    return number, odd


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


def _twice(values: np.ndarray, firsts: np.ndarray, counts: np.ndarray) -> np.ndarray:
    """(samples,) bool: a number of a fruit stands in it more than once."""
    grows = np.diff(values) > 0
    grows[firsts[1:] - 1] = True  # a sample begins anew
    if grows.all():
        return np.zeros(len(counts), dtype=bool)
    codes = np.repeat(np.arange(len(counts)), counts)
    keys = codes * _MOST_FRUIT + np.nan_to_num(values, posinf=0, neginf=0).astype(np.int64) % _MOST_FRUIT
    keys = np.sort(keys)
    return np.bincount(keys[1:][np.diff(keys) == 0] // _MOST_FRUIT, minlength=len(counts)) > 0
