"""Small simulated trials as sample summaries, for what is too small or too odd for the study's simulator."""

from __future__ import annotations

import numpy as np
import pandas as pd

FRUIT = 10


def trial(
    cultivars: int = 12,
    sites: int = 2,
    seasons: int = 3,
    samples: int = 2,
    *,
    spread: float = 4.0,
    seed: int = 1,
    trait: str = "size",
) -> pd.DataFrame:
    """Every cultivar at every site in every season; size in mm about 60, ten fruit a sample."""
    rng = np.random.default_rng(seed)
    axes = [range(cultivars), range(sites), range(seasons), range(samples)]
    cells = pd.MultiIndex.from_product(axes, names=["c", "s", "y", "p"]).to_frame(index=False)
    c, s, y = (cells[name].to_numpy() for name in "csy")
    effect = (
        rng.normal(0, spread, cultivars)[c]
        + rng.normal(0, 1.2, (cultivars, sites))[c, s]
        + rng.normal(0, 1.5, (cultivars, seasons))[c, y]
        + rng.normal(0, 2.5, (sites, seasons))[s, y]
        + rng.normal(0, 1.4, (cultivars, sites, seasons))[c, s, y]
        + rng.normal(0, 1.2, len(cells))
    )
    fruit = 60 + effect[:, None] + rng.normal(0, 4, (len(cells), FRUIT))
    mean = fruit.mean(axis=1)
    return pd.DataFrame(
        {
            "sample": [f"S{number}" for number in range(len(cells))],
            "cultivar": [f"C{code:03d}" for code in c],
            "site": np.array(["Hill", "River", "Terrace", "Valley"])[s],
            "season": 2020 + y,
            "pick": cells["p"] + 1.0,
            trait: mean,
            f"{trait}_n": float(FRUIT),
            f"{trait}_ss": np.square(fruit - mean[:, None]).sum(axis=1),
            "firmness": 45 - 2.0 * cells["p"] + rng.normal(0, 4, len(cells)),
        }
    )


def judged(frame: pd.DataFrame) -> pd.DataFrame:
    """The same trial as a rating once a sample, 0 to 10."""
    rating = np.clip(5 + (frame["size"] - 60) / 4, 0, 10)
    return frame.drop(columns=["size", "size_n", "size_ss"]).assign(attractiveness=rating)
