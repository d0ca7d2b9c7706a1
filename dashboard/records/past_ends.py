"""Sample means where some fruit could not be read to the end: what the limits say is worked in, so that hard fruit are not left out.

Fruit of a sample vary by sigma about its mean m, and samples by tau about what cultivar and site-season let expect of them. A fruit
above an end c says that z = (c - m) / sigma was passed: with h = pdf(z) / sf(z) it pulls by h / sigma and weighs h (h - z) / sigma²
(Tobin 1958, Econometrica 26: 24-36); below an end likewise, turned round. With the fruit that were read this gives score s and
information I at the likeliest m. The sample then stands as if it were the mean m + s / I of I sigma² fruit, so that a sample all of
whose fruit were too hard still counts, by little where that was to be expected.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from scipy import special

_ROUNDS, _SWEEPS, _STILL = 100, 10, 1e-3
_LEAST = 0.25  # fruit that a sample has to be worth to stand (a choice of ours)


class Sums(NamedTuple):
    """By sample (R,): the mean, the number of fruit it is known by, and their squares about it; NaN, 0 and NaN of one without."""

    mean: np.ndarray
    n: np.ndarray
    ss: np.ndarray


class Limits(NamedTuple):
    """By fruit (L,): of which sample it is (its place), where the instrument ended, and whether the fruit lies ``above`` that."""

    owner: np.ndarray
    end: np.ndarray
    above: np.ndarray


def worked_in(sums: Sums, limits: Limits, cultivar: np.ndarray, environment: np.ndarray) -> Sums:
    """``sums`` with the limits in them; as they are where nothing tells how much fruit of a sample differ. ``cultivar`` and
    ``environment`` (R,): codes from 0."""
    limited = np.zeros(len(sums.n), dtype=bool)
    limited[limits.owner] = True
    bare = np.flatnonzero((sums.n > 0) & ~limited)
    freedom, squares = float((sums.n[bare] - 1).sum()), float(np.nansum(sums.ss[bare]))
    if not limited.any() or not freedom > 0 or not squares > 0:
        return sums
    sigma = np.sqrt(squares / freedom)
    seen = np.flatnonzero((sums.n > 0) | limited)
    of = np.zeros(len(sums.n), dtype=int)
    of[seen] = np.arange(len(seen))
    mean, n = sums.mean[seen], sums.n[seen]
    asked = limited[seen]
    y, known = _settled(mean, n, sigma, asked, limits._replace(owner=of[limits.owner]), cultivar[seen], environment[seen])  # fmt: skip
    stands = ~asked | (known >= _LEAST)
    found = Sums(*(one.copy() for one in sums))
    found.mean[seen] = np.where(stands, y, np.nan)
    found.n[seen] = np.where(stands, known, 0.0)
    squares_of = np.where(
        asked, sigma**2 * np.maximum(known - 1, 0), sums.ss[seen]
    )  # what adds nothing to what is known of sigma
    found.ss[seen] = np.where(stands, squares_of, np.nan)
    return found


def _settled(
    mean: np.ndarray, n: np.ndarray, sigma: float, asked: np.ndarray, limits: Limits, cultivar: np.ndarray, environment: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:  # fmt: skip
    """Means and numbers of fruit of the samples; those ``asked`` have limits."""
    read = np.nan_to_num(mean)
    ends = np.bincount(limits.owner, limits.end, len(n)) / np.maximum(np.bincount(limits.owner, minlength=len(n)), 1)  # fmt: skip
    m = np.where(n > 0, read, ends)
    y, known = m, np.where(n > 0, n, 1.0)
    tau2, apart2 = sigma**2, (3 * sigma) ** 2
    for _ in range(_ROUNDS):
        about, effects = _expected(y, 1 / (tau2 + sigma**2 / known), cultivar, environment, 1 / apart2)
        tau2, apart2 = _spreads((y - about)[~asked], n[~asked], sigma, effects, cultivar[~asked], environment[~asked])  # fmt: skip
        score, weight = _told(m, sigma, n, read, limits)
        step = np.clip((score + (about - m) / tau2) / (weight + 1 / tau2), -sigma, sigma)
        m = np.where(asked, m + step, m)
        score, weight = _told(m, sigma, n, read, limits)
        known = np.where(asked, np.maximum(weight * sigma**2, 1e-6), n)
        y = np.where(asked, m + score * sigma**2 / known, read)
        if np.abs(step[asked]).max() < _STILL * sigma:
            break
    return y, known


def _told(
    m: np.ndarray, sigma: float, n: np.ndarray, read: np.ndarray, limits: Limits
) -> tuple[np.ndarray, np.ndarray]:
    """Score and information (R,) of each sample at ``m``: of the fruit that were read, and of the limits."""
    side = np.where(limits.above, 1.0, -1.0)
    z = side * (limits.end - m[limits.owner]) / sigma
    h = np.exp(-np.square(z) / 2 - np.log(2 * np.pi) / 2 - special.log_ndtr(-z))
    score = n * (read - m) / sigma**2 + np.bincount(limits.owner, side * h / sigma, len(m))
    return score, n / sigma**2 + np.bincount(limits.owner, h * (h - z) / sigma**2, len(m))


def _expected(
    y: np.ndarray, weight: np.ndarray, cultivar: np.ndarray, environment: np.ndarray, prior: float
) -> tuple[np.ndarray, np.ndarray]:
    """What cultivar and site-season let expect of each sample, and the effects of the cultivars: those lean to none by ``prior``."""
    of, at = np.zeros(cultivar.max() + 1), np.zeros(environment.max() + 1)
    middle = np.average(y, weights=weight)
    for _ in range(_SWEEPS):
        of = np.bincount(cultivar, weight * (y - middle - at[environment])) / (np.bincount(cultivar, weight) + prior)  # fmt: skip
        at = np.bincount(environment, weight * (y - middle - of[cultivar])) / np.maximum(np.bincount(environment, weight), 1e-12)  # fmt: skip
    return middle + of[cultivar] + at[environment], of


def _spreads(
    left: np.ndarray, n: np.ndarray, sigma: float, effects: np.ndarray, cultivar: np.ndarray, environment: np.ndarray
) -> tuple[float, float]:  # fmt: skip
    """The variance of samples about what is expected of them, and that of cultivars, of samples without limits, by moments; neither is
    taken for less than a tenth of that of fruit."""
    there = np.unique(cultivar)
    freedom = len(left) - len(there) - len(np.unique(environment)) + 1
    least = 0.1 * sigma**2
    tau2 = float(np.square(left).sum()) / freedom - sigma**2 * float((1 / n).mean()) if freedom > 0 else least
    apart2 = float(np.var(effects[there], ddof=1)) if len(there) > 1 else least
    return max(tau2, least), max(apart2, least)
