"""Errors of a trait that somebody works out from measured ones, drawn so that they go together with theirs and leave them as they are."""

from __future__ import annotations

import zlib
from collections.abc import Mapping

import numpy as np
import pandas as pd

from dashboard.estimates.draws import of_its_own, rough
from dashboard.estimates.worth import Worth

MOST_TOLD = 0.998  # of its error's variance, by the errors of measured traits


def worked_out_errors(
    worth: Worth, drawn: Mapping[str, np.ndarray], alike: pd.Series, among: pd.DataFrame | None = None
) -> np.ndarray:
    """What measured traits tell of its error, and the rest of its own.

    Parameters
    ----------
    worth : Worth
        Of the worked-out trait; cultivars as in those of the measured ones.
    drawn : Mapping of str to ndarray of float
        By measured trait (draws, cultivars) errors in units of their standard errors, as from ``errors``.
    alike : Series
        By trait the correlation of its error with the worked-out one's.
    among : DataFrame, optional
        (traits, traits) correlations of the measured ones' errors that go with ``alike``; as drawn without.

    Returns
    -------
    ndarray of float
        (draws, cultivars) in units of its standard errors; empty without a model.
    """
    traits = [trait for trait in drawn if abs(alike.get(trait, 0.0)) > 0]
    if not worth.modelled or not drawn:
        return np.empty((0, len(worth.values)))
    count = len(next(iter(drawn.values())))
    random = np.random.default_rng(zlib.crc32(worth.trait.encode()))  # the same whenever asked for
    own = of_its_own(worth, count, random) * rough(worth.values["df"].to_numpy(), random.random(count))
    if not traits:
        return own
    if among is None:
        seen = np.corrcoef([drawn[trait].ravel() for trait in traits])
        among = pd.DataFrame(np.atleast_2d(seen), traits, traits)
    together = among.loc[traits, traits].to_numpy()
    by = np.linalg.lstsq(together, alike[traits].to_numpy(dtype=float), rcond=1e-3)[0]
    told = float(by @ together @ by)
    if told > MOST_TOLD:  # pairs counted over different samples need not fit together
        by, told = by * np.sqrt(MOST_TOLD / told), MOST_TOLD
    common = np.zeros_like(own)
    for trait, part in zip(traits, by, strict=True):
        common += part * drawn[trait] / _spread(drawn[trait])
    found = np.sqrt(1 - told) * own + np.sqrt(told) * common / _spread(common)
    return found.astype(np.float32)


def _spread(drawn: np.ndarray) -> np.ndarray:
    """(cultivars,) standard deviations of draws; 1 where there is none."""
    spread = drawn.std(axis=0)
    return np.where(spread > 0, spread, 1.0)
