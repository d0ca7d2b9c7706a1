"""Where faults are gathered while a sheet is checked: what is told, and what was set aside."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

import numpy as np
import pandas as pd

from dashboard.records.not_used import plain
from dashboard.records.problems import Problem, Severity, named_rows
from dashboard.records.sheets import Sheet

ASIDE = ("file", "sheet", "row", "column", "value", "rule", "suggestion", "whole_row")
NO_HEADING = "(no heading)"


class Findings:
    """Problems of one sheet, and the cells and rows they set aside."""

    def __init__(self, sheet: Sheet):
        self.sheet = sheet
        self.problems: list[Problem] = []
        self.aside: list[tuple] = []
        shape = len(sheet.headings), len(sheet)
        self.alone = np.zeros(shape, dtype=bool)  # cells set aside while their row stayed
        self.gone = np.zeros(
            shape, dtype=bool
        )  # all cells set aside: alone, with their row or with their column
        self.unused = np.zeros(shape, dtype=bool)  # cells under a heading declared as not used
        self.read: list[int] = []  # positions of the columns that are read
        self.lost: dict[int, int] = {}  # by problem the column without which its rows are not whole
        self.twice: list[int] = []  # rows that say what another row says, and count once

    def flag(
        self,
        row: int | None,
        column: str,
        value: str,
        rule: str,
        suggestion: str = "",
        sure: bool = False,
    ) -> None:
        """``sure``: it cannot be right as it stands, whichever of its cells is at fault."""
        self._tell("flag", row, column, value, rule, suggestion, sure)

    def set_cell_aside(self, row: int, column: str, value: str, rule: str, suggestion: str) -> None:
        self._tell("error", row, column, value, rule, suggestion)
        self._put(row, column, value, rule, suggestion, "")
        cell = self.sheet.headings.index(column), self.sheet.places([int(row)])[0]
        self.alone[cell] = self.gone[cell] = True

    def set_value_aside(self, row: int, spellings: Collection[str], rule: str, suggestion: str) -> None:
        """A cell that was read already, by the headings its column may have."""
        column = next(at for at, written in enumerate(self.sheet.headings) if plain(written) in spellings)
        value = self.sheet.cells[column][self.sheet.places([int(row)])[0]]
        self.set_cell_aside(row, self.sheet.headings[column], value, rule, suggestion)

    def set_row_aside(self, row: int, column: str, value: str, rule: str, suggestion: str) -> None:
        self.set_rows_aside([row], column, value, rule, suggestion)

    def set_rows_aside(
        self, rows: Sequence[int], column: str, value: str, rule: str, suggestion: str
    ) -> None:
        """Rows with one fault in common: told once, at the first of them, and each set aside."""
        rule += (
            "; the row is set aside"
            if len(rows) == 1
            else f"; {len(rows)} rows are set aside ({named_rows(rows)})"
        )
        self._tell("error", int(rows[0]), column, value, rule, suggestion)
        self._put_rows(rows, column, value, rule, suggestion)

    def set_column_aside(self, position: int, rule: str, suggestion: str, lost: bool = False) -> None:
        """Told once, at the heading; every filled cell under it is set aside. ``lost``: they are of a column that is read nowhere else."""
        heading, cells = self.sheet.headings[position], self.sheet.cells[position]
        if lost:
            self.lost[len(self.problems)] = position
        self._tell("error", 1, heading or NO_HEADING, "", rule, suggestion)
        for index in np.flatnonzero(cells != ""):
            self._put(int(self.sheet.rows[index]), heading, cells[index], rule, suggestion, "")
        self.gone[position] = True

    def set_all_aside(self, rule: str, suggestion: str) -> None:
        """A fault of the sheet itself, told once: no row of it can be used."""
        self._tell("error", 1, "", "", rule, suggestion)
        self._put_rows(self.sheet.rows.tolist(), "", "", rule, suggestion)

    def _put_rows(self, rows: Sequence[int], column: str, value: str, rule: str, suggestion: str) -> None:
        places = self.sheet.places(rows)
        self.gone[:, places] = True
        for row, place in zip(rows, places, strict=True):
            self._put(int(row), column, value, rule, suggestion, self.sheet.written_row(place))

    def _tell(
        self,
        severity: Severity,
        row: int | None,
        column: str,
        value: str,
        rule: str,
        suggestion: str,
        sure: bool = False,
    ) -> None:
        place = None if row is None else int(row)
        self.problems.append(
            Problem(
                severity, self.sheet.file, self.sheet.sheet, place, column, value, rule, suggestion, sure=sure
            )
        )

    def _put(self, row: int, column: str, value: str, rule: str, suggestion: str, whole: str) -> None:
        self.aside.append((self.sheet.file, self.sheet.sheet, row, column, value, rule, suggestion, whole))


def set_aside(rows: Iterable[tuple]) -> pd.DataFrame:
    """What was not loaded, one row a cell or row, with the columns ASIDE."""
    frame = pd.DataFrame(list(rows), columns=list(ASIDE))
    kinds = {name: "str" for name in ASIDE if name != "row"}
    return frame.astype(kinds).astype({"row": "float"})
