"""Shares of ten fruit and ratings near their ends: counts drawn from log odds, and ratings that cannot go beyond 10.

Cultivars come and go at two sites. A share is a count of fruit with the fault, the odds of which cultivar, site, season and luck
multiply; a rating is read in halves and cut at 0 and 10. The truth is what would be read on average over the site-seasons of
the trial.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pandas as pd
from scipy import special, stats

from dashboard.estimates import worth
from dashboard.estimates.chances import LONG_RUN, chances
from tests.estimates.robust.scoring import Score, by_thirds, scored

SITES, FRUIT = 2, 10
BY_SITE, BY_SEASON, BY_BOTH = 0.3, 0.45, 0.35  # beside a spread of cultivars of 1
_NODES, _WEIGHTS = np.polynomial.hermite_e.hermegauss(40)


@dataclass(frozen=True)
class Case:
    trait: str
    usual: float  # the share of the usual cultivar, 0 to 1, or its rating
    spread: float  # SD of cultivars, in log odds or in points
    cultivars: int = 60
    seasons: int = 5
    clusters: float = (
        0.0  # 0: fruit of a sample are independent; else as much more alike (intraclass correlation)
    )
    flat: float = 0.0  # by so many log odds more are fruit of every eighth cultivar faulty, which is flat
    declared: bool = True  # and whether that is written down

    @property
    def share(self) -> bool:
        return self.trait == "split_pit"

    def __str__(self) -> str:
        what = f"shares about {100 * self.usual:g} %" if self.share else f"ratings about {self.usual:g}"
        more = f", in clusters ({self.clusters:g})" if self.clusters else ""
        if self.flat:
            more += f", every eighth by {self.flat:g} more" + ("" if self.declared else ", not declared")
        return (
            f"{what}, cultivars differ by {self.spread:g}, {self.cultivars} x {SITES} x {self.seasons}{more}"
        )


CASES = (
    Case("split_pit", 0.04, 0.8),
    Case("split_pit", 0.04, 0.8, clusters=0.08),
    Case("split_pit", 0.15, 0.9),
    Case("split_pit", 0.40, 0.9),
    Case("split_pit", 0.85, 0.9),
    Case("split_pit", 0.15, 0.9, 20, 3),
    Case("split_pit", 0.015, 0.5, flat=2.6, declared=False),
    Case("split_pit", 0.015, 0.5, flat=2.6),
    Case("attractiveness", 6.0, 0.9),
    Case("attractiveness", 8.5, 0.9),
    Case("attractiveness", 9.3, 0.9),
    Case("attractiveness", 9.3, 0.9, 20, 3),
    Case("attractiveness", 9.3, 1.5),
)
SAMPLE = 0.8  # SD of a rating among samples, in points


def drawn(case: Case, seed: int) -> tuple[pd.DataFrame, pd.Series]:
    """Sample summaries of the trait, and each cultivar's true mean over the site-seasons of the trial."""
    rng = np.random.default_rng(
        [seed, int(100 * case.usual), case.cultivars, int(100 * case.clusters), int(10 * case.spread)]
    )
    count, seasons = case.cultivars, case.seasons
    centre = special.logit(case.usual) if case.share else case.usual
    size = case.spread
    own = centre + rng.normal(0, size, count) + case.flat * _flat(count)
    level = rng.normal(0, 0.5 * size, (SITES, seasons)) + rng.normal(0, 0.3 * size, seasons)
    at_site = rng.normal(0, BY_SITE * size, (count, SITES))
    in_season = rng.normal(0, BY_SEASON * size, (count, seasons))
    both = rng.normal(0, BY_BOTH * size, (count, SITES, seasons))
    rows = []
    for i in range(count):
        check = i % 10 == 0
        sites = range(SITES) if check or rng.random() < 0.6 else [int(rng.integers(SITES))]
        entry = 0 if check else int(rng.integers(max(seasons - 1, 1)))
        stay = seasons if check else int(rng.integers(2, 5))
        for k in range(entry, min(entry + stay, seasons)):
            for j in sites:
                here = own[i] + level[j, k] + at_site[i, j] + in_season[i, k] + both[i, j, k]
                for pick in range(1 + int(rng.random() < 0.6)):
                    read = _read(case, rng, here)
                    rows.append((f"C{i:02d}", ("Hill", "River")[j], 2016 + k, pick + 1.0, read, float(FRUIT)))
    frame = pd.DataFrame(rows, columns=["cultivar", "site", "season", "pick", case.trait, "size_n"])
    luck = size * np.sqrt(BY_SITE**2 + BY_SEASON**2 + BY_BOTH**2)
    true = np.mean([expected(case, own + one, luck) for one in level.ravel()], axis=0)
    names = pd.Series(true, [f"C{i:02d}" for i in range(count)])
    return frame, names[names.index.isin(frame["cultivar"])]


def _flat(count: int) -> np.ndarray:
    return np.arange(count) % 8 == 3


def shapes(case: Case) -> pd.Series | None:
    """Round or flat by cultivar, where that is written down."""
    names = [f"C{i:02d}" for i in range(case.cultivars)]
    declared = pd.Series(np.where(_flat(case.cultivars), "flat", "round"), names)
    return declared if case.flat and case.declared else None


def _read(case: Case, rng: np.random.Generator, here: float) -> float:
    if not case.share:
        return float(np.clip(np.round(2 * (here + rng.normal(0, SAMPLE))) / 2, 0, 10))
    odds = special.expit(here)
    if case.clusters:
        alike = (1 - case.clusters) / case.clusters
        odds = rng.beta(max(odds * alike, 1e-6), max((1 - odds) * alike, 1e-6))
    return 100.0 * rng.binomial(FRUIT, odds) / FRUIT


def expected(case: Case, middle: np.ndarray, luck: float) -> np.ndarray:
    """What is read on average of cultivars (k,) whose site-seasons scatter by ``luck``."""
    if case.share:
        return 100 * special.expit(middle[:, None] + luck * _NODES) @ _WEIGHTS / _WEIGHTS.sum()
    spread, steps = np.hypot(luck, SAMPLE), np.arange(0.25, 10, 0.5)  # each half passed adds a half
    return 0.5 * stats.norm.sf((steps - middle[:, None]) / spread).sum(axis=1)


def told(case: Case, sets: range) -> tuple[list[Score], Score, np.ndarray, np.ndarray]:
    """How values and differences (of each cultivar from the next) hold, by thirds from the least faulty (or the lowest rating) on and of all; and chances that the
    long-run mean is at most what a quarter, half and three quarters of the cultivars have, and whether it is."""
    made, chance, came = [], [], []
    for seed in sets:
        frame, true = drawn(case, seed)
        found = worth(frame, case.trait, kinds=shapes(case))
        if not found.modelled:
            continue
        made.append((found, true))
        for part in (0.25, 0.5, 0.75):
            limit = float(np.quantile(true, part))
            answer = chances(found, limit, at_least=False)[LONG_RUN].by_cultivar.loc[true.index]
            chance.append(answer.to_numpy())
            came.append((true <= limit).to_numpy())
    thirds = by_thirds((found, true.sort_values()) for found, true in made)
    return thirds, scored(made, neighbours=True), np.concatenate(chance), np.concatenate(came)


def rows(count: int) -> Iterator[str]:
    for case in CASES:
        thirds, score, chance, came = told(case, range(count))
        fifths = np.digitize(chance, [0.2, 0.4, 0.6, 0.8])
        by_chance = " ".join(
            f"{chance[fifths == one].mean():.2f}/{came[fifths == one].mean():.2f}" for one in range(5)
        )
        by_value = " ".join(f"{one.held.mean():.2f}" for one in thirds)
        yield f"{case}: {score}; by thirds {by_value}; chance {by_chance}, all {chance.mean():.3f}/{came.mean():.3f}"
