"""Seasons that move all sites together, and sites that differ for good: what the next season will bring, and where.

Every cultivar stands at every site in every season; rating-like noise, one mean a sample of so many fruit.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pandas as pd
from scipy import stats

from dashboard.estimates import worth
from dashboard.estimates.chances import NEXT_SEASON, chances

CULTIVARS, SAMPLES, FRUIT = 20, 2, 8
OWN, PECULIAR, SAMPLE, WITHIN = 3.0, 1.2, 1.2, 4.0  # SDs in mm


@dataclass(frozen=True)
class Levels:
    seasons: int
    sites: int
    by_season: float  # SD in mm, for all sites alike
    by_site: float  # how far apart the outer sites are, half of it
    by_both: float = 0.8

    def __str__(self) -> str:
        return (
            f"{self.seasons} seasons x {self.sites} sites, seasons differ by {self.by_season:g} mm, "
            f"sites by ±{self.by_site:g} mm"
        )


CASES = (
    Levels(2, 3, 3.0, 0.0),
    Levels(2, 3, 2.0, 4.0),
    Levels(3, 3, 2.0, 4.0),
    Levels(5, 2, 2.0, 6.0),
    Levels(8, 2, 2.0, 6.0),
)


def drawn(case: Levels, seed: int) -> tuple[pd.DataFrame, np.ndarray, float, np.ndarray]:
    """Summaries, each cultivar's mean at the first site in the season to come, the mean of the trial there, and each cultivar's mean
    there over all seasons that there may be."""
    rng = np.random.default_rng([seed, case.seasons, case.sites, int(case.by_site)])
    shape = (CULTIVARS, case.sites, case.seasons + 1)
    season = rng.normal(0, case.by_season, shape[2])
    site = np.linspace(-case.by_site, case.by_site, case.sites)
    level = 60 + season + site[:, None] + rng.normal(0, case.by_both, shape[1:])
    own = rng.normal(0, OWN, CULTIVARS)
    lasting = own[:, None] + rng.normal(0, 0.6, shape[:2])
    cell = level + lasting[..., None]
    cell = cell + rng.normal(0, PECULIAR, (CULTIVARS, 1, shape[2]))
    seen = cell[:, :, :-1]
    fruit = seen[..., None, None] + rng.normal(0, SAMPLE, (*seen.shape, SAMPLES, 1))
    fruit = fruit + rng.normal(0, WITHIN, (*seen.shape, SAMPLES, FRUIT))
    cultivar, where, when, sample = (code.ravel() for code in np.indices((*seen.shape, SAMPLES)))
    mean = fruit.mean(axis=-1)
    frame = pd.DataFrame(
        {
            "cultivar": [f"C{code:02d}" for code in cultivar],
            "site": np.array(["East", "Mid", "West"])[where],
            "season": 2020 + when,
            "pick": sample + 1.0,
            "size": mean.ravel(),
            "size_n": float(FRUIT),
            "size_ss": np.square(fruit - mean[..., None]).sum(axis=-1).ravel(),
        }
    )
    return frame, cell[:, 0, -1], float(level[0, :-1].mean()), 60 + site[0] + lasting[:, 0]


def foretold(case: Levels, sets: range) -> tuple[np.ndarray, np.ndarray]:
    """Chances told that next season's mean at the first site clears a limit, and the true ones, by the laws seasons are drawn from: whole,
    where one season to come would be all luck. The limits lie about what is usual there, from 6 mm below to 6 above."""
    told, true = [], []
    spread = np.sqrt(case.by_season**2 + case.by_both**2 + PECULIAR**2)
    for seed in sets:
        frame, _, usual, lasting = drawn(case, seed)
        found = worth(frame, "size")
        for away in (-6.0, -3.0, 0.0, 3.0, 6.0):
            told.append(chances(found, usual + away, site="East")[NEXT_SEASON].by_cultivar.to_numpy())
            true.append(stats.norm.cdf((lasting - usual - away) / spread))
    return np.concatenate(told), np.concatenate(true)


def square_error(told: np.ndarray, true: np.ndarray) -> float:
    """Mean square error of chances told, over what may come by the true ones."""
    return float(np.mean(np.square(told - true) + true * (1 - true)))


BINS = ((0.0, 0.1), (0.1, 0.3), (0.3, 0.7), (0.7, 0.9), (0.9, 1.0))


def worst(told: np.ndarray, came: np.ndarray) -> float:
    """The largest distance between the mean told and the share that came, over the BINS."""
    inside = [(told >= low) & (told <= high) for low, high in BINS]
    return max(abs(told[at].mean() - came[at].mean()) for at in inside if at.sum() >= 50)


def rows(count: int) -> Iterator[str]:
    for case in CASES:
        told, came = foretold(case, range(count))
        parts = [(told >= low) & (told <= high) for low, high in BINS]
        by = " ".join(f"{told[at].mean():.2f}/{came[at].mean():.2f}" for at in parts if at.any())
        yield f"{case}: told/came {by}; worst {worst(told, came):.3f}; square error {square_error(told, came):.4f}"
