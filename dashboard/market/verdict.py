"""What a market says of a cultivar, in one word, the same wherever it is told.

The word comes from the chance that every limit holds. Only where no chance can be told do the averages decide; what has no
reading to judge a limit by is not known, and not refused.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

QUALIFIES, MAY_QUALIFY, NOT_KNOWN, MISSES = "qualifies", "may qualify", "not known", "misses"
VERDICTS = (QUALIFIES, MAY_QUALIFY, NOT_KNOWN, MISSES)  # the order of a ranking
TAKEN = (QUALIFIES, MAY_QUALIFY)  # what covers a day of the buyer's season
SURE, POSSIBLE = 0.8, 0.2  # chances from which a cultivar qualifies, and may qualify


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
