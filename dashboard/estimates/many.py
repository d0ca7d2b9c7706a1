"""Many differences looked at together: how likely any of those called real is a slip of chance.

Whoever looks at thirty differences finds one that chance alone makes look real. Holm's step-down method (Holm 1979) raises
each chance of being mistaken so that calling real what stays under a level goes wrong anywhere among them in no more than
that share of cases, however the differences depend on each other and however their errors differ.
"""

from __future__ import annotations

import numpy as np
from scipy import stats

from dashboard.estimates.comparisons import Difference

SURE = 0.05  # common practice, no source: at most so often is anything called real that is not


def mistaken(difference: Difference) -> float:
    """Chance that two which do not differ would be found at least so far apart, either way.

    Parameters
    ----------
    difference : Difference

    Returns
    -------
    float
        0 to 1; NaN where the difference is refused.
    """
    if difference.refused or difference.se != difference.se:
        return float("nan")
    if difference.se == 0:  # no cultivar was found to differ from any other in this trait
        return 1.0
    return float(2 * stats.t.sf(abs(difference.estimate) / difference.se, difference.df))


def holm(chances: np.ndarray) -> np.ndarray:
    """Each chance of being mistaken after looking at all of them.

    Parameters
    ----------
    chances : ndarray of float
        (k,) 0 to 1; NaN does not count as looked at.

    Returns
    -------
    ndarray of float
        (k,) from the smallest up, the i-th of m is multiplied by m - i + 1, is never less than the one before it, and at most 1;
        NaN stays NaN.

    Source
    ------
    Holm (1979), Scandinavian Journal of Statistics 6: 65-70.
    """
    raw = np.asarray(chances, dtype=float)
    adjusted = np.full(raw.shape, np.nan)
    known = np.flatnonzero(~np.isnan(raw))
    order = known[np.argsort(raw[known], kind="stable")]
    left = len(order) - np.arange(len(order))
    adjusted[order] = np.minimum(np.maximum.accumulate(left * raw[order]), 1.0)
    return adjusted
