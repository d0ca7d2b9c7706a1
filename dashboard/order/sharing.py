"""Fruit for two buyers: what each could have, what both could have at once, and how it is split.

Of a season's fruit Q1 suits the first buyer, Q2 the second, and Q either of them; they want D1 and D2. Whatever the split, the first gets
F1 = min(Q1, D1) at the most, the second F2 = min(Q2, D2), both together F = min(Q, Q1 + D2, Q2 + D1, D1 + D2): the least cut of the flow from
fruit to buyers. All three are concave in the trees. Over seasons there is a split with means of at least f D1 and f D2 if, and only if, the means of F1, F2
and F reach f D1, f D2 and f (D1 + D2): sets of splits add up as their bounds do (McDiarmid 1975, Proceedings of the American Mathematical Society 50: 43-46, from memory).
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np


class Columns(NamedTuple):
    """Of weeks in which both buyers want fruit: the places of both together, of the first and of the second."""

    both: np.ndarray
    first: np.ndarray
    second: np.ndarray


def columns(weeks: np.ndarray, many: int) -> Columns:
    """``weeks`` are places among those of the first buyer, then of the second, then of both: ``many`` each, 0 where there is one buyer."""
    both = np.flatnonzero(weeks >= 2 * many) if many else np.array([], dtype=int)
    return Columns(
        both,
        np.searchsorted(weeks, weeks[both] - 2 * many),
        np.searchsorted(weeks, weeks[both] - many),
    )


def bounds(brought: np.ndarray, wanted: np.ndarray, at: Columns) -> np.ndarray:
    """(4, seasons, weeks of both) what bounds the fruit for both: Q, Q1 + D2, Q2 + D1, D1 + D2."""
    both, first, second = at
    every = np.broadcast_to(wanted[both], brought[:, both].shape)
    return np.stack(
        [brought[:, both], brought[:, first] + wanted[second], brought[:, second] + wanted[first], every]
    )


def proportion(met: np.ndarray, wanted: np.ndarray, at: Columns) -> np.ndarray:
    """(weeks of both,) 0 to 1: how far the first buyer goes first where fruit that suits both is too little, so that both have the same share of what they
    want on average, as far as their fruit allows. ``met`` (seasons, weeks) holds F1, F2 and F."""
    first, second, both = met[:, at.first].mean(axis=0), met[:, at.second].mean(axis=0), met[:, at.both].mean(axis=0)  # fmt: skip
    alike = wanted[at.first] / wanted[at.both] * both
    contested = first + second - both
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.nan_to_num(np.clip((alike - (both - second)) / contested, 0, 1), nan=0.5)


def split(met: np.ndarray, part: np.ndarray, at: Columns) -> np.ndarray:
    """The same with what each buyer gets in the place of what he could have."""
    told = met.copy()
    most, least = met[:, at.first], met[:, at.both] - met[:, at.second]
    told[:, at.first] = part * most + (1 - part) * least
    told[:, at.second] = met[:, at.both] - told[:, at.first]
    return told
