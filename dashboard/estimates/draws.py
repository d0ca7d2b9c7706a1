"""Joint draws of what cultivars are worth in several traits: one draw is one way the truth may lie, given the records.

Within a trait the errors of the cultivars go together as the model says (they share their seasons). Across traits they go
together because they come from the same fruit, and because what a cultivar shows in one trait was used in another (``joint``).
Of an error that is normal but for its rough variance, Student's t is made as always, dividing a draw of the normal
by the root of one of chi-square over its degrees of freedom.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping

import numpy as np
from scipy import stats

from dashboard.estimates.one_season import BORROWED, long_run
from dashboard.estimates.together import possible
from dashboard.estimates.worth import Worth
from dashboard.terms.traits import TRAITS

COUNT, SEED = 1000, 41
_PARTS_OF_DF = np.linspace(0.0, 1.0, 41)  # one over the degrees of freedom, from none doubtful to one


def error_correlation(worths: Mapping[str, Worth], leading: Collection[str] = ()) -> np.ndarray:
    """How the errors of a cultivar's values go together.

    Parameters
    ----------
    worths : Mapping of str to Worth
        By trait, each of TRAITS; those told alone go with nothing.
    leading : collection of str
        Traits told together apart from the others: what they say of a pair is taken.

    Returns
    -------
    ndarray of float
        (cultivars, traits, traits) in the order of ``worths``.
    """
    order, count = list(TRAITS), len(next(iter(worths.values())).values)
    found = np.zeros((count, len(worths), len(worths)))
    for trait in sorted(worths, key=lambda one: one in leading):
        row, alike = list(worths).index(trait), worths[trait].alike
        if alike.size:
            found[:, row] = found[:, :, row] = alike[:, [order.index(other) for other in worths]]
    places = np.arange(len(worths))
    found[:, places, places] = 1.0
    return possible(found)


def errors(
    worths: Mapping[str, Worth], correlation: np.ndarray, count: int = COUNT, seed: int = SEED
) -> dict[str, np.ndarray]:
    """Errors of the values, drawn jointly, the same whenever asked for.

    Parameters
    ----------
    worths : Mapping of str to Worth
        By trait.
    correlation : ndarray of float
        (cultivars, traits, traits) as from ``error_correlation``, in the order of ``worths``.
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
    at = [place for place, trait in enumerate(worths) if trait in traits]
    mix = np.linalg.cholesky(correlation[:, at][:, :, at]).astype(np.float32)
    alone, drawn = [], {}
    for row, trait in enumerate(traits):
        alone.append(of_its_own(worths[trait], count, random))
        mixed = alone[0] * mix[:, row, 0]
        for other in range(1, row + 1):
            mixed += alone[other] * mix[:, row, other]
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
    told, scale = worth.values, worth.scale()
    if worth.plan.one_season:
        told = long_run(worth, BORROWED)
    elif site in worth.at:
        told, scale = worth.at[site].reindex(worth.values.index), worth.scale(site)
    fitted = scale.frame(told)
    drawn = error * fitted["se"].to_numpy(dtype=np.float32)
    drawn += fitted["estimate"].to_numpy(dtype=np.float32)
    return np.asarray(scale.told(drawn), dtype=np.float32)


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
