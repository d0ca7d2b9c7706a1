"""Columns of fruit that were copied: from one column of a sample to the other, or from one sample to the next.

Told where chance would hardly do it: a run of equal values is the less likely the more fruit it has and the rarer its
values are in the whole column.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

from dashboard.records.findings import Findings
from dashboard.records.problems import quoted

FEWEST = 5  # fruit of a sample
CHANCE = 0.01  # of one such run in the whole table
PAIRS = (("suture_mm", "cross_mm"), ("firmness_1_n", "firmness_2_n"))
COLUMNS = ("suture_mm", "cross_mm", "firmness_1_n", "firmness_2_n", "ssc_brix")


def suspect_copies(fruit: pd.DataFrame, findings: Findings) -> None:
    """Flag runs of fruit in which two columns are the same, and samples that have a column of an earlier sample."""
    for one, other in PAIRS:
        _beside(fruit, one, other, findings)
    whole = fruit.sort_values(["sample", "fruit"], kind="stable")
    for column in COLUMNS:
        _again(whole, column, findings)


def _beside(fruit: pd.DataFrame, one: str, other: str, findings: Findings) -> None:
    """The same value in both columns, fruit after fruit; ``fruit`` stand as in the file."""
    both = fruit[(fruit[one].notna() & fruit[other].notna()).to_numpy()]
    same = (both[one] == both[other]).to_numpy()
    edges = np.flatnonzero(np.diff(np.r_[False, same, False].astype(int)))
    runs = [(start, end) for start, end in edges.reshape(-1, 2).tolist() if end - start >= FEWEST]
    within = sum(end - start for start, end in runs)
    by_chance = (same.sum() - within) / max(1, len(same) - within)
    for start, end in runs:
        if len(same) * by_chance ** (end - start) < CHANCE:
            findings.flag(
                int(both.index[start]), f"{one}, {other}", str(both["sample"].iloc[start]), f"begins {end - start} fruit on end with the same value in both columns",
                "look whether one column was copied into the other",
            )  # fmt: skip


def _again(fruit: pd.DataFrame, column: str, findings: Findings) -> None:
    """The same values in the same order as in an earlier sample; ``fruit`` stand sample by sample."""
    measured = fruit[fruit[column].notna().to_numpy()]
    values, owner = measured[column].to_numpy(dtype=float), measured["sample"].to_numpy()
    if len(values) < 2 * FEWEST:
        return
    _, code, counts = np.unique(values, return_inverse=True, return_counts=True)
    rarity = np.log(counts / len(values))[code]
    starts = np.flatnonzero(np.r_[True, owner[1:] != owner[:-1]])
    ends = np.r_[starts[1:], len(values)]
    likely = np.add.reduceat(rarity, starts) + np.log(len(starts) ** 2 / 2)
    rows = measured.index.to_numpy()
    seen: dict[bytes, str] = {}
    for place in np.argsort(rows[starts], kind="stable"):  # as they stand in the file
        start, end = starts[place], ends[place]
        if end - start < FEWEST or likely[place] >= np.log(CHANCE):
            continue
        first = seen.setdefault(values[start:end].tobytes(), owner[start])
        if first != owner[start]:
            findings.flag(
                int(rows[start:end].min()), column, str(owner[start]), f"has the values of {quoted(first)} for all its {end - start} fruit, in the same order",
                "look whether the column was copied from there",
            )  # fmt: skip
