"""Firmness with a gauge that ends, fruit beyond it written as a limit: left out, or worked in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.estimates import worth
from dashboard.records.past_ends import Limits, Sums, worked_in
from tests.estimates.robust.scoring import Score, by_thirds

CULTIVARS, SITES, SEASONS, FRUIT = 36, 2, 4, 10
BY_SITE, BY_SEASON, BY_BOTH, LEVEL, SAMPLE, WITHIN = 1.5, 2.0, 2.0, 3.0, 4.0, 8.0  # SDs in N
MIDDLE, LASTING = 45.0, 8.0
SHAPE = 20.0  # of the gamma law of the fruit: a skewness of 0.45


@dataclass(frozen=True)
class Case:
    end: float = 57.8  # N: a gauge of 13 lb
    cultivars: int = CULTIVARS

    def __str__(self) -> str:
        return (
            f"{self.cultivars} cultivars of {MIDDLE:g} ± {LASTING:g} N, a gauge that ends at {self.end:g} N"
        )


CASES = (Case(), Case(end=50.0), Case(cultivars=16), Case(end=1000.0))


def drawn(case: Case, seed: int, told: bool) -> tuple[pd.DataFrame, pd.Series]:
    """Sample summaries of firmness (N), with the limits in them where they are ``told``, and each cultivar's true mean."""
    rng = np.random.default_rng([seed, int(case.end), case.cultivars])
    shape = (case.cultivars, SITES, SEASONS)
    lasting, level = rng.normal(0, LASTING, case.cultivars), rng.normal(0, LEVEL, shape[1:])
    cell = MIDDLE + lasting[:, None, None] + rng.normal(0, BY_SITE, shape[:2])[:, :, None] + level
    cell = cell + rng.normal(0, BY_SEASON, (case.cultivars, 1, SEASONS)) + rng.normal(0, BY_BOTH, shape)
    mean = (cell + rng.normal(0, SAMPLE, shape)).ravel()
    fruit = mean[:, None] + WITHIN * (rng.gamma(SHAPE, 1, (len(mean), FRUIT)) - SHAPE) / np.sqrt(SHAPE)
    past = fruit > case.end
    n = (~past).sum(axis=1).astype(float)
    read = np.where(past, np.nan, fruit)
    with np.errstate(invalid="ignore", divide="ignore"):
        average = np.nansum(read, axis=1) / n
    squares = np.where(n > 0, np.nansum(np.square(read - average[:, None]), axis=1), np.nan)
    cultivar, site, season = (code.ravel() for code in np.indices(shape))
    sums = Sums(average, n, squares)
    if told:
        owner = np.nonzero(past)[0]
        limits = Limits(owner, np.full(len(owner), case.end), np.ones(len(owner), dtype=bool))
        sums = worked_in(sums, limits, cultivar, site * SEASONS + season)
    names = np.array([f"C{code:02d}" for code in range(case.cultivars)])
    frame = pd.DataFrame(
        {
            "cultivar": names[cultivar],
            "site": np.array(["Hill", "River"])[site],
            "season": 2016 + season,
            "firmness": sums.mean,
            "firmness_n": sums.n,
            "firmness_ss": sums.ss,
        }
    )
    return frame[sums.n > 0].reset_index(drop=True), pd.Series(MIDDLE + lasting + level.mean(), names)


def by_third(case: Case, sets: range, told: bool) -> list[Score]:
    """Of the softest, the middle and the firmest third of the cultivars; a set in which one was never read counts for none."""
    made = ((worth(frame, "firmness"), true.sort_values()) for frame, true in (drawn(case, seed, told) for seed in sets))  # fmt: skip
    return by_thirds((found, true) for found, true in made if found.modelled and set(true.index) <= set(found.values.index[found.values["estimate"].notna()]))  # fmt: skip


def rows(count: int) -> Iterator[str]:
    for case in CASES:
        for told in (False, True) if case.end < 1000 else (False,):
            thirds = by_third(case, range(count), told)
            yield f"{case}, limits {'worked in' if told else 'left out'}:\n" + "\n".join(
                f"  {name} {score}"
                for name, score in zip(("softest", "middle", "firmest"), thirds, strict=True)
            )
