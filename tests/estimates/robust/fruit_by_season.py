"""80 % of the fruit over all seasons together, and in each season: what the season to come of ``levels`` brings.

A season moves the mean of all its fruit, so a cultivar with 80 % of its fruit over a limit has fewer in about every second season.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from scipy import stats

from dashboard.estimates import worth
from dashboard.estimates.shares import seasons_with_share, share_of_fruit
from tests.estimates.robust.levels import CASES, SAMPLE, WITHIN, Levels, drawn

SHARE, NEAR = 0.8, 0.05
AWAY = np.arange(-12.0, 1.0, 1.0)  # mm from what is usual at the site: where the limits lie


def reached(case: Levels, sets: range) -> dict[str, float]:
    """In what part of the seasons to come the true share of fruit over the limit is SHARE at least: of cultivars told to have about
    that share over all seasons, and of those told to have it in 8 seasons of 10; and of all, the part told and the part that came."""
    over_all, in_eight, told, came = [], [], [], []
    for seed in sets:
        frame, coming, usual, _ = drawn(case, seed)
        found = worth(frame, "size")
        means = found.at["East"]["estimate"].to_numpy()
        for limit in usual + AWAY:
            true = stats.norm.sf((limit - coming) / np.hypot(SAMPLE, WITHIN)) >= SHARE
            for seasons, kept in ((None, over_all), (8.0, in_eight)):
                share = share_of_fruit(found, means, limit, None, "East", seasons)
                kept += true[np.abs(share - SHARE) < NEAR].tolist()
            told += [seasons_with_share(found, mean, limit, None, SHARE, "East") / 10 for mean in means[::5]]
            came += true[::5].tolist()
    sure = np.abs(np.array(told) - 0.5) < 0.4
    return {
        "80 % over all seasons": float(np.mean(over_all)), "80 % in 8 of 10": float(np.mean(in_eight)),
        "told": float(np.mean(np.array(told)[sure])), "came": float(np.mean(np.array(came)[sure])),
    }  # fmt: skip


def rows(count: int) -> Iterator[str]:
    for case in CASES:
        yield f"{case}: " + ", ".join(
            f"{name} {value:.3f}" for name, value in reached(case, range(count)).items()
        )
