"""Figures of one sheet that are another unit's from some day on: somebody took another gauge, and went on in the same column.

A step as large as between two units is flagged at its first cell; that seasons and cultivars differ less is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd

from dashboard.records.importing.facts import Facts
from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.roles import READINGS, ROLES
from dashboard.records.importing.together import APART
from dashboard.records.importing.unit_doubt import FEWEST


def suspect_steps(parts: Sequence[Facts], ledger: Ledger) -> None:
    """Of each sheet, site and reading with units the largest step, where there is one."""
    roles = [name for name in READINGS if ROLES[name].units]
    days = [
        part.facts[part.facts["role"].isin(roles)].join(part.appearances.drop_duplicates("appearance").set_index("appearance")[["site", "date"]], on="appearance")
        for part in parts if len(part.appearances)
    ]  # fmt: skip
    whole = pd.concat(days, ignore_index=True) if days else pd.DataFrame()
    if not len(whole):
        return
    whole["page"] = whole["code"].to_numpy(dtype=np.int64) >> 40
    by_day = whole.groupby(["page", "role", "site", "date"], sort=True).agg(middle=("value", "median"), count=("value", "size"), code=("code", "min"))  # fmt: skip
    for (_, role, _), some in by_day.groupby(["page", "role", "site"]):
        place, times = _largest_step(some["middle"].to_numpy(dtype=float), some["count"].to_numpy(dtype=int))
        if max(times, 1 / times) >= APART:
            told = f"{times:.1f} times" if times > 1 else f"1/{1 / times:.1f} of"
            rule = f"begins figures of {role} that are from this day on {told} those of the days before"
            ledger.flag(int(some["code"].iloc[place]), rule, "look whether they were read in another unit")


def _largest_step(middles: np.ndarray, counts: np.ndarray) -> tuple[int, float]:
    """The day from which on figures differ most clearly from those before, and how many times as large they are; 1 where nothing can be told."""
    if len(middles) < 2 or middles.min() <= 0:
        return 0, 1.0
    logs, before = np.log(middles), np.arange(1, len(middles))
    sums, squares = np.cumsum(logs), np.cumsum(logs**2)
    left = squares[:-1] - sums[:-1] ** 2 / before
    right = (squares[-1] - squares[:-1]) - (sums[-1] - sums[:-1]) ** 2 / (len(middles) - before)
    place = int(np.argmin(left + right)) + 1  # where both sides are most of one level
    if min(counts[:place].sum(), counts[place:].sum()) < FEWEST:
        return 0, 1.0
    return place, float(np.median(middles[place:]) / np.median(middles[:place]))
