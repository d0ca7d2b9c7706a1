"""Cells of text to typed values: whole columns at once, and only the cells at fault one by one."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date
from functools import cache

import numpy as np
import pandas as pd

from dashboard.records import advice
from dashboard.records.days import coarsened, days_of
from dashboard.records.declaration import Declaration
from dashboard.records.exchanged import Place, exchanged, most_of
from dashboard.records.findings import Findings
from dashboard.records.headings import Heading, headings
from dashboard.records.plain_text import texts
from dashboard.records.scales import another_scale
from dashboard.records.schema import PRECISIONS, TABLES, Column
from dashboard.records.sheets import Sheet

# Written where nothing was measured; anything else has to be a value.
MISSING = frozenset({"", "-", "–", ".", "NA", "N/A", "na", "n/a"})
YES_NO = {
    "yes": True,
    "y": True,
    "true": True,
    "1": True,
    "no": False,
    "n": False,
    "false": False,
    "0": False,
}


def checked(sheet: Sheet, declaration: Declaration, findings: Findings) -> pd.DataFrame:
    """The rows that can be used, typed and in SI, with every column of the schema; the index is the row number.

    A cell at fault is missing, or takes its row with it where the row means nothing without it.
    """
    table = TABLES[sheet.table]
    found = headings(sheet, findings, declaration.not_used)
    if any(column.needed and column.name not in found for column in table.columns):
        return empty(sheet.table)
    beside = [heading for heading in found.values() if heading.column.kind == "number"]
    place = cache(lambda heading: _place(heading, declaration, sheet.cells[heading.position]))
    columns: dict[str, np.ndarray | pd.Series] = {}
    known: dict[str, np.ndarray] = {}  # how exactly the dates of a column are known, as they are written
    lost = np.zeros(len(sheet), dtype=bool)
    for column in table.columns:
        heading = found.get(column.name)
        if heading is None:
            columns[column.name] = _nothing(column, len(sheet))
            continue
        reading = _Reading(sheet, heading, declaration, findings, beside, place)
        refused = declaration.refusal(column.name) or reading.off_scale()
        if refused:
            findings.set_column_aside(heading.position, *refused, lost=True)
            columns[column.name] = _nothing(column, len(sheet))
            continue
        findings.read.append(heading.position)
        columns[column.name] = reading.values()
        if column.precision:
            known[column.name] = reading.known
        if column.needed:
            reading.tell_empty()
            lost |= reading.absent
    for column in table.columns:
        if column.name in known:
            columns |= _as_exactly(column, columns, known[column.name], declaration.date_precision)
    frame = pd.DataFrame(columns, index=pd.Index(sheet.rows, name="row"))
    return frame[~lost]


def empty(name: str) -> pd.DataFrame:
    """A table of the schema without rows."""
    table = TABLES[name]
    return pd.DataFrame(
        {column.name: _nothing(column, 0) for column in table.columns},
        index=pd.Index([], dtype=int, name="row"),
    )


def _as_exactly(column: Column, columns: dict, written: np.ndarray, declared: str) -> dict:
    """Dates as exactly as they are known: as written or more coarsely, where the cell beside says so or the declaration does."""
    beside = [
        PRECISIONS.index(word) if word in PRECISIONS else PRECISIONS.index(declared)
        for word in columns[column.precision]
    ]
    known = np.maximum(written, np.array(beside, dtype=int))
    words = pd.array([PRECISIONS[precision] for precision in known], dtype="str")
    return {column.name: coarsened(columns[column.name], known), column.precision: words}


def _nothing(column: Column, rows: int):
    if column.kind == "yes/no":
        return np.zeros(rows, dtype=bool)
    if column.kind == "date":
        return np.full(rows, np.datetime64("NaT", "us"))
    if column.kind in ("number", "whole", "year"):
        return np.full(rows, np.nan)
    return pd.array([None] * rows, dtype="str")


def _numbers_in(cells: np.ndarray) -> np.ndarray:
    """The numbers as they stand; what is none is missing."""
    codes, distinct = pd.factorize(cells)
    return pd.to_numeric(pd.Series(distinct, dtype=object), errors="coerce").to_numpy(dtype=float)[codes]


def _place(heading: Heading, declaration: Declaration, cells: np.ndarray) -> Place:
    scale = declaration.ratings.get(heading.column.name) if heading.column.rating else None
    ends = (scale.low, scale.high) if scale else None
    return Place(heading.written, heading.column, heading.unit, ends, most_of(_numbers_in(cells)))


class _Reading:
    """One column of one sheet on its way to values; ``absent`` says which rows end without one.

    Most texts stand in many cells, and each is looked at once. ``beside``: the columns of figures; ``place``: what each is like.
    """

    def __init__(
        self,
        sheet: Sheet,
        heading: Heading,
        declaration: Declaration,
        findings: Findings,
        beside: Sequence[Heading],
        place: Callable[[Heading], Place],
    ):
        self.column = heading.column
        self.unit = heading.unit
        self.heading = heading.written
        self.under = heading
        self.cells = sheet.cells[heading.position]
        self.rows = sheet.rows
        self.declaration = declaration
        self.findings = findings
        self.beside = [(one, sheet.cells[one.position]) for one in beside if one is not heading]
        self.place = place
        self.codes, self.distinct = pd.factorize(self.cells)
        missing = {""} if self.column.kind in ("text", "note") else MISSING
        self.blank = np.array([cell in missing for cell in self.distinct], dtype=bool)
        self.empty = self.blank[self.codes]
        self.absent = self.empty.copy()

    def off_scale(self) -> advice.Said | None:
        """Why no rating of the column can be used: so many lie outside the scale declared that the rest are hardly on it either."""
        if not self.column.rating:
            return None
        about = "in the sheet about" if self.findings.sheet.sheet else "under ratings in datapackage.json"
        filled = self._written()[~self.empty]
        return another_scale(filled, self.column.name, self.declaration.ratings[self.column.name], about)

    def values(self):
        kind = self.column.kind
        if kind in ("number", "whole", "year"):
            return self._numbers()
        if kind == "date":
            return self._dates()
        if kind == "class":
            return self._words(dict(zip(self.column.words, self.column.words, strict=True)), "str")
        if kind == "yes/no":
            return self._words(YES_NO, bool)
        return self._texts()

    def tell_empty(self) -> None:
        """Rows without the cell they cannot do without; those with a fault in it were told already."""
        rows = self.rows[self.empty]
        if len(rows):
            self.findings.set_rows_aside(
                rows, self.heading, "", f"has no {self.column.name}", f"write it: {self.column.meaning}"
            )

    def _fault(self, index, said: advice.Said) -> None:
        self.absent[index] = True
        put = self.findings.set_row_aside if self.column.needed else self.findings.set_cell_aside
        put(self.rows[index], self.heading, self.cells[index], *said)

    def _written(self) -> np.ndarray:
        return _numbers_in(self.cells)

    def _exchanged(self, index: np.ndarray) -> Iterator[tuple[int, list[Place]]]:
        """By row that is odd here the columns that its figure may stand exchanged with."""
        found: list[list[Place]] = [[] for _ in index]
        if len(index):
            mine, here = _numbers_in(self.cells[index]), self.place(self.under)
            for heading, cells in self.beside:
                there, others = self.place(heading), _numbers_in(cells[index])
                for one in np.flatnonzero(exchanged(here, there, mine, others, others)):
                    found[one].append(there)
        yield from zip(index.tolist(), found, strict=True)

    def _numbers(self) -> np.ndarray:
        written = self._written()
        for index in np.flatnonzero(~np.isfinite(written) & ~self.empty):
            self._fault(index, advice.number_fault(self.cells[index], self.column, self.unit))
        written[self.absent] = np.nan
        if self.column.kind in ("whole", "year"):
            for index in np.flatnonzero(np.isfinite(written) & (written % 1 != 0)):
                self._fault(index, advice.whole_fault(self.cells[index]))
            written[self.absent] = np.nan
        scale = self.declaration.ratings.get(self.column.name) if self.column.rating else None
        with np.errstate(over="ignore"):  # 1e308 in: out of range all the same
            values = self.unit.to_si(written) if self.unit else written
        limits = (scale.low, scale.high) if scale else self.column.refuse
        with np.errstate(invalid="ignore"):
            if limits:
                for row, places in self._exchanged(np.flatnonzero((values < limits[0]) | (values > limits[1]))):  # fmt: skip
                    self._fault(row, advice.range_fault(written[row], self.column, self.unit, limits, places))  # fmt: skip
                values[self.absent] = np.nan
            if self.column.flag:
                odd = np.flatnonzero((values < self.column.flag[0]) | (values > self.column.flag[1]))
                for row, places in self._exchanged(odd):
                    said = advice.unusual(written[row], self.column, self.unit, places)
                    self.findings.flag(self.rows[row], self.heading, self.cells[row], *said)
        return scale.mapped(values) if scale else values

    def _dates(self) -> np.ndarray:
        distinct = np.where(self.blank, "", self.distinct)
        days, self.known = (one[self.codes] for one in days_of(distinct, bool(self.column.precision)))
        for index in np.flatnonzero(np.isnat(days) & ~self.empty):
            self._fault(index, advice.date_fault(self.cells[index], bool(self.column.precision)))
        first, last = (
            self.declaration.dates if self.column.in_seasons else (date(1900, 1, 1), date(2100, 12, 31))
        )
        for index in np.flatnonzero((days < np.datetime64(first)) | (days > np.datetime64(last))):
            self._fault(
                index,
                (
                    f"is outside the years of these records ({first} to {last})",
                    "correct the year, or the seasons declared",
                ),
            )
        days[self.absent] = np.datetime64("NaT")
        return days

    def _words(self, meanings: dict, dtype):
        known = [None if blank else meanings.get(cell.casefold()) for cell, blank in zip(self.distinct, self.blank, strict=True)]  # fmt: skip
        strange = np.array([one is None for one in known], dtype=bool) & ~self.blank
        for index in np.flatnonzero(strange[self.codes]):
            said = (
                advice.yes_no_fault(self.cells[index])
                if dtype is bool
                else advice.class_fault(self.cells[index], self.column)
            )
            self._fault(index, said)
        if dtype is bool:
            return np.array([one is True for one in known], dtype=bool)[self.codes]
        return pd.array(np.array(known, dtype=object)[self.codes], dtype="str")

    def _texts(self):
        values, faults, flags = texts(self.distinct, self.column.kind == "note")
        for index, said in self._in_rows(faults):
            self._fault(index, said)
        for index, said in self._in_rows(
            [] if self.column.refers else flags
        ):  # told once, where the name is defined
            self.findings.flag(self.rows[index], self.heading, self.cells[index], *said)
        return pd.array(np.array(values, dtype=object)[self.codes], dtype="str")

    def _in_rows(self, told: Iterable[tuple[int, advice.Said]]) -> Iterator[tuple[int, advice.Said]]:
        """What is told of a text, by each of the rows in which it stands."""
        by_text: dict[int, list[advice.Said]] = {}
        for place, said in told:
            by_text.setdefault(place, []).append(said)
        for index in np.flatnonzero(np.isin(self.codes, list(by_text))).tolist():
            yield from ((index, said) for said in by_text[int(self.codes[index])])
