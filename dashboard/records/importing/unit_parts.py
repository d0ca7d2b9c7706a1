"""Samples of one sheet, or of one person in it, that read as another unit would have them, beside the other samples of their cultivars.

Somebody took another gauge and went on in the same column; where his fruit are firmer by themselves, the step is smaller than that between
two units. So the samples are looked at in the order in which they stand, for the stretch that is most surely off. The factors are those of
the units; how far seasons and cultivars differ is judgement.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import pandas as pd

from dashboard.records.importing.by_person import persons, placed
from dashboard.records.importing.facts import Facts
from dashboard.records.importing.figures import limited
from dashboard.records.importing.layouts import Layout
from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.mapping import Answers
from dashboard.records.importing.pages import Page
from dashboard.records.importing.roles import ROLES
from dashboard.records.importing.trial import Trial
from dashboard.records.problems import named_rows, quoted
from dashboard.terms.units import UNITS

READ = {
    "firmness": ("firmness 1", "firmness 2", "mean firmness"),
    "size": ("suture", "cross", "mean size"),
}
FEWEST = 4  # samples of a part, and of the others
AT_LEAST = float(np.log(1.5))  # nearer to their cultivars nothing is told
_USUAL = {"firmness": np.log(40.0), "size": np.log(65.0)}  # N and mm, at picking (common practice, no source)
SURELY = {"person": 4.0, "stretch": 6.0}  # standard errors: of many stretches one is far off by chance
_SPREAD, _UNSHARED = 0.25, 0.35  # of the log of a sample about its cultivar, and about all, at least
_MARKS = 1000  # places between which a stretch is looked for first, so that a sheet of many samples is looked through, too
_CLIPPED = 4.0  # of these, that one sample counts for at most
_SD_PER_MAD = 1.4826


def suspect_parts(
    shapes: Sequence[Layout], pages: Sequence[Page], answers: Answers, parts: Sequence[Facts], trial: Trial, ledger: Ledger
) -> None:  # fmt: skip
    """Flag, at its first cell, the part of a sheet that is most surely off; by person where a column says who read."""
    for what, roles in READ.items():
        samples = _samples(placed(parts, roles), trial, what)
        for page in samples["page"].unique():
            here = (samples["page"] == page).to_numpy()
            if page < 0 or here.sum() < 2 * FEWEST:
                continue
            people = [
                (f"by {heading} {quoted(word)}", mine & here)
                for heading, word, mine in persons(shapes, pages, answers, samples)
            ]
            told = _surely_off(samples, people, SURELY["person"]) or _surely_off(
                samples, [("", part) for part in _stretches(samples, here)], SURELY["stretch"]
            )
            if told:  # of two that stand against each other fruit at picking tells which may be the one
                name, mine, off = max(
                    told, key=lambda one: abs(float(samples["log"][one[1]].median()) - _USUAL[what])
                )
                _tell(what, name, samples[mine], off, ledger)


def _samples(cells: pd.DataFrame, trial: Trial, what: str) -> pd.DataFrame:
    """One row a sample that comes in or stands: cultivar, the log of its figures in SI, page and first and last row (-1: it stands)."""
    columns = ["cultivar", "log", "page", "row", "last", "code"]
    found = [pd.DataFrame(columns=columns)]
    if len(cells):
        limit = limited(cells["text"])
        cells = cells[(cells["value"].astype(float) > 0).to_numpy() & ~limit]
    if len(cells):
        cells = cells.assign(log=np.log(cells["value"].astype(float)), last=cells["row"])
        by_sample = cells.groupby(["part", "page", "appearance"], sort=False)
        found.append(
            by_sample.agg(
                cultivar=("cultivar", "first"),
                log=("log", "median"),
                row=("row", "min"),
                last=("last", "max"),
                code=("code", "min"),
            ).reset_index()
        )
    fruit, names = trial.frames["fruit"], [ROLES[name].column.name for name in READ[what][:2]]
    standing = fruit[names].mean(axis=1).where(lambda one: one > 0).dropna()
    if len(standing):
        owner = trial.frames["samples"].drop_duplicates("sample").set_index("sample")["cultivar"]
        logs = np.log(standing).groupby(fruit["sample"].reindex(standing.index)).median()
        found.append(
            pd.DataFrame(
                {
                    "cultivar": logs.index.map(owner),
                    "log": logs.to_numpy(),
                    "page": -1,
                    "row": -1,
                    "last": -1,
                    "code": -1,
                }
            )
        )
    whole = pd.concat([one for one in found if len(one)] or found, ignore_index=True)
    return whole.sort_values("code", kind="stable").reset_index(drop=True)


def _surely_off(
    samples: pd.DataFrame, parts: Sequence[tuple[str, np.ndarray]], surely: float
) -> list[tuple[str, np.ndarray, float]]:
    return [(name, part, off) for name, part in parts if (off := _off(samples, part, surely))]


def _off(samples: pd.DataFrame, part: np.ndarray, surely: float) -> float:
    """The log of how many times as large the samples of a part are as the others of their cultivars; 0 where that is not sure, or little."""
    others = samples[~part]
    if part.sum() < FEWEST or len(others) < FEWEST:
        return 0.0
    usual = samples["cultivar"].map(others.groupby("cultivar")["log"].median())[part].to_numpy(dtype=float)
    shared = np.isfinite(usual)
    logs, least = samples["log"][part].to_numpy(dtype=float), _SPREAD
    if shared.sum() < FEWEST:
        usual, shared, least = (
            np.full(len(logs), others["log"].median()),
            np.ones(len(logs), dtype=bool),
            _UNSHARED,
        )
    apart = logs[shared] - usual[shared]
    middle = float(np.median(apart))
    spread = max(least, _SD_PER_MAD * float(np.median(np.abs(apart - middle))))
    return middle if abs(middle) >= AT_LEAST and abs(middle) / spread * np.sqrt(len(apart)) >= surely else 0.0


def _stretches(samples: pd.DataFrame, here: np.ndarray) -> Iterator[np.ndarray]:
    """(n,) bool: of a page the samples on end that lie most surely off all others, as they are, and beside their cultivars."""
    logs = samples["log"]
    for centered in (
        logs - logs[here].median(),
        logs - logs.groupby(samples["cultivar"]).transform("median"),
    ):
        values = centered[here].to_numpy(dtype=float)
        spread = max(_SPREAD, _SD_PER_MAD * float(np.median(np.abs(np.diff(values)))) / np.sqrt(2))
        values = np.clip(values, -_CLIPPED * spread, _CLIPPED * spread)
        sums, number = np.r_[0.0, np.cumsum(values)], len(values)
        step = max(1, number // _MARKS)
        first, last = _surest(sums, np.arange(0, number + 1, step), np.arange(0, number + 1, step))
        if step > 1:  # of many samples roughly, then one by one about both ends
            near = np.arange(-step, step + 1)
            first, last = _surest(sums, np.clip(first + near, 0, number), np.clip(last + near, 0, number))
        part = np.zeros(len(samples), dtype=bool)
        part[np.flatnonzero(here)[first:last]] = True
        yield part
        if first == 0 or last == number:
            yield here & ~part


def _surest(sums: np.ndarray, first: np.ndarray, last: np.ndarray) -> tuple[int, int]:
    """The stretch between one place of ``first`` and one of ``last`` whose mean is most surely another than that of the others."""
    number = len(sums) - 1
    count = last[None, :] - first[:, None]
    may = (count >= FEWEST) & (2 * count <= number)
    some = np.where(may, count, 1)
    inside = sums[last][None, :] - sums[first][:, None]
    off = np.abs(inside - sums[-1] * some / number) / np.sqrt(some * (number - some) / number)
    best = np.unravel_index(int(np.where(may, off, -1.0).argmax()), off.shape)
    return int(first[best[0]]), int(last[best[1]])


def _tell(what: str, name: str, samples: pd.DataFrame, off: float, ledger: Ledger) -> None:
    code = int(samples["code"].iloc[0])
    numbers = ledger.place(code)[0].rows
    rows = sorted({int(row) for one in zip(samples["row"], samples["last"], strict=True) for row in one})
    where = (
        f"rows {numbers[rows[0]]} to {numbers[rows[-1]]}"
        if not name
        else named_rows([int(numbers[row]) for row in samples["row"]])
    )
    times = f"{np.exp(off):.1f} times" if off > 0 else f"1/{np.exp(-off):.1f} of"
    rule = " ".join(
        filter(
            None,
            (
                f"begins {what} of {len(samples):,} samples",
                name,
                f"({where}) that is {times} what it is in the other samples of their cultivars",
            ),
        )
    )
    ledger.flag(code, rule, f"look whether they were read in another unit: {_likely(what, off)}")


def _likely(what: str, off: float) -> str:
    """The two units whose factor is nearest, the one that was likely read first."""
    units = {name: UNITS[name] for name in ROLES[READ[what][0]].units}
    pairs = [
        (read, headed, np.log(headed_unit.to_si(1.0) / read_unit.to_si(1.0)))
        for read, read_unit in units.items()
        for headed, headed_unit in units.items()
        if read != headed
    ]
    read, headed, _ = min(pairs, key=lambda one: abs(one[2] - off))
    return f"{UNITS[read].symbol} under {UNITS[headed].symbol}"
