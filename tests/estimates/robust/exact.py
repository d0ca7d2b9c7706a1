"""What intervals of shares could hold at best: the posterior of the trials of ``shares``, by whoever knows how they were drawn.

All spreads are given to it, which no records tell, and the counts are taken as binomial, as they are: so no other intervals that hold as
often on the whole are shorter on average. It is drawn by Gibbs sampling (Polson, Scott & Windle 2013, JASA 108: 1339-1349, from
memory): given Polya-Gamma variables the log odds of the site-seasons are normal.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pandas as pd
from scipy import linalg, special

from tests.estimates.robust import shares
from tests.estimates.robust.shares import CASES, FRUIT, SITES, Case

ROUNDS, BURNT, TERMS = 1100, 100, 60
KNOWN = (0, 2, 4)  # of CASES: fruit faulty independently of each other, no shapes


def polya_gamma(random: np.random.Generator, count: int, tilt: np.ndarray) -> np.ndarray:
    """One of each PG(count, tilt): the first terms of its sum of gammas, and what the others are on average."""
    below = np.square(np.arange(TERMS) + 0.5) + np.square(tilt[:, None] / (2 * np.pi))
    half = np.maximum(np.abs(tilt) / 2, 1e-6)
    mean = count * np.tanh(half) / (4 * half)
    scatter = (random.standard_gamma(count, below.shape) - count) / below
    return mean + scatter.sum(axis=1) / (2 * np.pi**2)


def posterior(case: Case, frame: pd.DataFrame, seed: int) -> np.ndarray:
    """(draws, cultivars) mean shares, per cent, over the site-seasons of a trial."""
    random, size, seasons, count = np.random.default_rng(seed), case.spread, case.seasons, case.cultivars
    owner = frame["cultivar"].str[1:].astype(int).to_numpy()
    where = (frame["site"] == "River").to_numpy() * seasons + frame["season"].to_numpy() - 2016
    cells, at = np.unique(owner * SITES * seasons + where, return_inverse=True)
    i, here = np.divmod(cells, SITES * seasons)
    site, season = np.divmod(here, seasons)
    places = np.arange(SITES * seasons)

    def same(one: np.ndarray) -> np.ndarray:
        return (one[:, None] == one).astype(float)

    level = size**2 * (0.25 * np.eye(len(places)) + 0.09 * same(places % seasons))
    before = linalg.block_diag(size**2 * np.eye(count) + 100, level)  # of cultivars and site-seasons
    seen = np.hstack([i[:, None] == np.arange(count), here[:, None] == places]).astype(float)
    own = size**2 * same(i) * (shares.BY_SITE**2 * same(site) + shares.BY_SEASON**2 * same(season))
    own += size**2 * shares.BY_BOTH**2 * np.eye(len(cells))
    precision = linalg.inv(seen @ before @ seen.T + own)
    gain = before @ seen.T @ precision
    left = linalg.cholesky(before - gain @ seen @ before + 1e-9 * np.eye(len(before)), lower=True)

    centre = special.logit(case.usual)
    told = np.bincount(at, frame["split_pit"] / 100 * FRUIT - FRUIT / 2) + precision.sum(axis=1) * centre
    grid = np.linspace(-14.0, 10.0, 2401)
    share = shares.expected(
        case, grid, size * np.sqrt(shares.BY_SITE**2 + shares.BY_SEASON**2 + shares.BY_BOTH**2)
    )
    odds, found = np.full(len(cells), centre), np.empty((ROUNDS - BURNT, count))
    for turn in range(ROUNDS):
        known = precision + np.diag(np.bincount(at, polya_gamma(random, FRUIT, odds[at])))
        L = linalg.cholesky(known, lower=True)
        odds = linalg.cho_solve((L, True), told)
        odds += linalg.solve_triangular(L, random.standard_normal(len(cells)), lower=True, trans="T")
        if turn >= BURNT:
            both = gain @ (odds - centre) + left @ random.standard_normal(len(left))
            about = centre + both[:count, None] + both[count:]
            found[turn - BURNT] = np.interp(about, grid, share).mean(axis=1)
    return found


def held(case: Case, sets: range) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Shares held of values (sets,), by thirds of the true ones (sets, 3), and of differences of each from the one before it (sets,)."""
    values, thirds, between = [], [], []
    for seed in sets:
        frame, true = shares.drawn(case, seed)
        drawn, t = posterior(case, frame, seed)[:, true.index.str[1:].astype(int)], true.to_numpy()
        low, high = np.quantile(drawn, [0.05, 0.95], axis=0)
        within = (low <= t) & (t <= high)
        values.append(within.mean())
        thirds.append([within[third].mean() for third in np.array_split(np.argsort(t), 3)])
        low, high = np.quantile(np.diff(drawn, axis=1), [0.05, 0.95], axis=0)
        between.append(((low <= np.diff(t)) & (np.diff(t) <= high)).mean())
    return np.array(values), np.array(thirds), np.array(between)


def rows(count: int) -> Iterator[str]:
    for case in (CASES[one] for one in KNOWN):
        values, thirds, between = held(case, range(count))
        by_value = " ".join(f"{one:.2f}" for one in thirds.mean(axis=0))
        yield f"{case}, all known: value {values.mean():.3f}, by thirds {by_value}, difference {between.mean():.3f}"
