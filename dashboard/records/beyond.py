"""Readings past an end of their instrument: a gauge that ends at 13 lb, sugar below the first mark. What is known of each is a limit."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pandas as pd

from dashboard.records.findings import Findings
from dashboard.records.not_used import plain
from dashboard.records.schema import TABLES

NAME = "beyond"
BELOW, ABOVE = "below", "above"
# By what was read: the column of ``fruit`` that holds such readings, and that of this table that holds their end.
READINGS = {
    "firmness 1": ("firmness_1_n", "firmness_n"),
    "firmness 2": ("firmness_2_n", "firmness_n"),
    "ssc": ("ssc_brix", "ssc_brix"),
}
ENDS = ("firmness_n", "ssc_brix")


def unusable(beyond: pd.DataFrame, fruit: pd.DataFrame) -> Iterator[tuple[int, str, str, str]]:
    """Place, column, reason and remedy of each row that says no limit, or one of a fruit whose reading was written down."""
    for place in np.flatnonzero(beyond["side"].isna().to_numpy()).tolist():
        yield (
            place,
            "reading",
            "does not say on which side of the end it lies",
            "write below or above under side",
        )
    ends = {name: beyond[name].notna().to_numpy() for name in ENDS}
    read = beyond["reading"].to_numpy(dtype=object)
    own = np.array([READINGS[one][1] for one in read], dtype=object)
    for name, there in ends.items():
        for place in np.flatnonzero((own == name) & ~there).tolist():
            yield place, "reading", "says no end of the instrument", f"write it in {name}"
        for place in np.flatnonzero((own != name) & there).tolist():
            yield place, name, f"is an end of another reading than {read[place]}", f"write it in {own[place]}"
    held = fruit.drop_duplicates(["sample", "fruit"]).set_index(["sample", "fruit"])
    for one, (column, _) in READINGS.items():
        rows = np.flatnonzero(read == one)
        keys = pd.MultiIndex.from_frame(beyond.iloc[rows][["sample", "fruit"]])
        written = held[column].reindex(keys).notna().to_numpy() if len(rows) else np.zeros(0, dtype=bool)
        for place in rows[written].tolist():
            yield place, "reading", "stands beside a reading of the same fruit, which is what counts", "take out one of the two"  # fmt: skip


def usable_beyond(beyond: pd.DataFrame, fruit: pd.DataFrame, findings: Findings) -> pd.DataFrame:
    """The rows that say one limit of a reading nobody could write down; the others are set aside."""
    lost: set[int] = set()
    for place, column, rule, remedy in unusable(beyond, fruit):
        row = int(beyond.index[place])
        if row in lost:
            continue
        lost.add(row)
        said = beyond[column].iloc[place]
        heading = next(one for one in findings.sheet.headings if plain(one) in TABLES[NAME].by_name[column].spellings)  # fmt: skip
        findings.set_row_aside(row, heading, str(said), rule, remedy)
    return beyond[~beyond.index.isin(list(lost))]


def ends_of(beyond: pd.DataFrame) -> pd.Series:
    """The end that each row says, in SI."""
    return beyond["firmness_n"].fillna(beyond["ssc_brix"]).astype(float)


def limits(beyond: pd.DataFrame, fruit: pd.DataFrame, trait: str) -> pd.DataFrame:
    """Of firmness or sugar: one row a fruit of which a limit is known, with its sample, ``end`` (SI) and ``above`` (bool).

    Firmness is the mean of both cheeks, so a limit of one cheek needs the other: a reading, or a limit on the same side.
    """
    ends = beyond.assign(end=ends_of(beyond))
    if trait == "sugar":
        found = ends[(ends["reading"] == "ssc").to_numpy()]
        return pd.DataFrame({"sample": found["sample"], "end": found["end"], "above": found["side"] == ABOVE})
    cheeks = ends[(ends["reading"] != "ssc").to_numpy()]
    if trait != "firmness" or cheeks.empty:
        return pd.DataFrame({"sample": [], "end": [], "above": []}).astype({"end": float, "above": bool})
    key = ["sample", "fruit"]
    wide = cheeks.pivot(index=key, columns="reading", values="end").reindex(columns=["firmness 1", "firmness 2"])  # fmt: skip
    above = (cheeks["side"] == ABOVE).groupby([cheeks[name] for name in key]).mean().reindex(wide.index)
    read = fruit.drop_duplicates(key).set_index(key)[["firmness_1_n", "firmness_2_n"]].reindex(wide.index)
    both = wide.fillna(pd.DataFrame(read.to_numpy(), wide.index, wide.columns)).mean(axis=1, skipna=False)
    kept = both.notna().to_numpy() & above.isin([0.0, 1.0]).to_numpy()
    return pd.DataFrame({"sample": wide.index.get_level_values(0)[kept], "end": both.to_numpy()[kept], "above": above.to_numpy()[kept] == 1})  # fmt: skip
