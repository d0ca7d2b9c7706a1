"""What a market says of a cultivar, in one word, the same wherever it is told.

The word comes from the chance that every limit holds. Only where no chance can be told do the averages decide; what has no
reading to judge a limit by is not known, and not refused.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

from dashboard.market.prospects import POSSIBLE, Outlook

QUALIFIES, MAY_QUALIFY, NOT_KNOWN, MISSES = "qualifies", "may qualify", "not known", "misses"
VERDICTS = (QUALIFIES, MAY_QUALIFY, NOT_KNOWN, MISSES)  # the order of a ranking
TAKEN = (QUALIFIES, MAY_QUALIFY)  # what covers a day of the buyer's season
SURE = 0.8  # the chance from which a cultivar qualifies; from POSSIBLE on it may


def judged(fit: pd.DataFrame, found: Outlook | None) -> pd.DataFrame:
    """``fit`` (from ``fitting.fit``) with what the market says of each cultivar. ``found`` are its chances, None where none can be
    told: then the averages decide.

    verdict: one of VERDICTS; taken: one of TAKEN; clears: the chance that every limit holds, NaN where it is not known;
    judged_by_averages; least_sure: (limit, seen) of the limit least likely to hold, (None, None) where that is not told.
    """
    chance = None if found is None else found.chance
    word = verdicts(chance, fit)
    return fit.assign(
        verdict=word,
        taken=word.isin(TAKEN),
        clears=np.nan if chance is None else chance,
        judged_by_averages=found is None,
        least_sure=_least_sure(fit, found),
    )


def verdicts(chance: np.ndarray | None, fit: pd.DataFrame) -> pd.Series:
    """One of VERDICTS a cultivar, index as ``fit`` (from ``fitting.fit``).

    ``chance`` that every limit holds, NaN where that is open for want of a reading; None where no chance can be told, and
    the averages decide.
    """
    if chance is None:
        unread = np.array(
            [bool(missed) and all(seen is None for _, seen in missed) for missed in fit["missed"]], dtype=bool
        )
        words = np.select([fit["by_averages"].to_numpy(dtype=bool), unread], [QUALIFIES, NOT_KNOWN], MISSES)
    else:
        words = np.select(
            [np.isnan(chance), chance >= SURE, chance >= POSSIBLE],
            [NOT_KNOWN, QUALIFIES, MAY_QUALIFY],
            MISSES,
        )
    return pd.Series(words, index=fit.index, dtype=pd.CategoricalDtype(list(VERDICTS), ordered=True))


def _least_sure(fit: pd.DataFrame, found: Outlook | None) -> pd.Series:
    weakest: list[tuple] = [(None, None)] * len(fit)
    if found is not None and len(found.by_limit):
        lowest = np.where(np.isnan(found.by_limit), np.inf, found.by_limit).argmin(axis=0)
        limits = found.market.limits
        weakest = [
            (limits[at], seen[at]) if seen[at] is not None else (None, None)
            for at, seen in zip(lowest, fit["seen"], strict=True)
        ]
    return pd.Series(weakest, index=fit.index, dtype=object)
