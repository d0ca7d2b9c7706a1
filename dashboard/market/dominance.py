"""Who is not beaten: those no other matches in every trait and betters in one (the Pareto set)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import pandas as pd

_SIGN = {"more": 1.0, "less": -1.0}
_AT_ONCE = 500  # rows compared with all others in one go: bounds the memory at 500 × n × traits


def not_beaten(frame: pd.DataFrame, better: Mapping[str, str]) -> np.ndarray:
    """One True or False a row of ``frame``; ``better`` says "more" or "less" of each column compared.

    A row is beaten when another is at least as good in every column and better in one. Rows with a missing
    value are never in and beat nobody; exact ties all stay.
    """
    for key, way in better.items():
        if way not in _SIGN:
            raise ValueError(f"{key}: {way!r}; more or less")
    points = np.empty((len(frame), len(better)))
    for column, (key, way) in enumerate(better.items()):
        points[:, column] = _SIGN[way] * frame[key].to_numpy(dtype=float, na_value=np.nan)
    complete = ~np.isnan(points).any(axis=1)
    among = points[complete]
    standing = np.ones(len(among), dtype=bool)
    for start in range(0, len(among), _AT_ONCE):
        rows = among[start : start + _AT_ONCE]
        as_good = np.ones((len(rows), len(among)), dtype=bool)
        ahead = np.zeros_like(as_good)
        for column in range(points.shape[1]):  # column by column: no rows × rows × traits block
            mine, theirs = rows[:, column, None], among[None, :, column]
            as_good &= theirs >= mine
            ahead |= theirs > mine
        standing[start : start + _AT_ONCE] = ~(as_good & ahead).any(axis=1)
    answer = np.zeros(len(frame), dtype=bool)
    answer[complete] = standing
    return answer


def chance_not_beaten(drawn: np.ndarray, signs: Sequence[float]) -> np.ndarray:
    """(rows,) in what share of the draws each row is not beaten; ``drawn`` is (traits, draws, rows), ``signs`` 1 where more is
    better and -1 where less is. Rows with a missing value are never in.

    In every draw at once: of those undecided the one with the largest sum is beaten by nobody; whom it beats is decided, and
    so is it; until nobody is left.
    """
    points = drawn * np.asarray(signs, dtype=drawn.dtype)[:, None, None]
    count, rows = points.shape[1:]
    if not rows:
        return np.zeros(0)
    # Any scale would do; that of one draw finds them soon.
    size = np.nan_to_num(points[:, 0]).std(axis=1)[:, None, None]
    total = (points / np.where(size > 0, size, 1)).sum(axis=0)
    undecided = np.isfinite(total)
    among = np.arange(
        rows
    )  # which columns are still looked at: most are beaten in every draw after a few rounds
    standing = np.zeros(rows)
    every = np.arange(count)
    while undecided.any():
        best = np.where(undecided, total, -np.inf).argmax(axis=1)
        found = undecided[every, best]
        standing += np.bincount(among[best[found]], minlength=rows)
        undecided[every, best] = False
        # As good in everything and better in something: as good in everything, and larger in sum.
        beaten = (total < total[every, best][:, None]) & found[:, None]
        for trait in points:
            beaten &= trait <= trait[every, best][:, None]
        undecided &= ~beaten
        left = undecided.any(axis=0)
        if left.sum() < 0.7 * len(left):
            among, undecided, total = among[left], undecided[:, left], total[:, left]
            points = points[:, :, left]
    return standing / count
