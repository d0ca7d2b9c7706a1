"""Which crop of its trees a sample is: first crops are smaller than those of grown trees."""

from __future__ import annotations

import numpy as np
import pandas as pd

BEARS = 2  # seasons after planting in which a tree first bears; common practice, no source


def crops(trees: pd.DataFrame | None, samples: pd.DataFrame) -> np.ndarray:
    """The number of the crop, 1 the first, of each sample.

    Parameters
    ----------
    trees : DataFrame or None
        One row a tree: cultivar, site, planted and removed (years).
    samples : DataFrame
        cultivar, site and season of each sample.

    Returns
    -------
    ndarray of float
        (samples,); NaN where the trees of that cultivar then bearing at the site were not all planted in one year, or it is not known.
    """
    found = np.full(len(samples), np.nan)
    if trees is None or trees.empty:
        return found
    keys = ["cultivar", "site"]
    asked = samples[[*keys, "season"]].drop_duplicates().astype({"cultivar": "str", "site": "str"})
    planted = pd.to_numeric(trees["planted"], errors="coerce")
    removed = pd.to_numeric(trees["removed"], errors="coerce")
    known = trees[keys].astype("str").assign(planted=planted, removed=removed).drop_duplicates()
    met = asked.merge(known, on=keys)
    young = met["planted"] + BEARS > met["season"]
    met = met[~young & ~(met["removed"] < met["season"])]
    years = (
        met.assign(unknown=met["planted"].isna())
        .groupby([*keys, "season"])
        .agg(first=("planted", "min"), last=("planted", "max"), unknown=("unknown", "any"))
    )
    alike = years[(years["first"] == years["last"]) & ~years["unknown"]]
    place = pd.MultiIndex.from_frame(samples[[*keys, "season"]].astype({"cultivar": "str", "site": "str"}))
    since = alike["first"].reindex(place).to_numpy(dtype=float)
    return samples["season"].to_numpy(dtype=float) - since - BEARS + 1
