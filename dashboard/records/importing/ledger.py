"""What became of every filled cell of every page: read, set aside with its reason, or declared as not used. Nothing else is possible.

A cell is named by one whole number, so that a column of cells is an array: page, row and column.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
import pandas as pd

from dashboard.records.importing.differs import Differs
from dashboard.records.importing.overruled import Place
from dashboard.records.importing.pages import Page, column_letter
from dashboard.records.problems import Problem, Severity

EMPTY, OPEN, READ, ASIDE, UNUSED = range(5)
_ROW, _PAGE = 14, 40  # bits below
_AT_ONCE = 1 << 16  # cells marked: of millions, all at once would be held many times over
NOWHERE = -1  # of a value that no cell holds
Code = TypeVar("Code", int, np.ndarray)


def parts_of(codes: Code) -> tuple[Code, Code, Code]:
    """Page, row of the page and column of a cell, or of several, by their codes."""
    return codes >> _PAGE, (codes >> _ROW) & ((1 << (_PAGE - _ROW)) - 1), codes & ((1 << _ROW) - 1)


@dataclass(frozen=True)
class Aside:
    """One cell that was set aside. ``together``: cells of one row that share a cause are told once."""

    code: int
    rule: str
    suggestion: str
    together: int


class Ledger:
    def __init__(
        self, pages: Sequence[Page], taken_out: Sequence[tuple[int, int, int]] = (), right: frozenset[str] = frozenset()
    ):  # fmt: skip
        """``taken_out``: page, row and column of cells that were declared as not used one by one, and stand on the pages no more; ``right``:
        the names of values that take the place of what the trial has."""
        self.pages, self.taken_out = list(pages), taken_out
        self.states = [np.where(page.cells != "", OPEN, EMPTY).astype(np.int8) for page in pages]
        for number, row, column in taken_out:
            self.states[number][row, column] = UNUSED
        self.asides: list[Aside] = []
        self.lacks: list[Aside] = []  # empty cells for want of which others are set aside
        self.uncounted: set[str] = set()  # samples whose means wait for their number of fruit
        self.flags: list[Problem] = []
        self.right = right
        self.differing: list[Differs] = []  # that may be replaced, and are not
        self.replaced: list[Differs] = []
        self.chosen: list[Differs] = []  # that take the place of what another sheet has
        self.overruled: dict[Place, set[str]] = {}  # what was said before to be wrong, and
        self.overrules: dict[Place, set[str]] = {}  # what is said so now
        self.repeated: list[Differs] = []  # that a sheet has still, though it was said to be wrong
        self.same: set[tuple[str, str, str]] | None = (
            None  # where asked for, places of the trial where a cell says what stands
        )
        self.alike: Counter[tuple[str, str]] = (
            Counter()
        )  # how many such, by table and first name of the key, where others differ

    def codes(self, page: int, rows: np.ndarray, column: int) -> np.ndarray:
        """(n,) int64 of cells in one column."""
        return (np.int64(page) << _PAGE) | (rows.astype(np.int64) << _ROW) | np.int64(column)

    def place(self, code: int) -> tuple[Page, int, int]:
        page, row, column = parts_of(code)
        return self.pages[page], row, column

    def number(self, code: int) -> int:
        """Of the row, as a person sees it."""
        page, row, _ = self.place(code)
        return int(page.rows[row])

    def placed(self, cells: pd.DataFrame) -> pd.DataFrame:
        """The cells that were read, by their ``code``, with file, sheet and row."""
        codes = cells["code"].to_numpy(dtype=np.int64)
        cells, codes = cells[codes >= 0].reset_index(drop=True), codes[codes >= 0]
        pages, rows, columns = parts_of(codes)
        found = [cells.assign(file="", sheet="", row=0)[:0]]
        for number in np.unique(pages):
            page, here = self.pages[number], pages == number
            placed = cells[here].assign(file=page.file, sheet=page.sheet, row=page.rows[rows[here]])
            found.append(placed[self.states[number][rows[here], columns[here]] == READ])
        return pd.concat(found, ignore_index=True)

    def text(self, code: int) -> str:
        page, row, column = self.place(code)
        return str(page.cells[row, column])

    def reference(self, code: int) -> str:
        """B7, as a spreadsheet names it."""
        page, row, column = self.place(code)
        return f"{column_letter(column)}{page.rows[row]}"

    def read(self, codes: np.ndarray) -> None:
        self._mark(codes, READ)

    def unused(self, codes: np.ndarray) -> None:
        self._mark(codes, UNUSED)

    def aside(self, codes: Iterable[int], rule: str, suggestion: str) -> None:
        """Cells set aside for one cause; the first of them that is filled is where it is told."""
        filled = [code for code in map(int, codes) if code >= 0 and self.state(code) not in (EMPTY, ASIDE)]
        for code in filled:
            self.asides.append(Aside(code, rule, suggestion, filled[0]))
        self._mark(np.array(filled, dtype=np.int64), ASIDE)

    def lack(self, code: int, rule: str, suggestion: str) -> None:
        """An empty cell for want of which others are set aside: it has a line in their sheet, too, so that it can be filled there."""
        if self.state(code) == EMPTY:
            self.lacks.append(Aside(code, rule, suggestion, code))

    def flag(self, code: int, rule: str, suggestion: str = "") -> None:
        self.flags.append(self.problem("flag", code, rule, suggestion))

    def problem(self, severity: Severity, code: int, rule: str, suggestion: str) -> Problem:
        page, row, column = self.place(code)
        return Problem(
            severity, page.file, page.sheet, int(page.rows[row]), column_letter(column),
            str(page.cells[row, column]), rule, suggestion,
        )  # fmt: skip

    def state(self, code: int) -> int:
        page, row, column = code >> _PAGE, *self.place(code)[1:]
        return int(self.states[page][row, column])

    def problems(self) -> list[Problem]:
        """One a cause and row, then the flags."""
        told = [
            self.problem("error", one.code, one.rule, one.suggestion)
            for one in self.asides
            if one.code == one.together
        ]
        return [*told, *self.flags]

    def settle(self) -> None:
        """What nobody spoke of is set aside, too, and told: it would be lost otherwise."""
        for number, states in enumerate(self.states):
            for row, column in zip(*np.nonzero(states == OPEN), strict=True):
                code = self.codes(number, np.array([row]), int(column))
                self.aside(
                    code, "stands where nothing is read", "declare it as not used, or look where it belongs"
                )

    def counts(self) -> dict[str, int]:
        """Filled cells in all, and what became of them; the parts are counted by themselves."""
        totals = np.zeros(5, dtype=int)
        for states in self.states:
            totals += np.bincount(states.ravel(), minlength=5)
        filled = sum(int((page.cells != "").sum()) for page in self.pages) + len(self.taken_out)
        return {
            "filled": filled,
            "read": int(totals[READ]),
            "aside": int(totals[ASIDE]),
            "unused": int(totals[UNUSED]),
        }

    def _mark(self, codes: np.ndarray, state: int) -> None:
        """What was set aside once stays so, and what is empty stays empty."""
        codes = np.asarray(codes, dtype=np.int64)
        for start in range(0, len(codes), _AT_ONCE):
            some = codes[start : start + _AT_ONCE]
            some = some[some >= 0]
            pages, rows, columns = parts_of(some)
            for page in np.unique(pages):
                here = pages == page
                states = self.states[page]
                now = states[rows[here], columns[here]]
                states[rows[here], columns[here]] = np.where((now == EMPTY) | (now == ASIDE), now, state)
