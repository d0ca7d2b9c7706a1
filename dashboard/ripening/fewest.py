"""How few cultivars could fill a season at the least, whoever chooses them: a bound beside what ``filling`` found.

For any seasons A of those drawn a day needs covered in ``needed`` of them, so in at least ``needed`` - (seasons outside A) = k of A;
a cultivar picked in m of A brings at most min(m, k) of these, and ``least`` of them have to be there each time. So, x being 1
for who is in the set, sum of min(m, k) x >= least k holds for every set that covers the day: a cut. With x between 0 and 1 the fewest under all cuts are
the linear relaxation; it is made by adding, day by day, the cut that x breaks most (A: the seasons that x does not fill), and any
part of the cuts bounds already. With x whole the same cuts give the least there is, once x itself covers every day. Cuts truncated so: Wolsey (1982), Combinatorica 2: 385-393
(from memory). Solved by HiGHS through SciPy. What is bounded: the size of a set of these candidates, over these drawn seasons.
"""

from __future__ import annotations

import time
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, linprog, milp

from dashboard.ripening.filling import WORD, Filling
from dashboard.ripening.one_day import OneDay

ROUNDS, RISE = 25, 0.02  # of the relaxation; it ends when it rises by less
SLACK = 0.02  # of cuts that are let go
PART = 0.6  # of the time given, at the most for the sharper cuts of single days; what is left is for whole numbers
ROUNDING = 1e-6  # what the solver may be off by


@dataclass(frozen=True)
class Fewest:
    """No set that covers the possible days is smaller than ``least``; ``relaxed`` is the linear relaxation's figure, ``proven`` that
    a set of ``least`` was found that does, ``chosen``. ``seconds`` it took."""

    least: int
    relaxed: float
    proven: bool
    chosen: tuple[int, ...]
    seconds: float


def fewest(task: Filling, seconds: float = 0.0) -> Fewest:
    """The bound by the relaxation, and, while ``seconds`` last, by whole numbers. ``most`` does not count; shares and who is kept do.

    ValueError where no set has the shares that are asked for.
    """
    begun = time.monotonic()
    rows, relaxed = relaxed_by_seasons(task)
    if seconds and task.least == 1:
        rows, relaxed = _sharpened(task, rows, relaxed, begun + PART * seconds)
    least = int(np.ceil(relaxed - ROUNDING))
    count, given = len(task.fruit), _given(task)
    quotas = _quotas(task)
    while (left := seconds - (time.monotonic() - begun)) > 0:
        found = milp(
            np.ones(count), integrality=np.ones(count), bounds=Bounds(*given), options={"time_limit": left},
            constraints=[LinearConstraint(one, bound, np.inf) for one, bound in ((rows, 1.0), (quotas, 0.0)) if len(one)],
        )  # fmt: skip
        bound = found.mip_dual_bound
        if bound is not None and np.isfinite(bound):
            least = max(least, int(np.ceil(bound - ROUNDING)))
        if found.x is None:
            break
        chosen = tuple(np.flatnonzero(found.x > 0.5).tolist())
        more = np.vstack([broken_cuts(task, (found.x > 0.5).astype(float)), _further(task, chosen)])
        if not len(more):
            return Fewest(least, relaxed, len(chosen) == least, chosen, time.monotonic() - begun)
        rows = np.vstack([rows, more])
    return Fewest(least, relaxed, False, (), time.monotonic() - begun)


def relaxed_by_seasons(task: Filling) -> tuple[np.ndarray, float]:
    """Cuts (rows, candidates), each to be at least 1, and the fewest under them in parts of cultivars."""
    x, _ = _given(task)
    value = float(x.sum())
    rows = np.zeros((0, len(task.fruit)))
    for _ in range(ROUNDS):
        more = broken_cuts(task, x)
        if not len(more):
            break
        rows = np.vstack([rows[rows @ x < 1 + SLACK], more])
        before = value
        x, found = _least_parts(task, rows)
        value = max(value, found)
        if before and value - before < RISE:
            break
    return rows, value


def _sharpened(task: Filling, rows: np.ndarray, value: float, until: float) -> tuple[np.ndarray, float]:
    """The same with the days' sharper cuts, as far as they get ``until`` (``time.monotonic``)."""
    free, gained, days = task.free, np.inf, []
    for day in np.flatnonzero(task.asked):
        if time.monotonic() > until:
            break
        days.append(OneDay(task.fruit[free, day], int(task.asked[day])))
    while gained >= RISE:
        x, _ = _least_parts(task, rows)
        more = []
        for one in days:
            if time.monotonic() > until:
                break
            row = np.zeros(len(x))
            row[free] = one.cut(x[free])
            if row @ x < 1 - SLACK / 4:
                more.append(row)
        if not more:
            break
        rows = np.vstack([rows[rows @ x < 1 + SLACK], *more])
        before, value = value, max(value, _least_parts(task, rows)[1])
        gained = value - before
    return rows, value


def _least_parts(task: Filling, rows: np.ndarray) -> tuple[np.ndarray, float]:
    """(candidates,) the fewest in parts of cultivars under the cuts, and how many that is. ValueError where no set has the shares."""
    low, high = _given(task)
    quotas = _quotas(task)
    told = linprog(
        np.ones(len(low)), -np.vstack([rows, quotas]), -np.r_[np.ones(len(rows)), np.zeros(len(quotas))],
        bounds=np.c_[low, high], method="highs",
    )  # fmt: skip
    if told.x is None:
        raise ValueError(f"No set can be bounded: {told.message}")
    return told.x, float(told.fun)


def broken_cuts(task: Filling, x: np.ndarray) -> np.ndarray:
    """The cut of each day that ``x`` (candidates,) does not cover, scaled to be at least 1."""
    some = np.flatnonzero(x > 1e-9)
    rows = []
    for day in np.flatnonzero(task.asked):
        bits = np.unpackbits(task.fruit[some, day].view(np.uint8), axis=1)
        filled = (x[some] @ bits)[: task.seasons] / task.least
        if np.minimum(filled, 1).sum() >= task.asked[day] - 1e-4:
            continue
        outside = filled < 1 - 1e-9
        lacking = int(task.asked[day] - (task.seasons - outside.sum()))
        padded = np.zeros(-(-task.seasons // WORD) * WORD, dtype=bool)
        padded[: task.seasons] = outside
        inside = np.packbits(padded).view(np.uint64)
        brings = np.bitwise_count(task.fruit[:, day] & inside).sum(axis=1, dtype=np.int64)
        rows.append(np.minimum(brings, lacking) / (task.least * lacking))
    return np.array(rows) if rows else np.zeros((0, len(x)))


def _further(task: Filling, chosen: tuple[int, ...]) -> np.ndarray:
    """Where several are needed at once: for each day that the chosen leave bare, a set as large as can be that still does; one more
    than of that set there has to be."""
    if task.least == 1:
        return np.zeros((0, len(task.fruit)))
    rows = []
    for day in np.flatnonzero(task.reached(chosen) < task.asked):
        one = replace(task, fruit=task.fruit[:, day : day + 1], needed=task.needed[day : day + 1])
        inside = list(chosen)
        for at in sorted(set(task.free) - set(chosen), key=lambda at: one.often[at, 0]):
            if one.reached([*inside, at])[0] < one.needed[0]:
                inside.append(at)
        row = np.ones(len(task.fruit))
        row[inside] = 0.0
        rows.append(row)
    return np.array(rows) if rows else np.zeros((0, len(task.fruit)))


def _given(task: Filling) -> tuple[np.ndarray, np.ndarray]:
    """(candidates,) the least and the most that x may be."""
    low, high = np.zeros(len(task.fruit)), np.ones(len(task.fruit))
    high[list(task.barred)] = 0.0
    low[[at for at in task.kept if at not in task.barred]] = 1.0
    return low, high


def _quotas(task: Filling) -> np.ndarray:
    """(shares, candidates) rows, each to be at least 0."""
    rows = [np.array(quota.members, dtype=float) - quota.share for quota in task.quotas]
    return np.array(rows) if rows else np.zeros((0, len(task.fruit)))
