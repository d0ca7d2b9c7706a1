"""Whether a column of ratings is on the scale declared for it.

Where many ratings lie outside, those inside are on the other scale too: 8 of 100 is no 8 of 10. Limits and scales are common
practice, no source.
"""

from __future__ import annotations

import numpy as np

from dashboard.records.advice import Said
from dashboard.records.declaration import Scale
from dashboard.records.problems import listed

FEWEST = 3  # outside; fewer may be slips of the hand
SHARE = 0.1  # of the cells filled
_USUAL = ((1, 5), (0, 5), (1, 9), (0, 10), (0, 20), (0, 100))  # the narrowest first


def another_scale(ratings: np.ndarray, name: str, scale: Scale, about: str) -> Said | None:
    """What is wrong with the column, and what to do; None where its ratings may be on the scale.

    ``ratings`` of the filled cells, shape (n,), NaN where a cell holds no number; ``about``: where scales are declared.
    """
    outside = _outside(ratings, scale.low, scale.high)
    if outside < FEWEST or outside < SHARE * len(ratings):
        return None
    likely = next((ends for ends in _USUAL if _outside(ratings, *ends) < SHARE * len(ratings)), None)
    rule = f"{outside:,} of {len(ratings):,} ratings lie outside {scale.low:g} to {scale.high:g}, the scale declared, so another was used"
    if likely:
        rule += f", likely {likely[0]} to {likely[1]}"
        declare = f"declare the scale that was used, {_items(name, scale, *likely)} if it was {likely[0]} to {likely[1]}, {about}"
    else:
        declare = f"declare the scale that was used with {name}_low and {name}_high {about}"
    return (
        f"{rule}; the whole column is set aside",
        f"{declare}; where only some rows are on it, write those on the scale declared",
    )


def _outside(ratings: np.ndarray, low: float, high: float) -> int:
    return int(((ratings < low) | (ratings > high)).sum())


def _items(name: str, scale: Scale, low: int, high: int) -> str:
    """What of the declaration has to be another."""
    items = [(f"{name}_low", low, scale.low), (f"{name}_high", high, scale.high)]
    if scale.best == scale.low:  # where nothing is said of it the high end is best
        items.append((f"{name}_best", low, scale.low))
    return listed(f"{item} {new}" for item, new, old in items if new != old)
