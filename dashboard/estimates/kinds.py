"""Kinds of cultivars that differ as kinds: flat fruit is smaller than round fruit, and cracks at the tip.

Values are drawn toward what is usual by as much as cultivars differ little. Were a few flat cultivars among many round ones drawn
toward what is usual of all, they would be told too large and far too good. So each is drawn toward its own kind in every trait, where enough
of each were seen. A level is fixed, not drawn at random: of two kinds no spread between kinds can be told.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

from dashboard.estimates.readings import Readings

SHAPE = "shape_type"
FEWEST = 5  # cultivars of a kind, below which it has no level of its own
OWN_KIND = "Cultivars are judged beside those of their own shape: {}."


def shapes_of(cultivars: pd.DataFrame) -> pd.Series | None:
    """Shape by cultivar, of those that have one; None where fewer than two are on record."""
    if not {"cultivar", SHAPE} <= set(cultivars.columns):
        return None
    known = cultivars.dropna(subset=["cultivar", SHAPE]).drop_duplicates("cultivar")
    shapes = known.set_index("cultivar")[SHAPE].astype(str)
    return shapes if shapes.nunique() > 1 else None


def levels_of_kinds(kinds: pd.Series | None, read: Readings) -> dict[str, np.ndarray]:
    """By kind (cultivars,) 1 for those of it, of every kind but the most usual one; where its own is not known, the share of the others."""
    if kinds is None:
        return {}
    own = kinds.reindex(read.cultivars).to_numpy(dtype=object)
    seen = np.isin(np.arange(len(own)), read.cultivar)
    counted = pd.Series(own[seen]).value_counts()
    several = sorted(counted.index[counted >= FEWEST], key=lambda kind: (-counted[kind], kind))
    known = pd.notna(own)
    return {
        kind: np.where(known, own == kind, (own == kind).sum() / known.sum()).astype(float)
        for kind in several[1:]
    }
