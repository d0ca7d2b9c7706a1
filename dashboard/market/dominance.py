"""Who is not beaten: those no other matches in every trait and betters in one (the Pareto set)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import pandas as pd

_SIGN = {"more": 1.0, "less": -1.0}
LARGEST = 64_000_000  # bytes for who beats whom
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


class Contest:
    """Who beats whom in each of many draws, found once; then of any selection of rows it is told at once how likely each is not
    beaten by another of them.

    ``drawn`` is (traits, draws, rows), ``signs`` 1 where more is better and -1 where less is. It takes draws × rows² / 8 bytes; of
    many rows only so many draws are kept as fit into ``LARGEST``.
    """

    def __init__(self, drawn: np.ndarray, signs: Sequence[float]):
        rows = drawn.shape[2]
        points = (
            drawn[:, : max(1, 8 * LARGEST // max(rows, 1) ** 2)]
            * np.asarray(signs, drawn.dtype)[:, None, None]
        )
        self._unknown = np.isnan(points).any(axis=0)  # (draws, rows)
        whole = np.zeros((points.shape[1], rows, 8 * -(-rows // 64)), dtype=np.uint8)
        for beaters, draw in zip(whole, points.transpose(1, 0, 2), strict=True):
            as_good, ahead = np.ones((rows, rows), dtype=bool), np.zeros((rows, rows), dtype=bool)
            for values in draw:
                as_good &= values >= values[:, None]
                ahead |= values > values[:, None]
            beaters[:, : -(-rows // 8)] = np.packbits(as_good & ahead, axis=1)
        self._beaters = whole.view(np.uint64)  # (draws, rows, words): a bit for each row that beats this one

    def chance(self, among: np.ndarray) -> np.ndarray:
        """(rows,) in what share of the draws each row of ``among`` (a mask) is not beaten by another of them; 0 for the rest, and
        in draws where it has a missing value."""
        answer = np.zeros(len(among))
        chosen = np.zeros(8 * self._beaters.shape[2], dtype=np.uint8)
        chosen[: -(-len(among) // 8)] = np.packbits(among)
        beaten = (self._beaters[:, among] & chosen.view(np.uint64)).any(axis=2)
        answer[among] = 1 - (beaten | self._unknown[:, among]).mean(axis=0)
        return answer
