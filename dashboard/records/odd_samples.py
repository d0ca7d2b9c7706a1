"""Samples with hardly any fruit, and shares that are hardly shares. All limits are common practice, no source."""

from __future__ import annotations

import numpy as np
import pandas as pd

from dashboard.records.findings import Findings

FEW_OF_USUAL = 0.5
USUALLY = 4  # fruit a sample, from which on fewer mean something
NO_FRUIT = "has no fruit"
SHARES = ("split_pit_pct", "cracked_tip_pct")


def suspect_counts(
    samples: pd.DataFrame, fruit: pd.DataFrame, means: pd.DataFrame, findings: Findings
) -> None:
    """Flag samples without fruit, and those with less than half of the usual number; a mean stands for the fruit it was taken of."""
    meant = samples["sample"].map(means.set_index("sample")["n"]).fillna(0)
    counts = samples["sample"].map(fruit["sample"].value_counts()).fillna(0).clip(lower=meant)
    if not (counts > 0).any():
        return
    usual = float(np.median(counts[counts > 0]))
    for row in samples.index[(counts == 0).to_numpy()]:
        findings.flag(
            row, "sample", str(samples.at[row, "sample"]), NO_FRUIT,
            "add its fruit, or look whether the table of fruit was cut short",
        )  # fmt: skip
    few = (counts > 0) & (counts < FEW_OF_USUAL * usual) & (usual >= USUALLY)
    for row in samples.index[few.to_numpy()]:
        findings.flag(
            row, "sample", str(samples.at[row, "sample"]), f"has {counts[row]:.0f} fruit where {usual:g} are usual",
            "look whether some are missing from the table of fruit",
        )  # fmt: skip


def suspect_shares(samples: pd.DataFrame, findings: Findings) -> None:
    """Flag shares over 0 and up to 1 %: of a few fruit none is so small, and 0.3 is how a cell that shows 30 % is stored."""
    for column in SHARES:
        share = samples[column]
        for row in samples.index[((share > 0) & (share <= 1)).to_numpy()]:
            findings.flag(
                row, column, f"{share[row]:g}", "is hardly a share in per cent; a cell that shows 30 % holds 0.3",
                f"write {100 * share[row]:g} if that was meant",
            )  # fmt: skip
