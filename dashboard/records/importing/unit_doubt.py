"""Figures of one sheet that stand as far from all others as another unit would: flagged, whatever was answered.

An answer of last week holds for this week's sheet, also where somebody read another gauge. The factors are those of the units; how far
seasons differ is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd

from dashboard.records.importing.facts import Facts
from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.roles import ROLES
from dashboard.records.importing.together import APART
from dashboard.records.importing.trial import Trial

FEWEST = 20  # figures of a sheet, and of all others


def suspect_units(parts: Sequence[Facts], trial: Trial, ledger: Ledger) -> None:
    """Flag, at its first cell, a reading of a sheet whose middle is far from that of the trial and of the other sheets."""
    whole = pd.concat([part.facts[["role", "value", "code"]] for part in parts]) if parts else pd.DataFrame()
    if not len(whole):
        return
    whole["page"] = whole["code"].to_numpy(dtype=np.int64) >> 40
    for name, role in ROLES.items():
        ours = whole[(whole["role"] == name).to_numpy()]
        if not role.units or role.table != "fruit" or not len(ours):
            continue
        standing = trial.frames["fruit"][role.column.name].dropna().to_numpy(dtype=float)
        for page, some in ours.groupby("page"):
            others = np.concatenate([standing, ours["value"][(ours["page"] != page).to_numpy()]])
            if len(some) < FEWEST or len(others) < FEWEST:
                continue
            here, there = float(some["value"].median()), float(np.median(others))
            if here > 0 and there > 0 and max(here / there, there / here) >= APART:
                times = f"{here / there:.1f} times" if here > there else f"1/{there / here:.1f} of"
                rule = f"begins figures of {name} in this sheet that are {times} those of the trial and the other sheets"
                ledger.flag(int(some["code"].iloc[0]), rule, "look whether they were read in another unit")
