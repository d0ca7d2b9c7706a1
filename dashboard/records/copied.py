"""Fruit that were copied: from one column of a sample to the other, or from one sample to another.

Told where chance would hardly do it: a run of equal values is the less likely the more fruit it has and the rarer its
values are in the whole column.

Two honest samples hardly share a fruit. Counted on the demo, 5,073 samples of ten fruit, 12.9 million pairs of samples, with all five figures
of a fruit rounded as people read them:

| read to                             | pairs that share 1 | 2     | 3  |
|-------------------------------------|--------------------|-------|----|
| 0.1 mm, 0.1 N, 0.1 °Brix            | 0                  | 0     | 0  |
| 1 mm, 0.5 lbf, 0.5 °Brix            | 1,720              | 1     | 0  |
| 1/16 in, 1 lbf, 1 °Brix             | 31,145             | 103   | 0  |
| 1/8 in, 1 lbf, 1 °Brix              | 110,074            | 1,324 | 15 |

So three say it at the usual resolutions. Where the figures are coarser, more have to: the pairs that share one fruit say how coarse they are.
"""

from __future__ import annotations

from math import factorial

import numpy as np
import pandas as pd

from dashboard.records.findings import Findings
from dashboard.records.keys import located
from dashboard.records.problems import quoted

FEWEST = 5  # fruit of a sample
CHANCE = 0.01  # of one such run, or pair, in the whole table
SHARED = 3  # fruit with all figures the same, at least
LIKE = 10  # times as often as any two do, at most, two samples that are alike share a fruit; by the table three times would do
MOST = 3_000_000  # pairs of fruit with the same figures; where there are more, they say nothing
PAIRS = (("suture_mm", "cross_mm"), ("firmness_1_n", "firmness_2_n"))
COLUMNS = ("suture_mm", "cross_mm", "firmness_1_n", "firmness_2_n", "ssc_brix")


def suspect_copies(fruit: pd.DataFrame, samples: pd.DataFrame, findings: Findings) -> None:
    """Flag runs of fruit in which two columns are the same, and samples with fruit or a column of an earlier sample, one flag a pair; both
    tables as they stand in the file, by the numbers of their rows."""
    for one, other in PAIRS:
        _beside(fruit, one, other, findings)
    owner, names = pd.factorize(fruit["sample"])  # numbered as they stand in the file
    columns: dict[tuple[int, int], list[str]] = {}
    for column in COLUMNS:
        for pair in _again(fruit, column, owner):
            columns.setdefault(pair, []).append(column)
    shared = _shared(fruit, owner)
    rule = "has the values of another sample for all its {} fruit, in the same order"
    found = {pair: (", ".join(under), rule) for pair, under in columns.items()}
    found |= {pair: ("", f"has all figures of another sample in {count} of its {{}} fruit") for pair, count in shared.items()}  # fmt: skip
    if not found:
        return
    rows = fruit.index.to_series().groupby(owner)
    at, count = rows.min(), rows.size()
    days = samples.drop_duplicates("sample").set_index("sample")
    for (first, again), (column, rule) in sorted(found.items()):
        where = [located(findings.sheet), f"row {at[first]}"]
        if names[first] in days.index:
            one = days.loc[names[first]]
            where = [f"{one['date']:%Y-%m-%d}", one["cultivar"], one["site"], *where]
        findings.flag(
            int(at[again]), column, str(names[again]), rule.format(count[again]),
            f"look whether {quoted(names[again])} was copied from {quoted(names[first])} ({', '.join(where)})",
        )  # fmt: skip


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
            owner = both["sample"].iloc[[start, end - 1]].astype(str).tolist()
            last = (
                f", up to fruit {both['fruit'].iloc[end - 1]:g} of {quoted(owner[1])},"
                if owner[0] != owner[1]
                else ""
            )
            findings.flag(
                int(both.index[start]), f"{one}, {other}", owner[0], f"begins {end - start} fruit on end{last} with the same value in both columns",
                "look whether one column was copied into the other",
            )  # fmt: skip


def _again(fruit: pd.DataFrame, column: str, owner: np.ndarray) -> list[tuple[int, int]]:
    """Pairs of samples, the one that stands first and another, with the same values in the same order of fruit."""
    measured = np.flatnonzero(fruit[column].notna().to_numpy())
    measured = measured[np.lexsort((fruit["fruit"].to_numpy()[measured], owner[measured]))]
    values, owner = fruit[column].to_numpy(dtype=float)[measured], owner[measured]
    if len(values) < 2 * FEWEST:
        return []
    _, code, counts = np.unique(values, return_inverse=True, return_counts=True)
    rarity = np.log(counts / len(values))[code]
    starts = np.flatnonzero(np.r_[True, owner[1:] != owner[:-1]])
    ends = np.r_[starts[1:], len(values)]
    likely = np.add.reduceat(rarity, starts) + np.log(len(starts) ** 2 / 2)
    rare = (ends - starts >= FEWEST) & (likely < np.log(CHANCE))
    seen: dict[bytes, int] = {}
    pairs = []
    for start, end in zip(starts[rare], ends[rare], strict=True):
        first = seen.setdefault(values[start:end].tobytes(), int(owner[start]))
        if first != owner[start]:
            pairs.append((first, int(owner[start])))
    return pairs


def _shared(fruit: pd.DataFrame, owner: np.ndarray) -> dict[tuple[int, int], int]:
    """By pair of samples, the one that stands first and another, how many fruit have the same figures in both, where that is hardly chance."""
    code, measured = np.zeros(len(fruit), dtype=np.int64), np.zeros(len(fruit), dtype=np.int64)
    for column in COLUMNS:
        values = fruit[column].to_numpy(dtype=float)
        own, distinct = pd.factorize(values, use_na_sentinel=False)
        code = pd.factorize(code * max(1, len(distinct)) + own)[0]
        measured = 2 * measured + ~np.isnan(values)
    found: dict[tuple[int, int], int] = {}
    for kind in np.unique(measured):  # a fruit with two figures is like another sooner than one with five
        here = measured == kind
        if int(kind).bit_count() > 1:
            found |= _hardly_chance(*_pairs(code[here], owner[here]), len(np.unique(owner[here])))
    firsts: dict[int, set[int]] = {}
    for first, again in found:
        firsts.setdefault(again, set()).add(first)
    return {pair: count for pair, count in found.items() if not firsts.get(pair[0], set()) & firsts[pair[1]]}  # fmt: skip


def _pairs(code: np.ndarray, owner: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(n, 2) pairs of samples that share a fruit, and (n,) how many; none where nearly all do."""
    samples = int(owner.max(initial=0)) + 1
    code, owner = np.divmod(np.unique(code * samples + owner), samples)
    starts = np.flatnonzero(np.diff(code, prepend=-1))
    sizes = np.diff(np.r_[starts, len(code)])
    pairs = [np.zeros((0, 2), dtype=int)]
    if (sizes * (sizes - 1) // 2).sum() <= MOST:
        for size in np.unique(sizes[sizes > 1]):
            together = owner[starts[sizes == size][:, None] + np.arange(size)]
            pairs += [together[:, [one, other]] for one in range(size) for other in range(one + 1, size)]
    return np.unique(np.concatenate(pairs), axis=0, return_counts=True)


def _hardly_chance(pairs: np.ndarray, counts: np.ndarray, samples: int) -> dict[tuple[int, int], int]:
    """Of ``_pairs`` among so many samples those that share so many fruit that not one such pair in a hundred tables is to be expected.

    Were all samples alike, pairs that share k fruit would be as many as Poisson's law has them from those that share one; where some are LIKE
    times as like, at most LIKE ** (k - 1) times as many.
    """
    single, every = int((counts == 1).sum()), max(1, samples * (samples - 1) // 2)
    least = SHARED
    while single * (LIKE * single / every) ** (least - 1) / factorial(least) >= CHANCE:
        least += 1
    some = counts >= least
    return {(int(first), int(again)): int(count) for (first, again), count in zip(pairs[some], counts[some], strict=True)}  # fmt: skip
