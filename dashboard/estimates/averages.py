"""What a cultivar is worth in each trait, and how sure we are: raw averages over its site-seasons.

A site-season is one site in one season. A cultivar's site-season means scatter about its estimate with a
spread taken to be the same for every cultivar, so that spread is pooled over all of them (a one-way
analysis of variance: Snedecor & Cochran, Statistical Methods) and a cultivar seen twice borrows the
degrees of freedom of those seen often. Raw averages keep the weather in: a cultivar seen only in good
seasons looks good, and the method column says so.
"""

from __future__ import annotations

import numpy as np
import pandas as pd
from scipy import stats

from dashboard.estimates.readings import Readings
from dashboard.estimates.scale import LEVEL, bounds

METHOD = "raw averages"

COUNTS = ("fruit", "samples", "sites", "seasons")
COLUMNS = ("estimate", "se", "low", "high", "reliability", "df", *COUNTS, "method")


def pooled(values: np.ndarray, owner: np.ndarray, owners: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Means of owners of values, with a spread pooled over all of them.

    Parameters
    ----------
    values : ndarray of float
        (n,) finite.
    owner : ndarray of int
        (n,) whose each is, 0 to owners - 1.
    owners : int
        How many there are.

    Returns
    -------
    mean, se, half_width : ndarray of float
        (owners,) each, in the unit of ``values``: the mean, its standard error and the half-width of its 90 % t interval, with
        n - (owners seen) degrees of freedom; without any, se and half-width are NaN. Owners without values are NaN throughout.

    Source
    ------
    Snedecor & Cochran, Statistical Methods: one-way analysis of variance.
    """
    count = np.bincount(owner, minlength=owners).astype(float)
    known = np.where(count > 0, count, np.nan)
    mean = np.bincount(owner, weights=values, minlength=owners) / known
    freedom = len(values) - int((count > 0).sum())
    if freedom <= 0:
        return mean, np.full(owners, np.nan), np.full(owners, np.nan)
    spread = np.sqrt(np.square(values - mean[owner]).sum() / freedom)
    se = spread / np.sqrt(known)
    return mean, se, se * stats.t.ppf(0.5 + LEVEL / 2, freedom)


def average_values(read: Readings) -> pd.DataFrame:
    """One row a cultivar of ``read.cultivars`` with the COLUMNS above, in SI units; reliability is not known.

    The estimate is the mean of the cultivar's site-season means, each the mean of its samples; se and the
    90 % interval come from the pooled spread and stay NaN where nothing can be pooled. ``fruit`` counts the
    fruit measured and is 0 for traits judged once a sample. Cultivars without a reading stay, with NaN.
    """
    count = len(read.cultivars)
    sites, seasons = max(len(read.sites), 1), max(len(read.seasons), 1)
    # One whole number a cultivar × site × season: sorting those is far quicker than sorting triples.
    cells, cell_of = np.unique(
        (read.cultivar * sites + read.site) * seasons + read.season, return_inverse=True
    )
    cell_means = np.bincount(cell_of, weights=read.y) / np.bincount(cell_of) if len(read) else np.empty(0)
    estimate, se, half = pooled(cell_means, cells // (sites * seasons), count)
    floor, ceiling = bounds(read.trait)
    freedom = len(cells) - len(np.unique(read.cultivar))
    return pd.DataFrame(
        {
            "estimate": estimate,
            "se": se,
            "low": np.fmax(estimate - half, np.where(np.isnan(half), np.nan, floor)),
            "high": np.fmin(estimate + half, np.where(np.isnan(half), np.nan, ceiling)),
            "reliability": np.nan,
            "df": np.where(np.isnan(se), np.nan, float(freedom)),
            **counts(read),
            "method": pd.Series(METHOD, index=read.cultivars, dtype="str"),
        },
        index=read.cultivars,
    )


def counts(read: Readings) -> dict[str, np.ndarray]:
    """How many fruit, samples, sites and seasons stand behind each cultivar, each (cultivars,) of int."""
    count = len(read.cultivars)
    return {
        "fruit": np.bincount(read.cultivar, weights=read.n, minlength=count).astype(int),
        "samples": np.bincount(read.cultivar, minlength=count),
        "sites": _different(read.cultivar, read.site, len(read.sites) or 1, count),
        "seasons": _different(read.cultivar, read.season, len(read.seasons) or 1, count),
    }


def _different(owner: np.ndarray, what: np.ndarray, kinds: int, owners: int) -> np.ndarray:
    """How many different ``what`` (0 … kinds - 1) each owner has."""
    return np.bincount(np.unique(owner * kinds + what) // kinds, minlength=owners)
