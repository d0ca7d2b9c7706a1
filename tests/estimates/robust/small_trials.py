"""Small trials: few cultivars, every one at every site in every season, which differ little beside what seasons do to them.

Where luck is as large as what lasts, one trial in twelve or so shows no spread between cultivars at all.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import compress

import numpy as np
import pandas as pd

from dashboard.estimates import Worth, worth
from dashboard.estimates.plan import CULTIVAR
from tests.estimates.robust.scoring import scored

FRUIT = 10


@dataclass(frozen=True)
class Layout:
    cultivars: int
    sites: int
    seasons: int
    samples: int = 2
    lasting: float = 1.6  # SD between cultivars, mm

    def __str__(self) -> str:
        return f"{self.cultivars} x {self.sites} x {self.seasons}, cultivars differ by {self.lasting:g} mm"


# SDs in mm: cultivar by site, by season, by both; site-season; sample; fruit.
BY_SITE, BY_SEASON, BY_BOTH, LEVEL, SAMPLE, WITHIN = 1.0, 1.8, 1.8, 3.0, 1.5, 4.0

SMALL = (
    Layout(10, 1, 3),
    Layout(16, 2, 2),
    Layout(10, 1, 3, lasting=4.0),
    Layout(16, 2, 2, lasting=4.0),
    Layout(24, 2, 3),
)


def small_trial(layout: Layout, seed: int) -> tuple[pd.DataFrame, pd.Series]:
    """Sample summaries of size (mm), and each cultivar's true mean over the site-seasons of the trial."""
    rng = np.random.default_rng([seed, layout.cultivars, layout.sites, layout.seasons])
    shape = (layout.cultivars, layout.sites, layout.seasons)
    lasting = rng.normal(0, layout.lasting, shape[0])
    at_site = rng.normal(0, BY_SITE, shape[:2])
    level = rng.normal(0, LEVEL, shape[1:])
    cell = 60 + lasting[:, None, None] + at_site[:, :, None] + level
    cell = cell + rng.normal(0, BY_SEASON, (shape[0], 1, shape[2])) + rng.normal(0, BY_BOTH, shape)
    fruit = (cell[..., None] + rng.normal(0, SAMPLE, (*shape, layout.samples)))[..., None]
    fruit = fruit + rng.normal(0, WITHIN, (*shape, layout.samples, FRUIT))
    cultivar, site, season, sample = (code.ravel() for code in np.indices((*shape, layout.samples)))
    mean = fruit.mean(axis=-1)
    frame = pd.DataFrame(
        {
            "cultivar": [f"C{code:02d}" for code in cultivar],
            "site": np.array(["Hill", "River"])[site],
            "season": 2020 + season,
            "pick": sample + 1.0,
            "size": mean.ravel(),
            "size_n": float(FRUIT),
            "size_ss": np.square(fruit - mean[..., None]).sum(axis=-1).ravel(),
        }
    )
    true = 60 + lasting + level.mean() + (at_site[:, 0] if layout.sites == 1 else 0.0)
    return frame, pd.Series(true, index=[f"C{code:02d}" for code in range(layout.cultivars)])


def fitted(layout: Layout, sets: range, off_zero: tuple[str, ...]) -> list[tuple[Worth, pd.Series]]:
    made = (small_trial(layout, seed) for seed in sets)
    return [(worth(frame, "size", off_zero=off_zero), true) for frame, true in made]


def rows(count: int) -> Iterator[str]:
    """By layout: plain REML, and as told; and both in the trials whose cultivars plain REML finds alike."""
    for layout in SMALL:
        plain, told = (fitted(layout, range(count), off_zero) for off_zero in ((), (CULTIVAR,)))
        yield f"{layout}\n  before: {scored(plain)}\n  after:  {scored(told)}"
        alike = [CULTIVAR in found.at_zero for found, _ in plain]
        if any(alike):
            before, after = (scored(compress(made, alike)) for made in (plain, told))
            yield f"  found alike, before: {before}\n  found alike, after:  {after}"
