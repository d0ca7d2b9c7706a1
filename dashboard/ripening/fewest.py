"""How few cultivars could fill a season at the least, whoever chooses them: a bound beside what ``filling`` found.

For any seasons A of those drawn a day needs covered in ``needed`` of them, so in at least ``needed`` - (seasons outside A) = k of A;
a cultivar picked in m of A brings at most min(m, k) of these, and ``least`` of them have to be there each time. So, x being 1
for who is in the set, sum of min(m, k) x >= least k holds for every set that covers the day: a cut. With x between 0 and 1 the fewest under all cuts are
the linear relaxation; it is made by adding, day by day, the cut that x breaks most (A: the seasons that x does not fill), and any
part of the cuts bounds already. With x whole the same cuts give the least there is, once x itself covers every day. Cuts truncated so: Wolsey (1982), Combinatorica 2: 385-393
(from memory). Solved by HiGHS through SciPy. Where one at once is enough, ``chains`` are quicker and bound more. What is bounded: the size of a set of these
candidates, over these drawn seasons.
"""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, linprog, milp

from dashboard.ripening.chains import covering
from dashboard.ripening.filling import WORD, Filling

ROUNDS, RISE = 25, 0.02  # of the relaxation; it ends when it rises by less
SLACK = 0.02  # of cuts that are let go
PART = 0.8  # of the time given, at the most for chains; what is left is for whole numbers
ROUNDING = 1e-6  # what the solver may be off by


@dataclass(frozen=True)
class Fewest:
    """No set that covers the possible days is smaller than ``least``; ``relaxed`` is the linear relaxation's figure. ``chosen``: the smallest
    set known that does; ``proven`` that it is one of ``least``. ``seconds`` it took."""

    least: int
    relaxed: float
    proven: bool
    chosen: tuple[int, ...]
    seconds: float


def fewest(task: Filling, seconds: float = 0.0, known: Sequence[int] = ()) -> Fewest:
    """The bound by the relaxation, and, while ``seconds`` last, by chains and whole numbers; ``known`` is a set that was found already, () where
    none was. ``most`` does not count; shares and who is kept do.

    ValueError where no set has the shares that are asked for.
    """
    begun = time.monotonic()
    rows, relaxed = relaxed_by_seasons(task)
    least = int(np.ceil(relaxed - ROUNDING))
    chosen = tuple(known) if _fills(task, known) else ()
    if seconds and task.least == 1 and task.asked.any():
        least, chosen = _by_chains(task, least, chosen, begun + PART * seconds)
    count, given = len(task.fruit), _given(task)
    quotas = _quotas(task)
    while not (proven := len(chosen) <= least and _fills(task, chosen)):
        if (left := seconds - (time.monotonic() - begun)) <= 0:
            break
        found = milp(
            np.ones(count), integrality=np.ones(count), bounds=Bounds(*given), options={"time_limit": left},
            constraints=[LinearConstraint(one, bound, np.inf) for one, bound in ((rows, 1.0), (quotas, 0.0)) if len(one)],
        )  # fmt: skip
        bound = found.mip_dual_bound
        if bound is not None and np.isfinite(bound):
            least = max(least, int(np.ceil(bound - ROUNDING)))
        if found.x is None:
            break
        tried = tuple(np.flatnonzero(found.x > 0.5).tolist())
        rows = np.vstack([rows, _broken_cuts(task, (found.x > 0.5).astype(float)), _further(task, tried)])
        chosen = tried if _fills(task, tried) else chosen
    return Fewest(least, relaxed, proven, chosen, time.monotonic() - begun)


def _by_chains(
    task: Filling, least: int, chosen: tuple[int, ...], until: float
) -> tuple[int, tuple[int, ...]]:
    """The bound and the set, from the set's size down, or where that is not decided from the bound's up."""
    while chosen and len(chosen) > least and (fewer := covering(task, len(chosen) - 1, until)) is not None:
        if not fewer:
            return len(chosen), chosen
        if not _fills(task, fewer):  # it lacks of the shares
            break
        chosen = fewer
    while (not chosen or least < len(chosen)) and (found := covering(task, least, until)) is not None:
        if found:
            return least, found if _fills(task, found) else chosen
        least += 1
    return least, chosen


def _fills(task: Filling, chosen: Sequence[int]) -> bool:
    """Whether they cover every possible day, have the shares and are among them who is kept."""
    free = set(task.free.tolist())
    return set(task.kept) & free <= set(chosen) <= free and task.standing(chosen)[:2] == (0, 0)


def relaxed_by_seasons(task: Filling) -> tuple[np.ndarray, float]:
    """Cuts (rows, candidates), each to be at least 1, and the fewest under them in parts of cultivars."""
    x, _ = _given(task)
    value = float(x.sum())
    rows = np.zeros((0, len(task.fruit)))
    for _ in range(ROUNDS):
        more = _broken_cuts(task, x)
        if not len(more):
            break
        rows = np.vstack([rows[rows @ x < 1 + SLACK], more])
        before = value
        x, found = _least_parts(task, rows)
        value = max(value, found)
        if before and value - before < RISE:
            break
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


def _broken_cuts(task: Filling, x: np.ndarray) -> np.ndarray:
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
