"""Joint draws of what cultivars are worth in several traits: one draw is one way the truth may lie, given the records.

Within a trait the errors of the cultivars go together as the model says (they share their seasons). Across traits they go
together because they come from the same fruit: a sample picked too firm reads small and less sweet too. How much is taken
from the records: the correlation of what is left of the site-season means of a cultivar once cultivar and site-season are
taken out. Of an error that is normal but for its rough variance, Student's t is made as always, dividing a draw of the normal
by the root of one of chi-square over its degrees of freedom.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import pandas as pd
from scipy import stats

from dashboard.estimates.one_season import BORROWED, long_run
from dashboard.estimates.readings import bounds
from dashboard.estimates.worth import Worth
from dashboard.terms.traits import TRAITS

COUNT, SEED = 1000, 41
FEWEST = 30  # site-season means of a pair of traits below which nothing is said of how they go together
_SWEEPS = 20
_PARTS_OF_DF = np.linspace(0.0, 1.0, 41)  # one over the degrees of freedom, from none doubtful to one


def together(
    summaries: pd.DataFrame, traits: Sequence[str] = tuple(TRAITS), equal_firmness: bool = False
) -> pd.DataFrame:
    """How the errors of values in several traits go together.

    Parameters
    ----------
    summaries : DataFrame
        One row a sample, SI units.
    traits : sequence of str
        Keys of ``TRAITS``.
    equal_firmness : bool
        Of size and sugar once what goes with firmness is taken out.

    Returns
    -------
    DataFrame
        (traits, traits) correlations.
    """
    keys = ["cultivar", "site", "season"]
    cells = summaries.groupby(keys, observed=True)[list(traits)].mean().reset_index()
    owner, owners = pd.factorize(cells["cultivar"])
    where = cells.groupby(["site", "season"], observed=True).ngroup().to_numpy()
    places = range(int(where.max(initial=-1)) + 1)
    left = {
        trait: _left(cells[trait].to_numpy(float), owner, where, len(owners), len(places)) for trait in traits
    }
    if equal_firmness and "firmness" in left:
        for trait in ("size", "sugar"):
            if trait in left:
                left[trait] = _apart_from(left[trait], left["firmness"])
    raw = pd.DataFrame(left).corr(min_periods=FEWEST).to_numpy(copy=True)
    raw[~np.isfinite(raw)] = 0.0
    np.fill_diagonal(raw, 1.0)
    return pd.DataFrame(possible(raw), index=list(traits), columns=list(traits))


def errors(
    worths: Mapping[str, Worth], correlation: pd.DataFrame, count: int = COUNT, seed: int = SEED
) -> dict[str, np.ndarray]:
    """Errors of the values, drawn jointly, the same whenever asked for.

    Parameters
    ----------
    worths : Mapping of str to Worth
        By trait.
    correlation : DataFrame
        (traits, traits) as from ``together``.
    count, seed : int
        How many draws, and where they begin.

    Returns
    -------
    dict of str to ndarray of float
        By trait (count, cultivars), in units of the standard errors. Traits without a model are left out; 0 for a cultivar without
        a reading.
    """
    random = np.random.default_rng(seed)
    traits = [trait for trait in worths if worths[trait].modelled]
    mix = np.linalg.cholesky(correlation.loc[traits, traits].to_numpy()).astype(np.float32)
    alone, drawn = [], {}
    for row, trait in enumerate(traits):
        alone.append(of_its_own(worths[trait], count, random))
        mixed = alone[0] * mix[row, 0]
        for other in range(1, row + 1):
            mixed += alone[other] * mix[row, other]
        drawn[trait] = mixed * rough(worths[trait].values["df"].to_numpy(), random.random(count))
    return drawn


def long_run_draws(worth: Worth, error: np.ndarray, site: str = "") -> np.ndarray:
    """Long-run means, drawn.

    Records of one season borrow the usual ratio; at a site, errors go together as they do over sites.

    Parameters
    ----------
    worth : Worth
    error : ndarray of float
        (draws, cultivars) as from ``errors``.
    site : str
        At one site; "" over all of them.

    Returns
    -------
    ndarray of float
        (draws, cultivars) in SI units, within what can be measured; NaN without a reading.
    """
    told = worth.values
    if worth.plan.one_season:
        told = long_run(worth, BORROWED)
    elif site in worth.at:
        told = worth.at[site].reindex(worth.values.index)
    low, high = bounds(worth.trait)
    estimate, se = (told[name].to_numpy(dtype=np.float32) for name in ("estimate", "se"))
    drawn = error * se
    drawn += estimate
    if np.isfinite([low, high]).any():
        np.clip(drawn, low, high, out=drawn)
    return drawn


def of_its_own(worth: Worth, count: int, random: np.random.Generator) -> np.ndarray:
    """(count, cultivars) errors of one trait, each with variance 1."""
    own, shared = np.nan_to_num(worth.own), np.nan_to_num(worth.shared)
    size = np.sqrt(own + np.square(shared).sum(axis=1))
    size[size == 0] = 1.0
    drawn = random.standard_normal((count, len(own)), dtype=np.float32)
    drawn *= (np.sqrt(own) / size).astype(np.float32)
    common = random.standard_normal((count, shared.shape[1]), dtype=np.float32)
    drawn += common @ (shared / size[:, None]).T.astype(np.float32)
    return drawn


def rough(df: np.ndarray, chance: np.ndarray) -> np.ndarray:
    """(draws, cultivars) what makes normal errors those of Student's t: one ``chance`` a draw, for all cultivars alike."""
    table = np.ones((len(_PARTS_OF_DF), len(chance)))
    freedom = 1 / _PARTS_OF_DF[1:, None]
    table[1:] = np.sqrt(freedom / stats.chi2.ppf(chance, freedom))
    part = 1 / np.clip(np.nan_to_num(df, nan=np.inf), 1.0, np.inf)
    place = np.clip(np.searchsorted(_PARTS_OF_DF, part, side="right") - 1, 0, len(_PARTS_OF_DF) - 2)
    step = (part - _PARTS_OF_DF[place]) / (_PARTS_OF_DF[1] - _PARTS_OF_DF[0])
    return ((1 - step)[:, None] * table[place] + step[:, None] * table[place + 1]).T.astype(np.float32)


def _left(value: np.ndarray, owner: np.ndarray, where: np.ndarray, owners: int, places: int) -> np.ndarray:
    """What is left of site-season means once those of cultivar and of site-season are taken out in turn; NaN where the
    cultivar has no other."""
    known = np.isfinite(value)
    left = np.where(known, value, 0.0)
    for _ in range(_SWEEPS):
        for by, many in ((owner, owners), (where, places)):
            seen = np.bincount(by, weights=known, minlength=many)
            left -= np.where(
                known, (np.bincount(by, weights=left, minlength=many) / np.maximum(seen, 1))[by], 0
            )
    several = np.bincount(owner, weights=known, minlength=owners)[owner] > 1
    return np.where(known & several, left, np.nan)


def _apart_from(left: np.ndarray, firmness: np.ndarray) -> np.ndarray:
    both = np.isfinite(left) & np.isfinite(firmness)
    square = float(np.square(firmness[both]).sum())
    return left - firmness * (float(left[both] @ firmness[both]) / square if square > 0 else 0.0)


def possible(correlation: np.ndarray) -> np.ndarray:
    """(traits, traits) the nearest thing to it that errors can have: pairs counted over different samples need not fit together."""
    values, vectors = np.linalg.eigh(correlation)
    if values[0] > 1e-6:
        return correlation
    mended = vectors * np.maximum(values, 1e-6) @ vectors.T
    size = np.sqrt(np.diag(mended))
    return mended / size / size[:, None]
