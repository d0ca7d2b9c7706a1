"""Where faults are gathered while a sheet is checked: what is told, and what was set aside."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
import pandas as pd

from dashboard.records.problems import Problem, Severity, listed
from dashboard.records.sheets import Sheet

ASIDE = ("file", "sheet", "row", "column", "value", "rule", "suggestion", "whole_row")
_NAMED_ROWS = 6


class Findings:
    """Problems of one sheet, and the cells and rows they set aside."""

    def __init__(self, sheet: Sheet):
        self.sheet = sheet
        self.problems: list[Problem] = []
        self.aside: list[tuple] = []
        self._position = {int(row): index for index, row in enumerate(sheet.rows)}

    def flag(self, row: int | None, column: str, value: str, rule: str, suggestion: str = "") -> None:
        self._tell("flag", row, column, value, rule, suggestion)

    def set_cell_aside(self, row: int, column: str, value: str, rule: str, suggestion: str) -> None:
        self._tell("error", row, column, value, rule, suggestion)
        self._put(row, column, value, rule, suggestion, "")

    def set_row_aside(self, row: int, column: str, value: str, rule: str, suggestion: str) -> None:
        self.set_rows_aside([row], column, value, rule, suggestion)

    def set_rows_aside(
        self, rows: Sequence[int], column: str, value: str, rule: str, suggestion: str
    ) -> None:
        """Rows with one fault in common: told once, at the first of them, and each set aside."""
        rule += (
            "; the row is set aside"
            if len(rows) == 1
            else f"; {len(rows)} rows are set aside ({_rows(rows)})"
        )
        self._tell("error", int(rows[0]), column, value, rule, suggestion)
        for row in rows:
            self._put(
                int(row), column, value, rule, suggestion, self.sheet.written_row(self._position[int(row)])
            )

    def set_column_aside(self, heading: str, severity: Severity, rule: str, suggestion: str) -> None:
        """Told once, at the heading; every filled cell under it is set aside."""
        self._tell(severity, 1, heading or "(no heading)", "", rule, suggestion)
        cells = self.sheet.cells[self.sheet.headings.index(heading)]
        for index in np.flatnonzero(cells != ""):
            self._put(int(self.sheet.rows[index]), heading, cells[index], rule, suggestion, "")

    def tell(self, rule: str, suggestion: str) -> None:
        """A fault of the sheet itself."""
        self._tell("error", 1, "", "", rule, suggestion)

    def _tell(
        self, severity: Severity, row: int | None, column: str, value: str, rule: str, suggestion: str
    ) -> None:
        place = None if row is None else int(row)
        self.problems.append(
            Problem(severity, self.sheet.file, self.sheet.sheet, place, column, value, rule, suggestion)
        )

    def _put(self, row: int, column: str, value: str, rule: str, suggestion: str, whole: str) -> None:
        self.aside.append((self.sheet.file, self.sheet.sheet, row, column, value, rule, suggestion, whole))


def set_aside(rows: Iterable[tuple]) -> pd.DataFrame:
    """What was not loaded, one row a cell or row, with the columns ASIDE."""
    frame = pd.DataFrame(list(rows), columns=list(ASIDE))
    kinds = {name: "str" for name in ASIDE if name != "row"}
    return frame.astype(kinds).astype({"row": "float"})


def _rows(rows: Sequence[int]) -> str:
    named = [str(int(row)) for row in rows[:_NAMED_ROWS]]
    more = len(rows) - len(named)
    return f"rows {', '.join(named)} and {more} more" if more else f"rows {listed(named)}"
