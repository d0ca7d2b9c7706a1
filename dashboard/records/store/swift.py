"""Millions of fruit on their way into a store: the file is checked as whole columns, and kept as the text of its own lines.

Only a plain file goes this way (``whole_columns``). Samples of which any row is odd (``judging``), or which the store has otherwise, are
taken out and go the ordinary way, which tells what is wrong; a file that is not plain goes that way whole.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping, Sequence, Sized
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from itertools import compress
from pathlib import Path
from typing import TypeVar

import numpy as np
import pandas as pd

from dashboard.records.comma_files import read_csv
from dashboard.records.declaration import Declaration
from dashboard.records.how_far import reading
from dashboard.records.problems import Problem
from dashboard.records.schema import TABLES
from dashboard.records.sheets import MAX_BYTES, Sheet
from dashboard.records.store.bales import Bale
from dashboard.records.store.by_sample import joined, laid_together, samples
from dashboard.records.store.judging import OWNER, TABLE, Judge, columns_of
from dashboard.records.store.whole_columns import taken_apart

_THREADS = 4
Looked = TypeVar("Looked", bound=Sized)


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
    order: np.ndarray | None  # (lines,) int: where in the file each stood, None as they stand

    @property
    def rows(self) -> np.ndarray:
        """(lines,) the number of the row of each in the file."""
        return self._rows(np.arange(self.counts.sum()))

    def _rows(self, lines: np.ndarray) -> np.ndarray:
        return 2 + (lines if self.order is None else self.order[lines])

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
        usable &= not any(declaration.refusal(name) for name, _, _ in columns_of(self.headings))
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
        raw = memoryview(self.raw)
        for at in range(0, len(self.names), most):
            starts, ends = self.starts[at : at + most], self.ends[at : at + most]
            gaps = np.flatnonzero(starts[1:] != ends[:-1])  # where a sample was taken out
            pieces = zip(starts[[0, *(gaps + 1)]].tolist(), ends[[*gaps, -1]].tolist(), strict=True)
            cells = "".join(
                [str(raw[start:end], "utf-8") for start, end in pieces]
            )  # of one piece it is that
            lengths = ends - starts
            if not cells.isascii():
                lengths = np.array([len(self.cells(place)) for place in range(at, at + len(starts))])
            counts = self.counts[at : at + most].tolist()
            yield Bale(self.names[at : at + most], lengths.tolist(), counts, cells)

    def frame(self) -> pd.DataFrame:
        """The rows, with the columns of the schema, in SI."""
        sheet = self._sheet(np.arange(len(self.names)))
        frame = pd.DataFrame(
            {name: pd.Series(np.nan, index=range(len(sheet))) for name in TABLES[TABLE].by_name}
        )
        for name, place, unit in columns_of(self.headings):
            values = pd.to_numeric(pd.Series(sheet.cells[place], dtype=object), errors="coerce")
            frame[name] = sheet.cells[place] if name == OWNER else unit.to_si(values) if unit else values
        return frame

    def _only(self, kept: np.ndarray) -> Plain:
        if kept.all():
            return self
        parts = {name: getattr(self, name)[kept] for name in ("starts", "ends", "firsts", "counts", "odd")}
        return replace(self, names=list(compress(self.names, kept.tolist())), **parts)

    def _sheet(self, places: np.ndarray) -> Sheet:
        """These samples; a row with no cell filled is none."""
        lines: list[list[str]] = []
        rows: list[int] = []
        for place in places:
            mine = [[cell.strip() for cell in line.split(",")] for line in self.cells(place).split("\n")[:-1]]
            at = np.arange(self.firsts[place], self.firsts[place] + self.counts[place])
            numbered = self._rows(at).tolist()
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
        self.bytes: dict[Path, bytes] = {}  # of a file that was read

    def opened(self, file: Path, table: str) -> tuple[Sheet | None, list[Problem], bytes]:
        if table != TABLE or file.stat().st_size > MAX_BYTES:
            return read_csv(file, table)
        raw = file.read_bytes()
        self.plain = plain(raw, file.name)
        if self.plain is None:
            return read_csv(file, table)
        self.bytes[file] = raw
        return self.plain._sheet(np.array([], dtype=int)), [], b""


def plain(raw: bytes, file: str) -> Plain | None:
    """The fruit of a file; None where it has to go the ordinary way."""
    try:
        headings, parts = taken_apart(raw)
        judge = Judge(headings)
        pieces = _each(lambda part: samples(judge.piece(raw, part)), parts, file)
    except (ValueError, OverflowError):  # not plain, or not UTF-8
        return None
    if not pieces:
        return None
    as_it_is = raw.endswith(b"\n") and b'"' not in raw and b"\r" not in raw
    text = raw if as_it_is else b"".join([one.letters.data for one in pieces])
    found, order = joined(pieces, parts[0].start if as_it_is else 0), None
    if found.names != sorted(found.names) and len(set(found.names)) < len(found.names):
        text, found, order = laid_together(_each(lambda part: judge.piece(raw, part), parts, file))
    firsts = np.cumsum(found.counts) - found.counts
    return Plain(file, headings, text, found.names, found.starts, found.ends, firsts, found.counts, found.odd, order)  # fmt: skip


def _each(work: Callable[[slice], Looked], parts: Sequence[slice], file: str) -> list[Looked]:
    """In as many threads as there are processors: numpy lets others work while it counts."""
    found: list[Looked] = []
    rows = 0
    with ThreadPoolExecutor(min(_THREADS, os.cpu_count() or 1), "fruit") as threads:
        waiting = [threads.submit(work, part) for part in parts]
        try:
            for one, part in zip(waiting, parts, strict=True):
                found.append(one.result())
                rows += len(found[-1])
                reading(file, rows, rows * (parts[-1].stop - parts[0].start) // (part.stop - parts[0].start))
        finally:
            threads.shutdown(cancel_futures=True)
    return found
