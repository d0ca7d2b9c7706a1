"""What cultivars are worth in one trait: the numbers a page, a table or a comparison needs, with nothing left to fit.

Error covariances of the values over sites are kept as diag(own) + shared shared', so that any difference of two of
some thousand cultivars costs one short sum.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import pandas as pd

from dashboard.estimates.plan import Plan
from dashboard.estimates.scale import Scale, scale_of

LEANS_FROM = 0.05  # of its range, from which on a cultivar is said to lean on its relatives
MODEL_METHOD = "adjusted for site and year (mixed model)"


@dataclass(frozen=True, eq=False)
class Signal:
    """What a fit of one trait alone says of each cultivar, for a prediction of several traits together; NaN without a reading."""

    deviation: np.ndarray  # (cultivars,) predicted, in spreads between cultivars
    reliability: np.ndarray  # (cultivars,) of that, the fixed effects taken as known
    freedom: float  # what the fixed effects leave of each cultivar, 0 to 1
    follows: dict[str, np.ndarray]  # how far the value at a site moves with the one over sites
    spread: dict[str, float]  # variance of values at a site


@dataclass(frozen=True, eq=False)
class Worth:
    """Arrays are by cultivar, in the order of ``values``; NaN (or -1) for cultivars without a reading."""

    trait: str
    plan: Plan
    values: pd.DataFrame  # columns averages.COLUMNS, over sites (or what ``plan.meaning`` says)
    at: dict[str, pd.DataFrame]  # the same at each site
    group: np.ndarray  # connected group, the largest 0
    seen: np.ndarray  # (m, 2) cultivar and site-season codes: who stood where
    variance: dict[str, float] = field(default_factory=dict)  # by part of the model; none without a model
    variance_se: dict[str, float] = field(default_factory=dict)
    at_zero: tuple[str, ...] = ()
    usual: np.ndarray = field(
        default_factory=lambda: np.empty(0)
    )  # what is expected before its samples are seen
    pev: np.ndarray = field(
        default_factory=lambda: np.empty(0)
    )  # error variance without the small-sample part
    own: np.ndarray = field(default_factory=lambda: np.empty(0))
    shared: np.ndarray = field(default_factory=lambda: np.empty((0, 0)))
    level: float = 0.0  # variance by which seasons move the level of a site
    site_level: float = 0.0  # and how far sites lie apart
    seasons: int = 1  # how many seasons tell the first; one tells nothing
    site_seasons: dict[str, int] = field(default_factory=dict)  # how many were seen at each site
    pick_step: float = 0.0  # what one pick later adds
    pick_variance: float = 0.0  # of the number of the pick among the samples
    rough: np.ndarray = field(
        default_factory=lambda: np.empty(0)
    )  # how far each cultivar varies beside the usual, in one season or fruit; none where all vary alike
    rough_at: dict[str, float] = field(default_factory=dict)  # and at each site; none where all vary alike
    alike: np.ndarray = field(
        default_factory=lambda: np.empty((0, 0))
    )  # (cultivars, TRAITS) correlations of the value's error with those in other traits; none where it was told alone
    scatter: dict[str, float] = field(
        default_factory=dict
    )  # of what is fitted by log odds: their variance about a cultivar's own, over sites ("") and at each
    judged: int = 0  # fruit of the usual sample, of those
    clusters: float = 0.0  # and the correlation of two of its fruit
    leans: np.ndarray = field(
        default_factory=lambda: np.empty(0)
    )  # by how much wider its range would be without its relatives; none where these do not speak
    signal: Signal | None = None  # until the traits are told together

    @property
    def modelled(self) -> bool:
        return bool(self.variance)

    def scale(self, site: str | None = None) -> Scale:
        """How values fitted over sites, or at one, are told. All else but ``values`` and ``at`` is on the scale of the fit."""
        return scale_of(self.trait, self.scatter.get(site or ""))

    def each(self, scatter: float | None = None) -> Scale:
        """The same of the mean of one site-season; with ``scatter`` of many whose log odds have that variance about a cultivar's own."""
        return scale_of(self.trait, (scatter or 0.0) if self.scatter else None)

    def fitted(self, site: str | None = None) -> pd.DataFrame:
        """estimate, se and df by cultivar on the scale of the fit, over sites or at one."""
        return self.scale(site).frame(self.at[site] if site else self.values)

    def leaning(self, name: str) -> float:
        """By how much of it the range of a cultivar would be wider without its relatives; 0 where they do not speak for it."""
        place = self.values.index.get_indexer(pd.Index([name]))[0] if len(self.leans) else -1
        return float(np.nan_to_num(self.leans[place])) if place >= 0 else 0.0

    def places(self, names: list[str] | pd.Index) -> np.ndarray:
        """Rows of cultivars; ValueError naming one that is not there."""
        rows = self.values.index.get_indexer(pd.Index(names))
        if (rows < 0).any():
            raise ValueError(f"{pd.Index(names)[rows < 0][0]} is not among the cultivars of these records.")
        return rows

    def difference_variance(self, weights: np.ndarray) -> np.ndarray:
        """Error variances (k,) of sums of values with ``weights`` (k, cultivars), rows of which add up to zero."""
        known = np.nan_to_num(self.own)
        return np.square(weights) @ known + np.square(weights @ np.nan_to_num(self.shared)).sum(axis=1)
