"""Size where small fruit were left on the tree: sample means worked back to those of all fruit.

Where only fruit of ``floor`` mm and more were sampled, those of a sample of mean m and spread sigma are a normal law cut off below at
alpha = (floor - mu) / sigma, with (Johnson, Kotz & Balakrishnan 1994, Continuous Univariate Distributions 1, ch. 13.10)

    mean  mu + sigma lambda,     variance  sigma^2 v,      lambda = pdf(alpha) / sf(alpha),     v = 1 - lambda (lambda - alpha)

The fruit of one sample are too few to turn that round. So it is done near the mean mu0 that cultivar and site-season let expect of the
sample, along the slope there, which is v: mu = mu0 + (m - mean there) / v, known as by n v fruit. That gives a better mu0, and so
on until these stay. What is seen bends with what hangs, so samples that scatter about mu0 are seen too large on average: the mean and v
are those over all samples that may be, tau apart. The spread sigma of all fruit is found from the pooled squares within samples, which are
expected to be sigma^2 v a degree of freedom, tau from how far samples lie from mu0. How skewed fruit are is seen by how their squares
fall towards the cut, too: each skewness counts by its likelihood, with Edgeworth's first term added to the normal law.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from scipy import stats

_SWEEPS, _ROUNDS, _STILL = 20, 40, 1e-3
_SKEWNESS = np.linspace(0.0, 0.8, 9)  # of all fruit of a sample: to the large side, if any (a choice of ours)
_ALPHAS = np.concatenate([np.linspace(-40.0, -8.0, 32, endpoint=False), np.linspace(-8.0, 2.0, 401)])
_NODES, _WEIGHTS = np.polynomial.hermite_e.hermegauss(11)


class Whole(NamedTuple):
    """By sample: mean of all fruit, how many of all it is known by, and squares within the sample as of all; and the share of all fruit,
    over the samples, that is under the floor."""

    y: np.ndarray
    n: np.ndarray
    ss: np.ndarray
    under: float = 0.0


def whole(
    y: np.ndarray, n: np.ndarray, ss: np.ndarray, cultivar: np.ndarray, environment: np.ndarray, floor: float
) -> Whole:
    """Means (R,) of samples of ``n`` fruit of ``floor`` and more, as of all fruit; as they are where fruit do not differ."""
    freedom = np.maximum(n - 1, 0)
    squares = float(np.nansum(ss))
    if not squares > 0 or not freedom.sum() > 0:
        return Whole(y, n, ss)
    free = max(1 - (len(np.unique(cultivar)) + len(np.unique(environment)) - 1) / len(y), 0.0)
    ways, told, sigma, tau = [], [], np.sqrt(squares / freedom.sum()), 0.0
    mu, known, expected = y, n, _smooth(y, n, cultivar, environment)
    for skewness in _SKEWNESS:
        for _ in range(_ROUNDS):
            cut = _cut((floor - expected) / sigma, tau / sigma, skewness)
            mu = floor - sigma * cut.alpha + (y - floor - sigma * cut.excess) / cut.slope
            known = np.clip(n * np.square(cut.slope) / cut.v, 1.0, np.maximum(n, 1.0))
            left = mu - _smooth(mu, known, cultivar, environment)
            before, expected = expected, mu - left
            sigma = np.sqrt(squares / float((freedom * cut.v).sum()))
            apart = known @ np.square(left) - free * len(y) * sigma**2
            tau = np.sqrt(max(apart, 0.0) / known.sum() / free) if free else 0.0
            if np.abs(expected - before).max() < _STILL * sigma:
                break
        within = sigma**2 * cut.v
        ways.append((mu, known, ss / cut.v, stats.norm.cdf(cut.alpha)))
        told.append(np.nansum(freedom * np.log(within) + ss / within))
    likely = np.exp((min(told) - np.array(told)) / 2)
    y, n, ss, under = (np.average(one, axis=0, weights=likely) for one in zip(*ways, strict=True))
    return Whole(y, np.maximum(n, 1.0), ss, float(under.mean()))


class _Over(NamedTuple):
    """Of what is over a cut ``alpha``, in spreads: how far its mean lies above the cut, how that follows the mean of all, and the variance."""

    alpha: np.ndarray
    excess: np.ndarray
    slope: np.ndarray
    v: np.ndarray


def _of(alpha: np.ndarray, skewness: float = 0.0) -> _Over:
    """Of a normal law, or one that is skewed a little (Edgeworth's first term)."""
    k, density = skewness / 6, stats.norm.pdf(alpha)
    over = stats.norm.sf(alpha) + k * density * (np.square(alpha) - 1)
    mean = density * (1 + k * alpha**3) / over
    square = (stats.norm.sf(alpha) + alpha * density + k * density * (alpha**4 + alpha**2 + 2)) / over
    falls = density * (1 + k * (alpha**3 - 3 * alpha)) / over * (mean - alpha)
    return _Over(alpha, mean - alpha, 1 - falls, square - np.square(mean))


def _cut(alpha: np.ndarray, tau: float = 0.0, skewness: float = 0.0) -> _Over:
    """The same on average over samples whose means lie ``tau`` apart. A mean is worked back to two spreads below the cut at most: there a
    fortieth of the fruit is over it."""
    over = _of(_ALPHAS[:, None] + tau * _NODES, skewness)
    alpha = np.clip(alpha, _ALPHAS[0], _ALPHAS[-1])
    return _Over(alpha, *(np.interp(alpha, _ALPHAS, one @ _WEIGHTS / _WEIGHTS.sum()) for one in over[1:]))


def _smooth(y: np.ndarray, n: np.ndarray, cultivar: np.ndarray, environment: np.ndarray) -> np.ndarray:
    """What cultivar and site-season let expect of each sample."""
    left, found = y - np.average(y, weights=n), np.full(len(y), np.average(y, weights=n))
    for _ in range(_SWEEPS):
        for by in (cultivar, environment):
            step = (np.bincount(by, n * left) / np.maximum(np.bincount(by, n), 1e-12))[by]
            left, found = left - step, found + step
    return found
