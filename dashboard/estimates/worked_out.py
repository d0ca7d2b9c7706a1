"""Errors of a trait that somebody works out from measured ones, drawn so that they go together with theirs and leave them as they are."""

from __future__ import annotations

import zlib
from collections.abc import Mapping

import numpy as np
import pandas as pd

from dashboard.estimates.draws import of_its_own, rough
from dashboard.estimates.worth import Worth

MOST_TOLD = 0.998  # of its error's variance, by the errors of measured traits


def worked_out_errors(worth: Worth, drawn: Mapping[str, np.ndarray], alike: pd.Series) -> np.ndarray:
    """What measured traits tell of its error, and the rest of its own.

    Parameters
    ----------
    worth : Worth
        Of the worked-out trait; cultivars as in those of the measured ones.
    drawn : Mapping of str to ndarray of float
        By measured trait (draws, cultivars) errors in units of their standard errors, as from ``errors``.
    alike : Series
        By trait the correlation of its error with the worked-out one's.

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
    among = np.stack([drawn[trait].ravel() for trait in traits])
    together = np.corrcoef(among) if len(traits) > 1 else np.ones((1, 1))
    by = np.linalg.lstsq(together, alike[traits].to_numpy(dtype=float), rcond=1e-3)[0]
    told = float(by @ together @ by)
    if told > MOST_TOLD:  # pairs counted over different samples need not fit together
        by, told = by * np.sqrt(MOST_TOLD / told), MOST_TOLD
    found = np.sqrt(1 - told) * own
    for trait, part in zip(traits, by, strict=True):
        spread = drawn[trait].std(axis=0)
        found += np.float32(part) * np.divide(
            drawn[trait], spread, out=np.zeros_like(drawn[trait]), where=spread > 0
        )
    return found.astype(np.float32)
