"""From one season to the long run, with a ratio that these records cannot give.

In one season a cultivar and its luck of that season are one. How large the luck is can only be borrowed, as

    ratio = (variance of cultivar × season, with and without site) / (variance of cultivars, with what they owe to the site)

from other records. With u the value less what was expected and V the spread of such values, the long-run value is

    expected + u / (1 + ratio),     error variance  PEV / (1 + ratio)^2 + V ratio / (1 + ratio)^2

(normal regression of the long-run part on the sum, the two parts having variances V / (1 + ratio) and V ratio / (1 + ratio)).
"""

from __future__ import annotations

import math

import numpy as np
import pandas as pd

from dashboard.estimates.plan import CULTIVAR
from dashboard.estimates.worth import Worth

# What the page borrows where the records cannot tell, and says so beside every figure: about what the simulations of
# tests/simulate.py have for size (.26), sugar (.38), firmness (.42) and ratings (.34). Common practice, no source.
BORROWED = 0.35
NEEDS_RATIO = (
    "These records hold one season of each cultivar. How much of a value is the luck of that season is not known. "
    "To look beyond it, give a ratio from past records: spread by season over spread by cultivar."
)


def long_run(worth: Worth, ratio: float) -> pd.DataFrame:
    """estimate, se, low, high, df by cultivar, with the borrowed ``ratio``; ``attrs["given"]`` states it in words.

    ValueError when the records need no such ratio, carry no model, or the ratio is no number from 0 up.
    """
    if not worth.modelled:
        raise ValueError(worth.plan.refused)
    if not worth.plan.one_season:
        raise ValueError("These records show how much seasons count, so no borrowed ratio is needed.")
    if not (isinstance(ratio, (int, float)) and math.isfinite(ratio) and ratio >= 0):
        raise ValueError(f"The ratio {ratio!r} is not a number from 0 up.")
    values, share = worth.fitted(), 1 / (1 + ratio)
    estimate = worth.usual + (values["estimate"].to_numpy() - worth.usual) * share
    variance = np.square(values["se"].to_numpy() * share) + worth.variance[CULTIVAR] * ratio * share**2
    se, df = np.sqrt(variance), values["df"].to_numpy()
    frame = pd.DataFrame(worth.scale().interval(estimate, se, df) | {"df": df}, index=values.index)
    frame.attrs["given"] = (
        f"With a borrowed ratio of {ratio:.2g}, which these records cannot check. It sets how much one cultivar "
        "varies from year to year against how much they all differ (as variances)."
    )
    return frame
