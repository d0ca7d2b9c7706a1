"""Readings past an end of their instrument, as a reader of a sample is told of them."""

from __future__ import annotations

import pandas as pd

from dashboard.records.problems import listed
from dashboard.terms.traits import TRAITS

_WORTH = {"firmness_n": "firmness", "ssc_brix": "sugar"}


def past_ends(beyond: pd.DataFrame | None, sample: str, units: str) -> str:
    """Of one sample which readings lie past an end, and that its mean allows for them; "" where none does."""
    if beyond is None or beyond.empty:
        return ""
    of = beyond[(beyond["sample"].astype(str) == sample).to_numpy(dtype=bool)]
    parts = []
    for column, key in _WORTH.items():
        for (side, _), some in of[of[column].notna().to_numpy()].groupby(["side", column]):
            count, fruit = len(some), sorted({int(one) for one in some["fruit"]})
            what = {"firmness": "cheek", "sugar": "fruit"}[key] + (
                "s" if count > 1 and key == "firmness" else ""
            )
            named = f" (fruit {listed(map(str, fruit))})" if len(fruit) < 6 else ""
            trait = TRAITS[key]
            parts.append(
                f"{count} {what} {side} {trait.written(float(some[column].iloc[0]), units)} {trait.unit(units).symbol}{named}"
            )
    return f"Past the end of the instrument: {'; '.join(parts)}. The mean of the sample allows for them." if parts else ""  # fmt: skip
