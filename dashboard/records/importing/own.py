"""One table of ours as it stands on a page: its text, and the cell that each piece of it stands in."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from dashboard.records.declaration import Declaration
from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.pages import Page
from dashboard.records.not_used import plain
from dashboard.records.schema import TABLES
from dashboard.records.sheets import Sheet


@dataclass(frozen=True, eq=False)
class Own:
    """A table of ours: ``heads`` (headings,) and ``codes`` (headings, rows) are the cells that its text stands in, NOWHERE where none.

    ``each``: rows of the table to one of the page, so that its numbers are those of the page divided by it.
    """

    sheet: Sheet
    declaration: Declaration
    heads: np.ndarray
    codes: np.ndarray
    each: int = 1


def table_of(page: Page, lenient: bool) -> str:
    """The table that a page is by its name and all its headings; ``lenient``: it may have others, which are told and left out."""
    name = (page.sheet or Path(page.file).stem).strip().lower()
    if name not in TABLES or page.rows[0] != 1 or page.merged:
        return ""
    by_spelling = TABLES[name].by_spelling
    heads = [plain(cell) for cell in page.cells[0]]
    there = [by_spelling[head].name for head in heads if head in by_spelling]
    whole = len(there) == sum(map(bool, page.cells[0])) and len(set(there)) == len(there)
    if not whole and not lenient:
        return ""
    return name if all(column.name in there for column in TABLES[name].columns if column.needed) else ""


def table_on(page: Page, place: int, name: str, declaration: Declaration, ledger: Ledger) -> Own:
    """A page as one of our tables; rows that cannot be taken apart are set aside at once."""
    cells = page.cells
    width = int(np.flatnonzero(cells[0] != "")[-1]) + 1
    beyond = (cells[:, width:] != "").any(axis=1)
    filled = (cells != "").any(axis=1)
    lost = {row: why for row, why in page.torn.items() if row}
    if not page.sheet:  # a cell too many in a text file may have shifted the others
        lost |= {int(row): "has a cell beyond the last heading; the row is set aside" for row in np.flatnonzero(beyond) if row not in lost}  # fmt: skip
    for row, why in lost.items():
        codes = [ledger.codes(place, np.array([row]), int(at))[0] for at in np.flatnonzero(cells[row] != "")]
        ledger.aside(codes, why, 'put a cell that holds a comma between quotation marks (")')
    rows = np.array([row for row in np.flatnonzero(filled) if row and row not in lost], dtype=int)
    for row in sorted({*page.short} & {*rows.tolist()}):
        first = int(np.flatnonzero(cells[row] != "")[0])
        code = int(ledger.codes(place, np.array([row]), first)[0])
        ledger.flag(code, "is in a row that ends before the others", "look whether it was cut short")
    sheet = Sheet(
        name, page.file, page.sheet, tuple(cells[0, :width]), page.rows[rows], tuple(cells[rows, at] for at in range(width))
    )  # fmt: skip
    heads = np.array([ledger.codes(place, np.array([0]), at)[0] for at in range(width)], dtype=np.int64)
    codes = [ledger.codes(place, rows, at) for at in range(width)]
    return Own(sheet, declaration, heads, np.array(codes, dtype=np.int64).reshape(width, len(rows)))
