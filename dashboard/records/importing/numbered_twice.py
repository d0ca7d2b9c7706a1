"""A fruit number that stands twice in one sample: a slip of one row, not another sample, and told with both rows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import pandas as pd

from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.rows import Keyed
from dashboard.records.problems import listed

_FEW, _PART = (
    3,
    4,
)  # rows that stand again, below which, or a part of the sample's fruit below which, they are slips


def numbered_twice(
    appearance: np.ndarray, keys: Mapping[str, np.ndarray], number: np.ndarray, numbers: int, measured: Sequence[int], kept: Keyed, ledger: Ledger
) -> tuple[np.ndarray, np.ndarray]:  # fmt: skip
    """The ``appearance`` of each row, where a few rows repeat a ``number`` of the sample before that of the sample, and (n,) bool the rows
    set aside for it: those whose figures, in the columns ``measured``, are most of them another's. ``numbers``: the column of the numbers."""
    aside = np.zeros(len(number), dtype=bool)
    if numbers < 0 or not len(measured) or not number.any():
        return appearance, aside
    appearance = appearance.copy()
    samples = pd.DataFrame(dict(keys)).groupby(list(keys), sort=False, dropna=False).ngroup().to_numpy()
    cells = kept.block.page.cells[kept.rows[:, None], np.array(measured)]
    for of_sample in pd.Series(appearance).groupby(samples).unique():
        for again in of_sample[1:]:
            rows = np.flatnonzero(appearance == again)
            for first in of_sample[of_sample != again]:
                there = np.flatnonzero(appearance == first)
                if (
                    len(rows) >= max(_FEW, len(there) / _PART)
                    or not np.isin(number[rows], number[there]).all()
                ):
                    continue
                for row in map(int, rows):
                    before = int(there[number[there] == number[row]][0])
                    if _another(cells[row], cells[before]):
                        aside[row] = True
                        _tell(row, before, number[there], numbers, kept, ledger)
                appearance[rows] = first
                break
    return appearance, aside


def _another(row: np.ndarray, before: np.ndarray) -> bool:
    """Whether most of what both rows hold differs."""
    both = (row != "") & (before != "")
    return bool(2 * (both & (row != before)).sum() > both.sum())


def _tell(row: int, before: int, there: np.ndarray, numbers: int, kept: Keyed, ledger: Ledger) -> None:
    page, at = kept.block.page, int(kept.rows[row])
    free = [number for number in range(1, int(there.max()) + 2) if number not in there]
    columns = [
        numbers,
        *(column for column in np.flatnonzero(page.cells[at] != "").tolist() if column != numbers),
    ]
    codes = [int(ledger.codes(kept.page, np.array([at]), column)[0]) for column in columns]
    rule = f"is the number of the fruit in row {page.rows[kept.rows[before]]}, too, of the same sample; the row is set aside"
    ledger.aside(
        codes,
        rule,
        f"write its own number, like {listed(map(str, free[:2]), 'or')}; the other row may be the one that is wrong",
    )
