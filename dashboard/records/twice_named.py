"""One thing that may stand under two names: a cultivar spelled in two ways, fruit of one day entered as two samples."""

from __future__ import annotations

import pandas as pd

from dashboard.records.findings import Findings
from dashboard.records.names import plain
from dashboard.records.problems import quoted


def suspect_spellings(cultivars: pd.DataFrame, findings: Findings) -> None:
    """Flag each cultivar whose name has the letters and digits of one listed above it."""
    first: dict[str, tuple[int, str]] = {}
    for row, name in zip(cultivars.index.tolist(), cultivars["cultivar"].tolist(), strict=True):
        other, spelled = first.setdefault(plain(name), (row, name))
        if other != row:
            findings.flag(
                row, "cultivar", name, f"has the same letters and digits as {quoted(spelled)} in row {other}, and the two are read as two cultivars",
                f"if they are one, list it once and write {quoted(spelled)} wherever it is meant",
            )  # fmt: skip


def suspect_same_day(samples: pd.DataFrame, findings: Findings) -> None:
    """Flag samples of one cultivar, site and day, known to the day, that no number of a pick tells apart."""
    dated = samples[(samples["date_precision"] == "day").to_numpy()]
    key = ["cultivar", "site", "date"]
    shared = dated[dated.duplicated(key, keep=False).to_numpy()]
    for _, rows in shared.groupby(key, sort=False):
        names, picks = rows["sample"].to_dict(), rows["pick"].to_dict()
        cultivar, site, date = rows.iloc[0][key]
        earlier: list[int] = []
        for row in rows.index:
            # A pick that is not written may be any.
            same = next((one for one in earlier if not abs(picks[one] - picks[row]) > 0), None)
            earlier.append(row)
            if same is not None:
                findings.flag(
                    row, "sample", names[row], f"is of {quoted(cultivar)} at {quoted(site)} on {date:%Y-%m-%d}, as {quoted(names[same])} in row {same} is",
                    "look whether it was entered twice, or write the number of each pick",
                )  # fmt: skip
