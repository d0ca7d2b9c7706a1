"""How the fruit of a sample were taken: at random, of commercial size alone, or the best six.

Fruit of one sample are skewed a little to the large side, which no cut normal law is.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.estimates import worth
from tests.estimates.robust.scoring import Score, by_thirds

CULTIVARS, SITES, SEASONS, PICKS, FRUIT = 36, 2, 4, 2, 10
BY_SITE, BY_SEASON, BY_BOTH, LEVEL, SAMPLE, WITHIN = 1.0, 1.4, 1.2, 2.0, 1.2, 4.5  # SDs in mm
SHAPE = 30.0  # of the gamma law of the fruit: a skewness of 0.37


@dataclass(frozen=True)
class Case:
    lasting: float = 4.0  # SD between cultivars, mm
    floor: float = 57.0  # fruit under it are left on the tree; 0: none are

    def __str__(self) -> str:
        return f"cultivars of 62 ± {self.lasting:g} mm, {f'fruit of {self.floor:g} mm and more' if self.floor else 'all fruit'}"


CASES = (Case(), Case(floor=54.0), Case(floor=60.0), Case(lasting=3.0), Case(floor=0.0))


def drawn(case: Case, seed: int) -> tuple[pd.DataFrame, pd.Series]:
    """Sample summaries of size (mm) of the fruit that were taken, and each cultivar's true mean of all of its fruit."""
    rng = np.random.default_rng([seed, int(case.floor), int(10 * case.lasting)])
    shape = (CULTIVARS, SITES, SEASONS)
    lasting, level = rng.normal(0, case.lasting, CULTIVARS), rng.normal(0, LEVEL, shape[1:])
    cell = 62 + lasting[:, None, None] + rng.normal(0, BY_SITE, shape[:2])[:, :, None] + level
    cell = cell + rng.normal(0, BY_SEASON, (CULTIVARS, 1, SEASONS)) + rng.normal(0, BY_BOTH, shape)
    mean = cell[..., None] + rng.normal(0, SAMPLE, (*shape, PICKS))
    hang = mean[..., None] + WITHIN * (rng.gamma(SHAPE, 1, (*mean.shape, 150)) - SHAPE) / np.sqrt(SHAPE)
    order = np.argsort(hang < case.floor, axis=-1, kind="stable")  # the first that may be taken
    fruit = np.take_along_axis(hang, order, axis=-1)[..., :FRUIT]
    taken = np.where(fruit >= case.floor, fruit, np.nan)
    n = np.isfinite(taken).sum(axis=-1).ravel()
    total = np.nansum(taken, axis=-1).ravel()
    with np.errstate(invalid="ignore", divide="ignore"):
        average = total / n
        squares = np.nansum(np.square(taken - average.reshape(mean.shape)[..., None]), axis=-1).ravel()
    cultivar, site, season, pick = (code.ravel() for code in np.indices(mean.shape))
    names = np.array([f"C{code:02d}" for code in range(CULTIVARS)])
    frame = pd.DataFrame(
        {
            "cultivar": names[cultivar],
            "site": np.array(["Hill", "River"])[site],
            "season": 2016 + season,
            "pick": pick + 1.0,
            "size": average,
            "size_n": n.astype(float),
            "size_ss": squares,
            "size_taken": "commercial",
            "size_floor": case.floor or np.nan,
        }
    )
    return frame[n > 0].reset_index(drop=True), pd.Series(62 + lasting + level.mean(), names)


def by_third(case: Case, sets: range, told: bool) -> list[Score]:
    """Of the third of the cultivars with the smallest fruit, the middle and the largest: with the floor ``told`` or not."""
    sampled = (drawn(case, seed) for seed in sets)
    hidden = [] if told else ["size_taken", "size_floor"]
    return by_thirds(
        (worth(frame.drop(columns=hidden), "size"), true.sort_values()) for frame, true in sampled
    )


def rows(count: int) -> Iterator[str]:
    for case in CASES:
        for told in (False, True):
            thirds = by_third(case, range(count), told)
            yield f"{case}, {'told' if told else 'not told'}:\n" + "\n".join(
                f"  {name} {score}"
                for name, score in zip(("smallest", "middle", "largest"), thirds, strict=True)
            )
