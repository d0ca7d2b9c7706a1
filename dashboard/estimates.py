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

from dashboard.traits import TRAITS

METHOD = "raw averages"
LEVEL = 0.90

# What a reading cannot go beyond, so that no interval ends at a negative share or a rating of 11.
_BOUNDS = {"share": (0.0, 100.0), "rating": (0.0, 10.0)}
_ABOVE_ZERO = (0.0, np.inf)

COLUMNS = ("estimate", "se", "low", "high", "fruit", "samples", "sites", "seasons", "method")
COUNTS = ("fruit", "samples", "sites", "seasons")


def pooled(values: np.ndarray, owner: np.ndarray, owners: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Mean, its standard error and the half-width of its 90 % t interval, one each for ``owners`` owners.

    ``values`` (n,) are finite; ``owner`` (n,) says whose each is (0 … owners - 1). The spread about the
    owners' means is pooled, with n - (owners seen) degrees of freedom; without any, se and half-width are
    NaN. Owners without values are NaN throughout.
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


def trait_values(summaries: pd.DataFrame, trait: str) -> pd.DataFrame:
    """One row a cultivar of ``summaries`` (sorted by name) with the COLUMNS above, in SI units.

    The estimate is the mean of the cultivar's site-season means, each the mean of its samples; se and the
    90 % interval come from the pooled spread and stay NaN where nothing can be pooled. ``fruit`` counts the
    fruit measured and is 0 for traits judged once a sample. Cultivars without a reading stay, with NaN.
    """
    codes, names = pd.factorize(summaries["cultivar"], sort=True)
    return _trait_values(summaries, trait, codes, pd.Index(names, name="cultivar"), _site_seasons(summaries))


def cultivar_values(summaries: pd.DataFrame) -> dict[str, pd.DataFrame]:
    """``trait_values`` of every trait, by trait key."""
    codes, names = pd.factorize(summaries["cultivar"], sort=True)
    index, site_seasons = pd.Index(names, name="cultivar"), _site_seasons(summaries)
    return {trait: _trait_values(summaries, trait, codes, index, site_seasons) for trait in TRAITS}


def _site_seasons(summaries: pd.DataFrame) -> tuple[np.ndarray, np.ndarray]:
    """The number of the site and of the season of each sample, from 0."""
    site, _ = pd.factorize(summaries["site"], use_na_sentinel=False)
    season, _ = pd.factorize(summaries["season"], use_na_sentinel=False)
    return site.astype(np.int64), season.astype(np.int64)


def _trait_values(
    summaries: pd.DataFrame,
    trait: str,
    codes: np.ndarray,
    index: pd.Index,
    site_seasons: tuple[np.ndarray, np.ndarray],
) -> pd.DataFrame:
    count = len(index)
    readings = _floats(summaries, trait)
    seen = np.isfinite(readings) & (codes >= 0)
    owner, site, season = codes[seen].astype(np.int64), site_seasons[0][seen], site_seasons[1][seen]
    sites, seasons = (int(numbers.max(initial=-1)) + 1 or 1 for numbers in site_seasons)

    # One whole number a cultivar × site × season: sorting those is far quicker than sorting triples.
    cells, cell_of = np.unique((owner * sites + site) * seasons + season, return_inverse=True)
    cell_means = np.bincount(cell_of, weights=readings[seen]) / np.bincount(cell_of)
    estimate, se, half = pooled(cell_means, cells // (sites * seasons), count)

    floor, ceiling = _BOUNDS.get(TRAITS[trait].quantity, _ABOVE_ZERO)
    fruit = np.nan_to_num(_floats(summaries, f"{trait}_n")[seen])
    return pd.DataFrame(
        {
            "estimate": estimate,
            "se": se,
            "low": np.fmax(estimate - half, np.where(np.isnan(half), np.nan, floor)),
            "high": np.fmin(estimate + half, np.where(np.isnan(half), np.nan, ceiling)),
            "fruit": np.bincount(owner, weights=fruit, minlength=count).astype(int),
            "samples": np.bincount(owner, minlength=count),
            "sites": _different(owner, site, sites, count),
            "seasons": _different(owner, season, seasons, count),
            "method": pd.Series(METHOD, index=index, dtype="str"),
        },
        index=index,
    )


def _floats(frame: pd.DataFrame, column: str) -> np.ndarray:
    """A column as floats; all NaN where the frame has none."""
    if column not in frame:
        return np.full(len(frame), np.nan)
    return frame[column].to_numpy(dtype=float, na_value=np.nan)


def _different(owner: np.ndarray, what: np.ndarray, kinds: int, owners: int) -> np.ndarray:
    """How many different ``what`` (0 … kinds - 1) each owner has."""
    return np.bincount(np.unique(owner * kinds + what) // kinds, minlength=owners)
