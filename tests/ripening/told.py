"""A ripening model whose parts are given, so that what is made of them can be worked out by hand."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pandas as pd

from dashboard.ripening.model import Ripening
from dashboard.ripening.parts import CS, CY, LOCAL, SEASON

# Variances in days²: 4 + 5 of a season, 3 + 1 of a cultivar in one season; 0.3 + 0.2 and 0.25 + 1 of the days picked.
FIRST = {CS: 2.0, CY: 3.0, SEASON: 5.0, LOCAL: 4.0, "residual": 1.0}
DAYS = {CS: 0.5, CY: 0.25, SEASON: 0.3, LOCAL: 0.2, "residual": 1.0}
ESTIMATES = {"first": np.array([200.0, 210.0]), "days": np.array([10.0, -4.0])}
VARIANCES = {"first": np.array([0.36, 0.8]), "days": np.array([0.64, 1.2])}


class Told(Ripening):
    """The same parts at every site."""

    def expected(self, part, site):
        variance = VARIANCES[part]
        return SimpleNamespace(
            estimate=ESTIMATES[part], variance=variance, covariance=lambda: np.diag(variance)
        )


def told(seasons: int = 6, first: dict = FIRST, days: dict = DAYS) -> Ripening:
    """Aye seen at Hill (twice) and River, Bee at Hill alone, Unpicked nowhere."""
    rows = [("Aye", "Hill", 2020), ("Aye", "Hill", 2021), ("Aye", "River", 2020), ("Bee", "Hill", 2020)]
    seen = pd.DataFrame(rows, columns=["cultivar", "site", "season"]).assign(
        first=200.0, middle=200.0, last=200.0
    )
    fits = {"first": SimpleNamespace(variance=first), "days": SimpleNamespace(variance=days)}
    kept = ("cultivar", SEASON, CS, LOCAL, CY)
    return Told(pd.Index(["Aye", "Unpicked", "Bee"]), ("Hill", "River"), fits, kept, seasons, seen)  # type: ignore[arg-type]
