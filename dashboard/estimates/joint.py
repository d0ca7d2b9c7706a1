"""Values of several traits predicted together: what a cultivar shows in one trait says something of the others.

Each trait is fitted alone first. In units of the spread between cultivars, what its fit says of cultivar i is one reading

    d_i = c_i + noise,     variance of the noise r_i = (1 - h_i) / h_i,     h_i the reliability, the fixed effects taken as known

(``deviation`` / h). Over the traits the c_i have correlations G and the noise R (``together``), less where two traits were
measured in other site-seasons. So for each cultivar, by multi-trait prediction (Henderson & Quaas 1976, J. Animal Science 43:
1188-1197),

    c = G (G + E_i)^-1 d_i,      error covariance G - G (G + E_i)^-1 G,      E_i = sqrt(r) R overlap sqrt(r)

G is found from the products of the deviations of two traits, less what the noise alone lets expect (unbiased, and exactly the
REML estimate where every cultivar has as many readings). A correlation that its own error could make is drawn to zero: the
gain of a true one goes with its square, and so does the harm of a chance one.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

import numpy as np
import pandas as pd

from dashboard.estimates.plan import CULTIVAR
from dashboard.estimates.scale import Scale
from dashboard.estimates.together import Together, possible
from dashboard.estimates.worth import Worth

_NEARLY_ALL = 0.999  # no value is taken as more reliable than this, nor two traits as more alike
_NOTHING = 1e-8  # nor as less


@dataclass(frozen=True, eq=False)
class Joint:
    """By cultivar, in units of the spread between cultivars: ``value`` (cultivars, traits), ``error`` (cultivars, traits, traits)."""

    value: np.ndarray
    error: np.ndarray


def between(
    deviation: np.ndarray, reliability: np.ndarray, noise: np.ndarray, freedom: np.ndarray, rough: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Correlations of what cultivars are worth in several traits, unbiased, and their error variances.

    Parameters
    ----------
    deviation, reliability : ndarray of float
        (cultivars, traits) predicted deviations in units of the spread between cultivars, and how reliable each is; 0 without a
        reading.
    noise : ndarray of float
        (cultivars, traits, traits) correlations of the errors of two readings.
    freedom : ndarray of float
        (traits,) what of each cultivar is left after the fixed effects of the trait, 0 to 1.
    rough : ndarray of float
        (traits, traits) error variances of ``noise``.

    Returns
    -------
    correlation, variance : ndarray of float
        (traits, traits) each.

    Source
    ------
    The first step of Fisher's scoring from no correlation at all; on balanced data the analysis of variance.
    """
    h = reliability
    weight = h.T @ h
    known = np.maximum(weight, _NOTHING)
    size = np.sqrt(h * (1 - h))
    lent = size[:, :, None] * size[:, None, :] * noise
    product = deviation.T @ deviation / np.sqrt(freedom * freedom[:, None])
    found = (product - lent.sum(axis=0)) / known
    expected = h[:, :, None] * h[:, None, :] * np.clip(found, -1, 1) + lent
    of_product = np.einsum("it,iu->tu", h, h) + np.square(expected).sum(axis=0)
    of_noise = np.square((size[:, :, None] * size[:, None, :] * (noise != 0)).sum(axis=0)) * rough
    variance = (of_product + of_noise) / np.square(known)
    np.fill_diagonal(found, 1.0)
    np.fill_diagonal(variance, 0.0)
    return np.where(weight > 0, found, 0.0), np.where(weight > 0, variance, 0.0)


def drawn_in(correlation: np.ndarray, variance: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Correlations drawn to zero by as much as their own errors could make of nothing, and such as can be together; and the error
    variances that are left then, with what is seen as a guide to how large such correlations are."""
    square = np.maximum(np.square(correlation), np.finfo(float).tiny)
    kept = correlation * np.maximum(1 - variance / square, 0.0)
    kept = np.clip(kept, -_NEARLY_ALL, _NEARLY_ALL)
    np.fill_diagonal(kept, 1.0)
    return possible(kept), variance * square / (square + variance)


def predicted(
    deviation: np.ndarray,
    reliability: np.ndarray,
    G: np.ndarray,
    noise: np.ndarray,
    rough: tuple[np.ndarray | float, np.ndarray | float] = (0.0, 0.0),
) -> Joint:
    """The joint prediction.

    Parameters
    ----------
    deviation, reliability, noise : ndarray of float
        As of ``between``.
    G : ndarray of float
        (traits, traits) correlations of what cultivars are worth.
    rough : pair of ndarray of float
        (traits, traits) error variances of ``G`` and of ``noise``.

    Returns
    -------
    Joint

    Source
    ------
    Henderson & Quaas (1976), J. Animal Science 43: 1188-1197. What errors gain by the correlations being estimated: Prasad & Rao
    (1990), JASA 85: 163-171, twice the variance of the prediction's move with each of them.
    """
    h = np.clip(reliability, _NOTHING, _NEARLY_ALL)
    r = np.sqrt((1 - h) / h)
    scale = r[:, :, None] * r[:, None, :]
    inverse = np.linalg.inv(G + scale * noise)
    gain = G @ inverse
    error = G - gain @ G
    left = np.eye(len(G)) - gain
    for slope, weight in ((left, rough[0]), (gain, rough[1] * np.square(scale * (noise != 0)))):
        weight = np.broadcast_to(weight, noise.shape)
        more = np.einsum("ivt,itu,iuu->iv", np.square(slope), weight, inverse)
        more += np.einsum("ivt,ivu,itu,itu->iv", slope, slope, weight, inverse, optimize=True)
        places = np.arange(len(G))
        error[:, places, places] += 2 * more
    return Joint(np.einsum("itu,iu->it", gain, deviation / h), error)


def joined(
    worths: Mapping[str, Worth], found: Together, wanted: Collection[str] | None = None
) -> dict[str, Worth]:
    """What cultivars are worth once the traits are told together.

    Parameters
    ----------
    worths : Mapping of str to Worth
        By trait, each fitted alone.
    found : Together
        How their errors go together.
    wanted : collection of str, optional
        The traits that are asked for; all of them without. The others tell of them all the same.

    Returns
    -------
    dict of str to Worth
        By trait; ``alike`` holds how the errors of a cultivar's values go together. Traits without a model stay as they are.
    """
    order = [str(trait) for trait in found.correlation]
    told_alone = {trait: one.signal for trait, one in worths.items() if one.signal is not None}
    names = [trait for trait in order if trait in told_alone]
    out = {trait: one for trait, one in worths.items() if wanted is None or trait in wanted}
    if len(names) < 2:
        return out
    signals = [told_alone[trait] for trait in names]
    h, deviation = (
        np.nan_to_num(np.column_stack([getattr(one, what) for one in signals]))
        for what in ("reliability", "deviation")
    )
    at = [order.index(trait) for trait in names]
    noise, rough = drawn_in(found.correlation.to_numpy()[np.ix_(at, at)], found.variance[np.ix_(at, at)])
    own = found.overlap[np.ix_(range(len(h)), at, at)] * noise
    own[:, range(len(at)), range(len(at))] = 1.0
    freedom = np.array([one.freedom for one in signals])
    G, of_G = drawn_in(*between(deviation, h, own, freedom, rough))
    told = predicted(deviation, h, G, own, (of_G, rough))
    size = np.sqrt(np.diagonal(told.error, axis1=1, axis2=2))
    correlation = told.error / size[:, :, None] / size[:, None, :]
    for place, trait in enumerate(names):
        if trait not in out:
            continue
        alike = np.zeros((len(h), len(order)))
        alike[:, at] = correlation[:, place]
        left = np.square(size[:, place]) / (1 - np.clip(h[:, place], _NOTHING, _NEARLY_ALL))
        worth_it = left < 1  # a value that would err by more than alone stays as it is
        moved = np.where(worth_it, told.value[:, place] - deviation[:, place], 0.0)
        out[trait] = _moved(worths[trait], moved, np.where(worth_it, left, 1.0), h[:, place], alike)
    return out


def _moved(worth: Worth, moved: np.ndarray, left: np.ndarray, h: np.ndarray, alike: np.ndarray) -> Worth:
    """A worth whose cultivars move by ``moved`` (in spreads between cultivars) and of whose error, the fixed effects taken as
    known, ``left`` is left."""
    signal, between = worth.signal, worth.variance[CULTIVAR]
    assert signal is not None
    step = np.sqrt(between) * moved
    gained = between * (1 - h) * (1 - left)
    pev = np.maximum(worth.pev - gained, _NOTHING * between)
    own = np.maximum(worth.own - gained, 0.0)
    common = np.square(worth.shared).sum(axis=1)
    with np.errstate(invalid="ignore", divide="ignore"):
        shared = (
            worth.shared * np.sqrt(np.where(common > 0, np.maximum(pev - own, 0.0) / common, 0.0))[:, None]
        )
    whole = worth.usual + np.sqrt(between) * signal.deviation
    at = {
        site: _told(frame, worth.scale(site), None, signal.follows[site] * step, np.square(signal.follows[site]) * gained,
                    signal.spread[site])
        for site, frame in worth.at.items()
    }  # fmt: skip
    values = _told(worth.values, worth.scale(), whole, step, gained, between)
    return replace(worth, values=values, at=at, pev=pev, own=own, shared=shared, alike=alike, signal=None)


def _told(
    frame: pd.DataFrame,
    scale: Scale,
    alone: np.ndarray | None,
    step: np.ndarray,
    gained: np.ndarray,
    spread: float,
) -> pd.DataFrame:
    """Values moved by ``step`` from what they are ``alone`` (from those told without), and an error variance less by what was ``gained``;
    all three on the scale of the fit."""
    fitted = scale.frame(frame)
    before = np.square(fitted["se"].to_numpy())
    se = np.sqrt(np.maximum(before - gained, _NOTHING * before))
    reliability = np.clip(frame["reliability"] + gained / spread, 0.0, 1.0)
    if alone is None:
        middle = fitted["estimate"].to_numpy() + step
    else:
        middle = scale.middle(alone + step, se, reliability.to_numpy())
    return frame.assign(**scale.interval(middle, se, fitted["df"].to_numpy()), reliability=reliability)
