"""Harm of the weather that somebody noted on a sample: hail. It is shown beside, and nothing is made of it."""

from __future__ import annotations

import pandas as pd


def hail_noted(samples: pd.DataFrame) -> pd.DataFrame:
    """The samples whose note speaks of hail: cultivar, site and year, a row a sample. Nothing noted is not no hail."""
    notes = samples["note"].astype("str") if "note" in samples else pd.Series("", index=samples.index)
    found = samples[notes.str.contains(r"\bhail", case=False, regex=True, na=False).to_numpy(dtype=bool)]
    return pd.DataFrame(
        {
            "cultivar": found["cultivar"].astype("str"),
            "site": found["site"].astype("str"),
            "year": found["date"].dt.year,
        }
    ).reset_index(drop=True)
