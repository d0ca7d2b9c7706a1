"""The sheet of what was set aside: one cell a row, with its reason and a column in which it can be put right and read again."""

from __future__ import annotations

import io
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import xlsxwriter

from dashboard.places import put
from dashboard.records.importing.differs import DIFFERS
from dashboard.records.importing.ledger import Aside, Ledger
from dashboard.records.importing.pages import Page
from dashboard.records.importing.roles import NOT_USED
from dashboard.records.plain_text import AS_TEXT
from dashboard.records.problems import Problem, quoted, seen
from dashboard.records.workbooks import read_grids

NAME = "set_aside.xlsx"
REPLACE = "replace"  # beside a cell that differs from the trial: the file is right
SHEET = "set aside"
HEADINGS = ("file", "sheet", "cell", "written", "why", "what to do", "write instead")
_WIDTHS = (24, 18, 8, 24, 60, 50, 24)
_MOST = 100_000  # rows of the sheet; more have one cause that is better put right in the answers


@dataclass(frozen=True)
class Correction:
    written: str
    instead: str
    why: str = ""
    what: str = ""

    @property
    def replaces(self) -> bool:
        """Whether it says that the cell takes the place of what stands, as ``why`` has it."""
        return self.instead.casefold() == REPLACE and self.why.startswith(DIFFERS)


Corrections = dict[tuple[str, str, str], Correction]  # by file, sheet and cell


def read_corrections(path: Path) -> tuple[Corrections, list[Problem]]:
    """What somebody wrote into the last column; none where the sheet is not there."""
    if not path.exists():
        return {}, []
    grids, problems, _ = read_grids(path)
    grid = grids.get(SHEET, [])
    if not grid or tuple(grid[0][: len(HEADINGS)]) != HEADINGS:
        rule = "is not the sheet of what was set aside; it was left out"
        return {}, [
            *problems,
            Problem("error", path.name, rule=rule, suggestion="let it be written anew, or delete it"),
        ]
    found: Corrections = {}
    for row in grid[1:]:
        file, sheet, cell, written, why, what, instead = [
            *row[: len(HEADINGS)],
            *[""] * (len(HEADINGS) - len(row)),
        ]
        if instead.strip():
            found[file, sheet, cell] = Correction(written, instead.strip(), why, what)
    return found, problems


def is_aside(path: Path) -> bool:
    """Whether a file is such a sheet."""
    grid = read_grids(path)[0].get(SHEET, []) if path.suffix.lower() == ".xlsx" else []
    return bool(grid) and tuple(grid[0][: len(HEADINGS)]) == HEADINGS


def still_waiting(path: Path) -> dict[str, int]:
    """How many cells of each file nobody has put right yet; none where the sheet is not there."""
    return dict(Counter(row[0] for row in _waiting_rows(path) if _holds(row)))


def _waiting_rows(path: Path) -> list[tuple[str, ...]]:
    """Lines of the sheet whose last column is empty, each as long as HEADINGS."""
    rows = read_grids(path)[0].get(SHEET, []) if path.exists() else []
    if not rows or tuple(rows[0][: len(HEADINGS)]) != HEADINGS:
        return []
    whole = [(*row, *[""] * len(HEADINGS))[: len(HEADINGS)] for row in rows[1:]]
    return [row for row in whole if row[0] and not row[-1].strip()]


def _holds(row: tuple[str, ...]) -> bool:
    """Whether a line is of a cell with something in it, and not of one that was left empty."""
    return bool(row[3])


def corrected(
    pages: Sequence[Page], corrections: Corrections
) -> tuple[list[Page], list[tuple[int, int, int]], list[Problem]]:
    """The pages with their cells put right, the cells declared as not used (page, row, column), and corrections that fit no more."""
    found: list[Page] = []
    unused: list[tuple[int, int, int]] = []
    problems: list[Problem] = []
    for number, page in enumerate(pages):
        own = {key: one for key, one in corrections.items() if key[:2] == (page.file, page.sheet)}
        if not own:
            found.append(page)
            continue
        cells = page.cells.copy()
        for (file, sheet, cell), one in own.items():
            row, column = _place(cell, page)
            if row < 0 or cells[row, column] != one.written:
                rule = "was corrected in the sheet of what was set aside, and holds something else now"
                problems.append(
                    Problem(
                        "flag",
                        file,
                        sheet,
                        column=cell,
                        value=one.written,
                        rule=rule,
                        suggestion="take out that line",
                    )
                )
            elif one.replaces:
                continue
            elif one.instead.casefold() == NOT_USED:
                unused.append((number, row, column))
                cells[row, column] = ""
            else:
                cells[row, column] = one.instead
        typed = {(int(row), int(column)) for row, column in np.argwhere(cells != page.cells)}
        found.append(replace(page, cells=cells, days=page.days - typed))
    return found, unused, problems


def write_aside(path: Path, ledger: Ledger, corrections: Corrections) -> int:
    """The sheet, with the corrections made before and what waits of other files; how many cells wait. OSError where it cannot be written."""
    here = {page.file for page in ledger.pages}
    again = {_key(ledger, one) for one in ledger.asides}
    rows: list[tuple[str, ...]] = [
        (*key, one.written, one.why, one.what, one.instead) for key, one in corrections.items()
        if key not in again and not (one.replaces and key[0] in here)
    ]  # fmt: skip
    others = [row for row in _waiting_rows(path) if row[0] not in here]
    rows += others
    waiting = sum(map(_holds, others)) + len(ledger.asides)
    for one in [*ledger.lacks, *ledger.asides][: max(0, _MOST - len(rows))]:
        key, text, said = _key(ledger, one), ledger.text(one.code), one.rule
        before = corrections.get(key)
        if before is not None and text == before.instead:  # what was written instead cannot be read either
            text, said = before.written, f"{quoted(text)}, written instead, {said}"
        rows.append((*key, text, said, one.suggestion, ""))
    if not rows and not path.exists():
        return waiting
    made = io.BytesIO()
    with xlsxwriter.Workbook(made, AS_TEXT) as book:
        sheet = book.add_worksheet(SHEET)
        text, bold = book.add_format({"num_format": "@"}), book.add_format({"bold": True, "bottom": 1})
        for place, width in enumerate(_WIDTHS):
            sheet.set_column(place, place, width, text)
            sheet.write_string(0, place, HEADINGS[place], bold)
        sheet.freeze_panes(1, 0)
        for line, row in enumerate(rows, 1):
            for place, cell in enumerate(row):
                sheet.write_string(line, place, seen(cell)[:30_000] if place != 3 else cell[:30_000], text)
    path.parent.mkdir(parents=True, exist_ok=True)
    put(path, made.getvalue())
    return waiting


def _key(ledger: Ledger, one: Aside) -> tuple[str, str, str]:
    page, _, _ = ledger.place(one.code)
    return page.file, page.sheet, ledger.reference(one.code)


def _place(cell: str, page: Page) -> tuple[int, int]:
    """Row and column of B7 on a page; -1 where there is no such cell."""
    letters = cell.rstrip("0123456789")
    column = 0
    for letter in letters:
        column = column * 26 + ord(letter) - 64
    digits = cell[len(letters) :]
    rows = np.flatnonzero(page.rows == int(digits)) if digits else np.array([])
    good = len(rows) and letters.isascii() and letters.isalpha() and 0 < column <= page.cells.shape[1]
    return (int(rows[0]), column - 1) if good else (-1, -1)
