"""Cells as they were written, before anything is known about them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from dashboard.records.problems import Problem

MAX_BYTES = 200_000_000
MAX_COLUMNS = 100
# The widest table here has seventeen columns. Every cell of a column that is not read is listed, so what stands far
# to the right costs many times what is read.
WIDE, MAX_BEYOND = 30, 1_000_000


@dataclass(frozen=True, eq=False)
class Sheet:
    """One table as text: ``cells[i]`` holds the cells under ``headings[i]``, ``rows`` the row numbers a person sees."""

    table: str
    file: str
    sheet: str  # empty for a .csv
    headings: tuple[str, ...]
    rows: np.ndarray  # (n,) int
    cells: tuple[np.ndarray, ...]  # each (n,) object of str, stripped
    # Rows whose cells may stand under the wrong heading: number, and the cells as far as they can be told.
    torn: tuple[tuple[int, tuple[str, ...]], ...] = ()

    def __len__(self) -> int:
        return len(self.rows)

    def places(self, rows: Sequence[int]) -> np.ndarray:
        """Where in ``cells`` the rows of these numbers are; -1 of one that is not there."""
        if not len(self.rows):
            return np.full(len(rows), -1)
        order = self._order
        near = order[np.searchsorted(self.rows, rows, sorter=order).clip(max=len(order) - 1)]
        return np.where(self.rows[near] == rows, near, -1)

    @cached_property
    def _order(self) -> np.ndarray:
        return np.argsort(self.rows, kind="stable")

    @property
    def filled(self) -> np.ndarray:
        """(headings, rows) bool: where something is written."""
        found = np.zeros((len(self.headings), len(self)), dtype=bool)
        for position, cells in enumerate(self.cells):
            found[position] = cells != ""
        return found

    @property
    def torn_cells(self) -> int:
        return sum(cell != "" for _, cells in self.torn for cell in cells)

    def written_row(self, index: int) -> str:
        """The whole row as written, so that it can be found and corrected."""
        return "; ".join(
            f"{heading}={cells[index]}"
            for heading, cells in zip(self.headings, self.cells, strict=True)
            if cells[index]
        )


@dataclass(frozen=True, eq=False)
class Stranger:
    """A file or sheet that is no table: what is said of it unless it is declared as not used, and what it holds."""

    name: str  # as it is declared not to be used
    problem: Problem
    sheet: Sheet | None  # None where it was not opened


@dataclass
class Source:
    """All that a folder or workbook held: its sheets by table, its declaration as items, and what was wrong."""

    sheets: dict[str, Sheet] = field(default_factory=dict)
    about: dict[str, object] | None = None
    strangers: list[Stranger] = field(default_factory=list)
    unopened: list[str] = field(
        default_factory=list
    )  # files that are there and could not be read, or were not tried
    about_file: str = "datapackage.json"
    about_sheet: str = ""
    problems: list[Problem] = field(default_factory=list)
    version: str = ""


def too_wide(columns: int, rows: int) -> tuple[str, str] | None:
    """Why a table of this size is not read (rule and suggestion), or None."""
    if columns <= WIDE or (columns <= MAX_COLUMNS and (columns - WIDE) * rows <= MAX_BEYOND):
        return None
    most = MAX_COLUMNS if columns > MAX_COLUMNS else WIDE
    lost = "; see whether the line breaks were lost" if rows == 1 else ""
    return (
        f"the table has {columns:,} columns and {rows:,} rows, and no more than {most} columns of that many rows are read",
        f"take out the columns that are not of the table{lost}",
    )


def sheet_of(
    table: str, file: str, name: str, grid: Sequence[Sequence[str]], numbers: Sequence[int]
) -> Sheet:
    """A sheet from its rows of text, the headings first; rows without any cell filled are left out.

    Short rows are filled with empty cells. ``numbers`` are the row numbers, one a row of ``grid``.
    """
    headings = tuple(cell.strip() for cell in grid[0]) if grid else ()
    width = len(headings)
    kept: list[Sequence[str]] = []
    rows: list[int] = []
    for row, number in zip(grid[1:], numbers[1:], strict=True):
        if any(row) and any(cell.strip() for cell in row):
            kept.append(row if len(row) == width else [*row, *[""] * (width - len(row))][:width])
            rows.append(number)
    columns = zip(*kept, strict=True) if kept else ([] for _ in headings)
    return Sheet(table, file, name, headings, np.array(rows, dtype=int), tuple(map(_stripped, columns)))


def _stripped(column: Sequence[str]) -> np.ndarray:
    cells = np.empty(len(column), dtype=object)
    cells[:] = [cell.strip() for cell in column]
    return cells
