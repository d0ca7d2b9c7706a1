"""How much seasons move the level of all cultivars at a site, and how far apart the sites themselves are.

Two seasons at three sites are six site-seasons but two seasons: what moves a whole season moves all sites together, so only
seasons count when the next one is foretold. What lasts between sites is no part of it; at a site that is named it is known.

With e the effects of site-seasons and V the covariance of their errors, any sum of squares e' M e is expected to be
the estimates' own, with trace(M V) more where they were drawn in (random) and as it is where they were not (listed).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from dashboard.estimates.plan import ENVIRONMENT
from dashboard.estimates.trial import Trial
from dashboard.mixed import Fit


@dataclass(frozen=True)
class Levels:
    """Variances: of seasons at one site, and of sites; ``seasons``: how many tell the first (one where none does)."""

    by_season: float = 0.0
    by_site: float = 0.0
    seasons: int = 1


def levels_of(trial: Trial, fitted: Fit) -> Levels:
    """What a fit says of the level of seasons and of sites; none where there is one site-season."""
    effects, error = _effects(trial, fitted)
    site, season = trial.where, trial.when
    if len(effects) < 2:
        return Levels()
    sites, seasons = (
        np.unique(code, return_inverse=True)[1][:, None] == np.arange(len(np.unique(code)))
        for code in (site, season)
    )

    def squares(M: np.ndarray) -> float:
        return max(0.0, float(effects @ M @ effects) + float((M * error).sum()))

    count = len(effects)
    mean_at = sites / sites.sum(axis=0)
    within, free = np.eye(count) - mean_at @ sites.T, count - sites.shape[1]
    by_season = squares(within) / free if free else 0.0
    by_site = 0.0
    if sites.shape[1] > 1:
        apart = mean_at - mean_at.mean(axis=1, keepdims=True)
        by_site = squares(apart @ apart.T) / (sites.shape[1] - 1)
        both = np.column_stack([sites, seasons]).astype(float)
        left = count - np.linalg.matrix_rank(both)
        if left:  # what site and season do together is not the sites' own
            alone = squares(np.eye(count) - both @ np.linalg.pinv(both)) / left
            by_site = max(0.0, by_site - alone * float((1 / sites.sum(axis=0)).mean()))
    return Levels(by_season, by_site, seasons.shape[1] if free else 1)


def listed_variance(trial: Trial, fitted: Fit) -> float:
    """Variance of listed site-seasons, less what the errors of their estimates account for."""
    effects, _ = _effects(trial, fitted)
    names = trial.listed
    if len(effects) < 2:
        return 0.0
    back = _back(len(effects))
    error = back @ fitted.beta_cov.loc[names, names].to_numpy() @ back.T
    return max(0.0, float(effects @ effects) - float(np.trace(error))) / (len(effects) - 1)


def _effects(trial: Trial, fitted: Fit) -> tuple[np.ndarray, np.ndarray]:
    """(E,) effects of site-seasons and what is to be added to their products (E, E); none where they could not be told."""
    count = len(trial.where)
    if ENVIRONMENT in trial.groups:
        asked = fitted.predict(effects={ENVIRONMENT: np.arange(count)})
        return asked.estimate, asked.covariance()
    if len(trial.listed) < count - 1 or count < 2:
        return np.zeros(0), np.zeros((0, 0))
    return _back(count) @ fitted.beta[trial.listed].to_numpy(), np.zeros((count, count))


def _back(count: int) -> np.ndarray:
    """(E, E - 1) from listed deviations, which add up to zero, to all of them."""
    return np.vstack([np.eye(count - 1), -np.ones(count - 1)])
