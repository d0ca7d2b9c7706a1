"""How far the ranking hangs on the weights: nobody knows to a tenth what a wish weighs.

Every weight is moved up and down by as much as ``BY``, in all combinations. Whether one cultivar stands before another depends
on a sum that is linear in the weights, so if it does in all these corners it does everywhere between them.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

import numpy as np
import pandas as pd

from dashboard.market.prospects import scores

BY = 0.30
MOST_CORNERS = 64
SEED = 5


def corners(weights: Sequence[float]) -> np.ndarray:
    """(corners, wishes) the weights moved; all combinations of up and down or, of many wishes, MOST_CORNERS drawn once."""
    moved = np.asarray(weights, dtype=float)[:, None] * [1 - BY, 1 + BY]
    if 2 ** len(weights) <= MOST_CORNERS:
        return np.array(list(product(*moved)))
    ends = np.random.default_rng(SEED).integers(0, 2, (MOST_CORNERS, len(weights)))
    return moved[np.arange(len(weights)), ends]


def shaken(weights: Sequence[float], logs: Sequence[np.ndarray], expected: np.ndarray) -> np.ndarray:
    """(corners, cultivars) expected scores with the weights moved. ``logs`` may be of fewer draws than ``expected`` rests
    on: only the change is taken from them."""
    base = scores(weights, logs).mean(axis=0)
    return np.stack([expected + scores(moved, logs).mean(axis=0) - base for moved in corners(weights)])


def places(moved: np.ndarray, expected: np.ndarray, among: np.ndarray) -> pd.DataFrame:
    """Place of each cultivar of ``among`` (True or False) as the weights stand, and the foremost and hindmost that it does not
    leave as they move: who leads whom is settled pair by pair, as the corners of one may not be those of another. Index the cultivars' rows, columns place, foremost, hindmost. Without a score a cultivar has no place."""
    rows = np.flatnonzero(among & np.isfinite(expected))
    stand = _ranks(expected[None, rows])[0]
    always, ever = np.ones((len(rows), len(rows)), dtype=bool), np.zeros((len(rows), len(rows)), dtype=bool)
    for score in moved[:, rows]:  # corner by corner: no corners × rows × rows block
        ahead = score > score[:, None]
        always &= ahead
        ever |= ahead
    # Whoever leads in every corner leads everywhere; whoever leads in some may do so where others, leading in others, do too.
    return pd.DataFrame(
        {
            "place": stand,
            "foremost": np.minimum(1 + always.sum(axis=1), stand),
            "hindmost": np.maximum(1 + ever.sum(axis=1), stand),
        },
        index=rows,
    )


def _ranks(score: np.ndarray) -> np.ndarray:
    """1 for the highest in each row; equals in the order they stand."""
    order = np.argsort(-score, axis=1, kind="stable")
    ranks = np.empty_like(order)
    np.put_along_axis(ranks, order, np.arange(1, score.shape[1] + 1)[None, :], axis=1)
    return ranks
