"""What ripening is made of: the terms that records can tell apart, and one part, the first day or the days picked, fitted on them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd

from dashboard.mixed import Fit, UnfittedError, fit
from dashboard.ripening.few_seasons import FEW, Spread, assumed, weighed

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


def fitted(
    seen: pd.DataFrame, part: str, kept: Sequence[str], sites: tuple[str, ...]
) -> tuple[Fit, Spread | None]:
    """One part fitted by REML; UnfittedError where the search does not settle. Of few seasons also the spreads they may have, the fit
    being that at their mean."""
    X = pd.DataFrame({name: (seen["site"].astype(str) == name).astype(float) for name in sites})
    labels = _labels(seen)
    found = fit(recorded(seen, part), X, {name: labels[name].to_numpy() for name in kept})
    if not found.converged:
        raise UnfittedError("the search for its spreads did not settle.")
    seasons = seen["season"].nunique()
    if seasons >= FEW:
        return found, None
    spread = assumed(part)
    if SEASON in kept:
        spread = weighed(spread, *_shown(found.put_at({**found.variance, SEASON: spread.mean})), seasons)
        found = found.put_at({**found.variance, SEASON: spread.mean})
    return found, spread


def _shown(found: Fit) -> tuple[float, float]:
    """Variance of the means of the seasons, and what of it is none of their own.

    A mean counts by as much as it is surely the season's, so that is taken back: of n alike, each with the error variance
    spread (1 - sure (1 - 1 / n)). Where each site had a season of its own nothing of them is sure.
    """
    effect, spread = found.effect[SEASON].to_numpy(), found.variance[SEASON]
    count = len(effect)
    error = float(np.square(found.effect_se[SEASON]).mean())
    sure = float(np.clip((1 - error / spread) * count / (count - 1), 1e-3, 1.0))
    return float(np.var(effect, ddof=1)) / sure**2, spread * (1 / sure - 1)
