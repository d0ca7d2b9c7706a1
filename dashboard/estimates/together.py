"""How errors of several traits go together: what is left of the site-season means of a cultivar once cultivar and
site-season are taken out, and how far two traits were measured in the same site-seasons.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.estimates.readings import readings
from dashboard.terms.traits import TRAITS

FEWEST = 30  # site-season means of a pair of traits below which nothing is said of how they go together
_SWEEPS = 20


@dataclass(frozen=True, eq=False)
class Together:
    """``correlation`` (traits, traits) of errors, its error ``variance``, and ``overlap`` (cultivars, traits, traits): which part of
    what two values of a cultivar rest on they have in common, 0 to 1."""

    correlation: pd.DataFrame
    variance: np.ndarray
    overlap: np.ndarray


def together(
    summaries: pd.DataFrame, traits: Sequence[str] = tuple(TRAITS), equal_firmness: bool = False
) -> Together:
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
    Together
        Cultivars sorted by name.
    """
    cells, owner, where, owners = _cells(summaries, traits)
    places = int(where.max(initial=-1)) + 1
    left = {trait: _left(cells[:, at], owner, where, owners, places) for at, trait in enumerate(traits)}
    if equal_firmness and "firmness" in left:
        for trait in ("size", "sugar"):
            if trait in left:
                left[trait] = _apart_from(left[trait], left["firmness"])
    raw = pd.DataFrame(left).corr(min_periods=FEWEST).to_numpy(copy=True)
    told = np.isfinite(raw)
    raw[~told] = 0.0
    np.fill_diagonal(raw, 1.0)
    found = possible(raw)
    seen = np.isfinite(cells).astype(float)
    both = np.array([np.bincount(owner, column, owners) for column in _products(seen)])
    overlap = both.reshape(len(traits), len(traits), owners).transpose(2, 0, 1)
    own = np.sqrt(np.maximum(np.diagonal(overlap, axis1=1, axis2=2), 1.0))
    known = np.isfinite(pd.DataFrame(left).to_numpy(float)).astype(float)
    # Each cultivar and each site-season takes one away.
    freedom = np.maximum(known.T @ known * _free_share(known, owner, where), 1.0)
    variance = np.where(told, np.square(1 - np.square(found)) / freedom, 0.0)
    return Together(
        pd.DataFrame(found, index=list(traits), columns=list(traits)),
        variance,
        overlap / own[:, :, None] / own[:, None, :],
    )


def possible(correlation: np.ndarray) -> np.ndarray:
    """(…, traits, traits) the nearest thing to it that errors can have: pairs counted over different samples need not fit
    together."""
    values, vectors = np.linalg.eigh(correlation)
    if values[..., 0].min(initial=1.0) > 1e-6:
        return correlation
    mended = (vectors * np.maximum(values, 1e-6)[..., None, :]) @ np.swapaxes(vectors, -1, -2)
    size = np.sqrt(np.diagonal(mended, axis1=-2, axis2=-1))
    return mended / size[..., None, :] / size[..., :, None]


def _cells(summaries: pd.DataFrame, traits: Sequence[str]) -> tuple[np.ndarray, np.ndarray, np.ndarray, int]:
    """(cells, traits) means of each cultivar in each site-season, whose they are and which site-season, and how many cultivars."""
    codes, values = [], []  # of a trait no more is kept: its readings are eleven columns
    for trait in traits:
        read = readings(summaries, trait)
        seasons = len(read.seasons) or 1
        width = (len(read.sites) or 1) * seasons
        codes.append(read.cultivar * width + read.site * seasons + read.season)
        values.append(read.y)
    owners = len(read.cultivars)
    cells, place = np.unique(np.concatenate(codes), return_inverse=True)
    mean, start = np.full((len(cells), len(traits)), np.nan), 0
    for at, y in enumerate(values):
        here = place[start : start + len(y)]
        start += len(y)
        count = np.bincount(here, minlength=len(cells))
        with np.errstate(invalid="ignore"):
            mean[:, at] = np.bincount(here, y, len(cells)) / count
    where = np.unique(cells % width, return_inverse=True)[1]
    return mean, cells // width, where, owners


def _products(seen: np.ndarray) -> np.ndarray:
    """(traits * traits, cells) where both of a pair were seen."""
    return (seen[:, :, None] * seen[:, None, :]).reshape(len(seen), seen.shape[1] ** 2).T


def _free_share(known: np.ndarray, owner: np.ndarray, where: np.ndarray) -> float:
    """Degrees of freedom a site-season mean leaves, once cultivars and site-seasons are taken out, by the trait seen most."""
    if not known.size or not known.any():
        return 0.0
    most = known[:, int(known.sum(axis=0).argmax())] > 0
    taken = len(np.unique(owner[most])) + len(np.unique(where[most])) - 1
    return max(1 - taken / most.sum(), 0.0)


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
