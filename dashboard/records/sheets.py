"""Cells as they were written, before anything is known about them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from dashboard.records.problems import Problem

MAX_BYTES = 200_000_000


@dataclass(frozen=True, eq=False)
class Sheet:
    """One table as text: ``cells[i]`` holds the cells under ``headings[i]``, ``rows`` the row numbers a person sees."""

    table: str
    file: str
    sheet: str  # empty for a .csv
    headings: tuple[str, ...]
    rows: np.ndarray  # (n,) int
    cells: tuple[np.ndarray, ...]  # each (n,) object of str, stripped
    unread: int = 0  # rows of the file that could not be taken apart into cells

    def __len__(self) -> int:
        return len(self.rows)

    def written_row(self, index: int) -> str:
        """The whole row as written, so that it can be found and corrected."""
        return "; ".join(
            f"{heading}={cells[index]}"
            for heading, cells in zip(self.headings, self.cells, strict=True)
            if cells[index]
        )


@dataclass
class Source:
    """All that a folder or workbook held: its sheets by table, its declaration as items, and what was wrong."""

    sheets: dict[str, Sheet] = field(default_factory=dict)
    about: dict[str, object] | None = None
    about_file: str = "datapackage.json"
    about_sheet: str = ""
    problems: list[Problem] = field(default_factory=list)
    version: str = ""


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
        if any(row):
            kept.append(row if len(row) == width else [*row, *[""] * (width - len(row))][:width])
            rows.append(number)
    columns = zip(*kept, strict=True) if kept else ([] for _ in headings)
    return Sheet(table, file, name, headings, np.array(rows, dtype=int), tuple(map(_stripped, columns)))


def _stripped(column: Sequence[str]) -> np.ndarray:
    cells = np.empty(len(column), dtype=object)
    cells[:] = [cell.strip() for cell in column]
    return cells
