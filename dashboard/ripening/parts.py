"""What ripening is made of: the terms that records can tell apart, and one part, the first day or the days picked, fitted on them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd

from dashboard.mixed import Fit, UnfittedError, fit
from dashboard.ripening.few_seasons import FEW, weighed

PARTS = ("first", "days")
C, CS, CY, SEASON, LOCAL = "cultivar", "cultivar:site", "cultivar:season", "season", "season:site"


def _labels(seen: pd.DataFrame) -> dict[str, pd.Series]:
    cultivar, site, season = (seen[name].astype(str) for name in ("cultivar", "site", "season"))
    return {
        C: cultivar, SEASON: season, CS: cultivar + "\t" + site, LOCAL: season + "\t" + site, CY: cultivar + "\t" + season
    }  # fmt: skip


def kept_terms(seen: pd.DataFrame) -> tuple[str, ...]:
    """The terms these records can tell apart, the most needed first."""
    labels = _labels(seen)
    count = {name: label.nunique() for name, label in labels.items()}
    sites = seen["site"].nunique()
    kept = [C]
    if count[SEASON] >= 2:
        kept.append(SEASON)
    if sites >= 2 and count[C] + sites <= count[CS] < len(seen):
        kept.append(CS)
    if sites >= 2 and count[SEASON] + sites <= count[LOCAL] < len(seen):
        kept.append(LOCAL)
    if sites >= 2 and count[C] + count[SEASON] <= count[CY] < len(seen):
        kept.append(CY)
    return tuple(kept)


def recorded(seen: pd.DataFrame, part: str) -> np.ndarray:
    """(records,) of "first" the day of the season, of "days" how many come after it until the last."""
    return (seen["first"] if part == "first" else seen["last"] - seen["first"]).to_numpy(dtype=float)


def fitted(seen: pd.DataFrame, part: str, kept: Sequence[str], sites: tuple[str, ...]) -> Fit:
    """One part fitted by REML; UnfittedError where the search does not settle. Few seasons are weighed with an assumption."""
    X = pd.DataFrame({name: (seen["site"].astype(str) == name).astype(float) for name in sites})
    labels = _labels(seen)
    groups = {name: labels[name].to_numpy() for name in kept}
    found = fit(recorded(seen, part), X, groups)
    seasons = seen["season"].nunique()
    if SEASON in kept and seasons < FEW:
        assumed = weighed(found.variance[SEASON], seasons, part)
        found = fit(recorded(seen, part), X, groups, held={SEASON: assumed / found.variance["residual"]})
    if not found.converged:
        raise UnfittedError("the search for its spreads did not settle.")
    return found
