"""What became of every filled cell: read, set aside, or declared as not used."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.records.findings import Findings
from dashboard.records.sheets import Sheet


@dataclass(frozen=True)
class Account:
    """Of one table, or of a file or sheet that is none: its rows under the headings, and their filled cells.

    ``read`` is counted on the rows and columns that were loaded, ``aside`` and ``unused`` on what was not, each by itself:
    that they add up to ``filled`` is what shows that nothing was lost on the way.
    """

    rows: int = 0
    loaded: int = 0
    filled: int = 0
    read: int = 0
    aside: int = 0
    unused: int = 0

    def __add__(self, other: Account) -> Account:
        return Account(
            self.rows + other.rows, self.loaded + other.loaded, self.filled + other.filled,
            self.read + other.read, self.aside + other.aside, self.unused + other.unused,
        )  # fmt: skip


def account(findings: Findings, frame: pd.DataFrame) -> Account:
    """Of a sheet that was read; ``frame`` holds the rows that were loaded, by their numbers."""
    sheet = findings.sheet
    filled = sheet.filled
    kept = np.isin(sheet.rows, [*frame.index, *findings.twice])
    read = np.zeros_like(filled)
    read[findings.read] = kept
    return Account(
        rows=len(sheet) + len(sheet.torn),
        loaded=len(frame),
        filled=int(filled.sum()) + sheet.torn_cells,
        read=int((filled & read & ~findings.alone).sum()),
        aside=int((filled & findings.gone & ~findings.unused).sum()) + sheet.torn_cells,
        unused=int((filled & findings.unused).sum()),
    )


def left_out(sheet: Sheet, unused: bool) -> Account:
    """Of a sheet that was not read as a table: all of it is set aside, or declared as not used."""
    cells = int(sheet.filled.sum()) + sheet.torn_cells
    rows = len(sheet) + len(sheet.torn)
    return Account(rows, 0, cells, 0, 0 if unused else cells, cells if unused else 0)


def total(accounts: Iterable[Account]) -> Account:
    return sum(accounts, Account())
