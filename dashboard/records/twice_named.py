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
    key = ["cultivar", "site", "date"]
    dated = samples[(samples["date_precision"] == "day").to_numpy()]
    shared = dated[dated.duplicated(key, keep=False).to_numpy()]
    earlier: dict[tuple, list[tuple[int, str, float]]] = {}
    columns = (shared[name] for name in (*key, "sample", "pick"))
    for row, cultivar, site, date, name, pick in zip(shared.index.tolist(), *columns, strict=True):
        others = earlier.setdefault((cultivar, site, date), [])
        # A pick that is not written may be any.
        same = next(((there, other) for there, other, one in others if not abs(one - pick) > 0), None)
        others.append((row, name, pick))
        if same is not None:
            findings.flag(
                row, "sample", name, f"is of {quoted(cultivar)} at {quoted(site)} on {date:%Y-%m-%d}, as {quoted(same[1])} in row {same[0]} is",
                "look whether it was entered twice, or write the number of each pick",
            )  # fmt: skip
