"""Where the search for the variances of many records sets out: from what an eighth of them says, which takes an eighth of a step's time.

The search ends where it would have, sooner: its first steps, from a spread shared out evenly, are those that many records are not needed for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

import numpy as np
import pandas as pd

from dashboard.mixed.design import RESIDUAL, Groups

MANY, ONE_IN = 800, 8  # levels of the first effect from which on an eighth of them is looked at first


def near_by(
    fit: Callable[..., Any], y: Any, X: Any, groups: Groups, n: Any, within_ss: float, off_zero: Iterable[str]
) -> dict[str, float]:
    """Ratios of the variances to the residual one, by every eighth level of the first effect.

    Parameters
    ----------
    fit : callable
        ``mixed.fit``.
    y, X, groups, n, within_ss, off_zero
        As there.

    Returns
    -------
    dict of str to float
        By variance; empty of fewer levels, or where an eighth of them does not carry the model.
    """
    labels = {name: said[0] if isinstance(said, tuple) else said for name, said in groups.items()}
    if not groups or not all(isinstance(said, np.ndarray | pd.Series) for said in labels.values()):
        return {}
    code, levels = pd.factorize(np.asarray(next(iter(labels.values()))), sort=True)
    if len(levels) < MANY:
        return {}
    kept = code % ONE_IN == 0

    def of_these(column: Any) -> np.ndarray:
        return np.asarray(column)[kept]

    few = {
        name: tuple(map(of_these, said)) if isinstance(said, tuple) else of_these(said)
        for name, said in groups.items()
    }
    if n is not None:
        within_ss *= float((of_these(n) - 1).sum() / (np.asarray(n) - 1).sum())
    columns = X[kept] if isinstance(X, pd.DataFrame) else of_these(X)
    each = None if n is None else of_these(n)
    try:
        found = fit(of_these(y), columns, few, n=each, within_ss=within_ss, off_zero=off_zero)
    except (ValueError, np.linalg.LinAlgError):
        return {}
    spread = found.variance
    if not found.converged or not spread[RESIDUAL] > 0:
        return {}
    return {name: value / spread[RESIDUAL] for name, value in spread.items() if name != RESIDUAL}
