"""Size where small fruit were left on the tree: sample means worked back to those of all fruit.

Where only fruit of ``floor`` mm and more were sampled, those of a sample of mean m and spread sigma are a normal law cut off below at
alpha = (floor - mu) / sigma, with (Johnson, Kotz & Balakrishnan 1994, Continuous Univariate Distributions 1, ch. 13.10)

    mean  mu + sigma lambda,     variance  sigma^2 v,      lambda = pdf(alpha) / sf(alpha),     v = 1 - lambda (lambda - alpha)

The fruit of one sample are too few to turn that round. So it is done for the mean that cultivar and site-season let expect of the
sample, mu0, and from there on along the slope, which is v: mu = mu0 + (m - mean there) / v, known as by n v fruit. A spread sigma of all
fruit is found from the pooled squares within samples, which are expected to be sigma^2 v a degree of freedom.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from scipy import stats

_SWEEPS, _ROUNDS = 20, 40
_DEEPEST = (
    2.0  # spreads below the floor to which a mean is worked back: there a fortieth of the fruit is over it
)


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
    expected = np.maximum(_smooth(y, n, cultivar, environment), np.nextafter(floor, np.inf))
    sigma = np.sqrt(squares / freedom.sum())
    for _ in range(_ROUNDS):
        alpha = _cut((expected - floor) / sigma)
        excess, v = _of(alpha)
        sigma = np.sqrt(squares / float((freedom * v).sum()))
    alpha = _cut((expected - floor) / sigma)
    excess, v = _of(alpha)
    mu = floor - sigma * alpha + (y - floor - sigma * excess) / v
    return Whole(mu, np.maximum(n * v, 1.0), ss / v, float(stats.norm.cdf(alpha).mean()))


def _of(alpha: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """How far the mean of what is over a cut lies above it, in spreads, and its variance."""
    ratio = np.exp(stats.norm.logpdf(alpha) - stats.norm.logsf(alpha))
    return ratio - alpha, 1 - ratio * (ratio - alpha)


def _cut(excess: np.ndarray) -> np.ndarray:
    """The cut from the mean excess over it, in spreads: by halving."""
    low, high = np.full_like(excess, -40.0), np.full_like(excess, _DEEPEST)
    for _ in range(60):
        middle = (low + high) / 2
        over = _of(middle)[0] > excess
        low, high = np.where(over, middle, low), np.where(over, high, middle)
    return (low + high) / 2


def _smooth(y: np.ndarray, n: np.ndarray, cultivar: np.ndarray, environment: np.ndarray) -> np.ndarray:
    """What cultivar and site-season let expect of each sample."""
    left, found = y - np.average(y, weights=n), np.full(len(y), np.average(y, weights=n))
    for _ in range(_SWEEPS):
        for by in (cultivar, environment):
            step = (np.bincount(by, n * left) / np.maximum(np.bincount(by, n), 1e-12))[by]
            left, found = left - step, found + step
    return found
