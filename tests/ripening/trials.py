"""Simulated picks with a known truth: cultivars enter in cohorts and stay a few seasons, checks stand everywhere always.

    first = site_j + c_i + (cs)_ij + (cy)_ik + season_k + (season, site)_jk + rest;  days picked = 7 + d_i + rest

All normal, with the spreads below in days, which are assumptions of this simulation.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd

SD = {
    "cultivar": 19.0,
    "cs": 1.2,
    "cy": 1.8,
    "season": 4.5,
    "local": 2.0,
    "rest": 2.0,
    "days": 1.5,
    "days_rest": 2.0,
}
SITES = ("Hill", "River", "Valley")
CHECKS = 4


@dataclass(frozen=True, eq=False)
class Trial:
    """``picks`` (cultivar, site, season, first, middle, last); ``lasting`` and ``coming`` (cultivars, sites): middle of an
    ordinary season, and of the one after the records, whose common part at each site is ``shift``."""

    picks: pd.DataFrame
    cultivars: pd.Index
    lasting: pd.DataFrame
    coming: pd.DataFrame
    shift: pd.Series


def trial(cultivars: int = 120, sites: int = 3, seasons: int = 10, seed: int = 0) -> Trial:
    random = np.random.default_rng(seed)
    names = pd.Index([f"C{number:03d}" for number in range(cultivars)], name="cultivar")
    place = np.array([190.0, 193.0, 187.0])[:sites]
    c, cs = random.normal(0, SD["cultivar"], cultivars), random.normal(0, SD["cs"], (cultivars, sites))
    d = 7 + random.normal(0, SD["days"], cultivars)
    year = random.normal(0, SD["season"], seasons + 1)
    local = random.normal(0, SD["local"], (seasons + 1, sites))
    enter = np.where(np.arange(cultivars) < CHECKS, 0, random.integers(0, seasons, cultivars))
    stay = np.where(np.arange(cultivars) < CHECKS, seasons, random.integers(1, 6, cultivars))
    grown = random.random((cultivars, sites)) < 0.5
    grown[np.arange(cultivars), random.integers(0, sites, cultivars)] = True
    grown[:CHECKS] = True
    rows = []
    for k in range(seasons):
        cy = random.normal(0, SD["cy"], cultivars)
        for i in np.flatnonzero((enter <= k) & (k < enter + stay)):
            for j in np.flatnonzero(grown[i]):
                first = (
                    place[j] + c[i] + cs[i, j] + cy[i] + year[k] + local[k, j] + random.normal(0, SD["rest"])
                )
                days = max(0.0, d[i] + random.normal(0, SD["days_rest"]))
                rows.append((names[i], SITES[j], 2015 + k, first, first + days / 2, first + days))
    picks = pd.DataFrame(rows, columns=["cultivar", "site", "season", "first", "middle", "last"])
    lasting = place + c[:, None] + cs + d[:, None] / 2
    alone = random.normal(0, SD["cy"], (cultivars, 1)) + random.normal(0, SD["rest"], cs.shape)
    shift = year[-1] + local[-1]
    return Trial(
        picks, names, pd.DataFrame(lasting, names, SITES[:sites]),
        pd.DataFrame(lasting + alone + shift, names, SITES[:sites]), pd.Series(shift, SITES[:sites]),
    )  # fmt: skip
