"""Who is bred from whom, as far as the records say.

A parent that is no cultivar of the trial joins its offspring all the same; one that is not known is taken as unrelated to all
(Henderson 1976, Biometrics 32: 69-83).
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np
import pandas as pd

from dashboard.mixed.kin import Kin, kin
from dashboard.records.schema import PARENTS

RELATIVES = "relatives"  # the part of the model
HALF = 0.24  # half of brothers and sisters, who have one parent in common, share a quarter
FEWEST = 12  # cultivars with such a relative, below which the part is not looked for
MOST = 1500  # parents, beyond which the equations would be too many
PAIRS = 3e6  # of ancestors in common, over all samples, beyond which the most distant ones are left out of account


@dataclass(frozen=True, eq=False)
class Relatives:
    """The known ``parents``, one or two, of each cultivar that has any."""

    parents: dict[str, tuple[str, ...]]
    _last: dict[str, tuple[pd.Index, Kin]] = field(default_factory=dict, repr=False)

    @property
    def too_many(self) -> bool:
        return len({parent for both in self.parents.values() for parent in both}) > MOST

    def among(self, cultivars: pd.Index) -> Kin:
        """Cultivars, by their places, as relatives; kept for the next trait."""
        if "" not in self._last or not self._last[""][0].equals(cultivars):
            found = kin(self.parents, cultivars.tolist())
            self._last[""] = cultivars, replace(found, names=pd.RangeIndex(len(cultivars)))
        return self._last[""][1]


def relatives_of(cultivars: pd.DataFrame) -> Relatives | None:
    """Who is bred from whom, by a table of cultivars; None where no parent is on record."""
    if not set(PARENTS) <= set(cultivars.columns) or not cultivars[list(PARENTS)].notna().any(axis=None):
        return None
    parents = {
        str(name): tuple(str(one) for one in both if pd.notna(one))
        for name, *both in cultivars[["cultivar", *PARENTS]].dropna(subset="cultivar").itertuples(index=False)
    }
    return Relatives({name: known for name, known in parents.items() if known})


def with_near(found: Kin) -> int:
    """How many have a half brother or sister beside them, or a nearer relative."""
    shared = (found.shared @ found.shared.T).tocoo()
    row, column = shared.coords
    return len(np.unique(row[(row != column) & (shared.data > HALF)]))
