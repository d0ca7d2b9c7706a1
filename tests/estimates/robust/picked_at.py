"""Fruit picked now firmer, now softer: of cultivars alike in firmness, and of cultivars some of which are softer by nature.

A cultivar grows and softens at its own pace: from one day to the next its fruit gain so much in size for each newton they lose.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.estimates import worth
from tests.estimates.robust.scoring import scored

USUAL, GAIN, PACE = 45.0, 0.25, 0.04  # N; mm for each N lost; SD of that among cultivars
LASTING, BY_SEASON, BY_BOTH, LEVEL, SAMPLE, WITHIN = 2.5, 1.2, 1.0, 2.0, 1.0, 4.0  # SDs of size, mm
FRUIT = 8


@dataclass(frozen=True)
class Picked:
    nature: float  # SD in N of the firmness at which cultivars are ripe
    stage: float  # SD in N of how much too firm or too soft a sample is picked
    cultivars: int = 60

    def __str__(self) -> str:
        return f"{self.cultivars} cultivars, ripe at {USUAL:g} ± {self.nature:g} N, picked ± {self.stage:g} N of that"


CASES = (Picked(0.0, 8.0), Picked(6.0, 8.0), Picked(8.0, 4.0), Picked(6.0, 8.0, 20))


def drawn(case: Picked, seed: int) -> tuple[pd.DataFrame, pd.Series, pd.Series]:
    """Summaries; what each cultivar is truly worth where all fruit is picked at the mean firmness of the records; and where each is
    picked ripe."""
    rng = np.random.default_rng([seed, case.cultivars, int(case.nature), int(case.stage)])
    shape = (case.cultivars, 2, 4)
    own, ripe = rng.normal(0, LASTING, shape[0]), USUAL + rng.normal(0, case.nature, shape[0])
    gain = GAIN + rng.normal(0, PACE, shape[0])
    level = rng.normal(0, LEVEL, shape[1:])
    cell = (
        62
        + own[:, None, None]
        + level
        + rng.normal(0, BY_SEASON, (shape[0], 1, 4))
        + rng.normal(0, BY_BOTH, shape)
    )
    crew = rng.normal(0, 0.5 * case.stage, (1, *shape[1:], 1)) + rng.normal(0, 0.6 * case.stage, (*shape, 1))
    away = crew + rng.normal(0, 0.6 * case.stage, (*shape, 2))
    size = cell[..., None] - gain[:, None, None, None] * away + rng.normal(0, SAMPLE, away.shape)
    fruit = size[..., None] + rng.normal(0, WITHIN, (*away.shape, FRUIT))
    first = rng.integers(-3, 4, shape[0])
    stood = (np.arange(4) >= first[:, None]) & (
        np.arange(4) <= first[:, None] + rng.integers(0, 4, shape[0])[:, None]
    )
    stood[:3] = True
    stood[~stood.any(axis=1), 1] = True
    i, j, k, pick = np.indices(away.shape).reshape(4, -1)
    keep, mean = stood[i, k], fruit.mean(axis=-1)
    names = [f"C{code:02d}" for code in range(shape[0])]
    frame = pd.DataFrame(
        {
            "cultivar": np.array(names)[i], "site": np.array(["Hill", "River"])[j], "season": 2018 + k, "pick": pick + 1.0,
            "size": mean.ravel(), "size_n": float(FRUIT), "size_ss": np.square(fruit - mean[..., None]).sum(axis=-1).ravel(),
            "firmness": (ripe[:, None, None, None] + away).ravel(),
        }
    )[keep].reset_index(drop=True)  # fmt: skip
    picked = 62 + own + level.mean()
    at_one = picked - gain * (frame["firmness"].mean() - ripe)
    return frame, pd.Series(at_one, names), pd.Series(picked, names)


def made(case: Picked, sets: range):
    for seed in sets:
        frame, at_one, _ = drawn(case, seed)
        yield worth(frame, "size", equal_firmness=True), at_one.loc[sorted(frame["cultivar"].unique())]


def rows(count: int) -> Iterator[str]:
    for case in CASES:
        yield f"{case}: {scored(made(case, range(count)))}"
