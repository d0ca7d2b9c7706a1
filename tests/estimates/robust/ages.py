"""Young trees among grown ones: fruit of first crops is smaller, whatever the cultivar.

New cultivars are planted each year, two trees each, and bear from the second season on; the checks stand grown from the first.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pandas as pd

from dashboard.estimates import worth
from dashboard.estimates.comparisons import difference

CHECKS, NEW, STAY = 4, 7, 4  # a year so many are planted; they are kept for so many crops at most
SMALLER = (-3.0, -1.5, -0.5)  # mm in crops 1 to 3
OWN, PECULIAR, LEVEL, SAMPLE, WITHIN, FRUIT = 3.0, 1.2, 2.0, 1.2, 4.0, 10


def planted_trial(
    seasons: int, seed: int, smaller: tuple[float, ...] = SMALLER
) -> tuple[pd.DataFrame, pd.Series]:
    """Sample summaries, and the size (mm) of each cultivar's fruit on grown trees."""
    random = np.random.default_rng([seed, seasons])
    level = 60 + random.normal(0, LEVEL, seasons)
    names = [f"K{number}" for number in range(CHECKS)]
    since = dict.fromkeys(names, -9)
    for year in range(seasons):
        since |= {f"N{year}{number}": year for number in range(NEW)}
    own = {name: random.normal(0, OWN) for name in since}
    rows = []
    for name, first in since.items():
        kept = seasons if first < 0 else random.integers(1, STAY + 1)
        for season in range(max(first, 0), min(first + kept, seasons) if first >= 0 else seasons):
            crop = season - first + 1
            young = smaller[crop - 1] if crop <= len(smaller) else 0.0
            here = level[season] + own[name] + young + random.normal(0, PECULIAR)
            for pick in (1.0, 2.0):
                fruit = here + random.normal(0, SAMPLE) + random.normal(0, WITHIN, FRUIT)
                mean = fruit.mean()
                rows.append(
                    (
                        name,
                        "Hill",
                        2015 + season,
                        pick,
                        float(crop),
                        mean,
                        float(FRUIT),
                        np.square(fruit - mean).sum(),
                    )
                )
    columns = ["cultivar", "site", "season", "pick", "crop", "size", "size_n", "size_ss"]
    return pd.DataFrame(rows, columns=columns), pd.Series(own)


def judged(seasons: int, sets: range, known: bool, smaller: tuple[float, ...] = SMALLER) -> dict[str, float]:
    """Of differences from the first check: how far off on average, root mean square error, and how often 90 % intervals hold."""
    off, held = [], []
    for seed in sets:
        frame, own = planted_trial(seasons, seed, smaller)
        found = worth(
            frame if known else frame.drop(columns="crop"), "size", frozenset(f"K{k}" for k in range(CHECKS))
        )
        for name in found.values.index.drop(["K0"]):
            one, true = difference(found, name, "K0"), own[name] - own["K0"]
            if name.startswith("N"):
                off.append(one.estimate - true)
                held.append(one.low <= true <= one.high)
    return {
        "off by": float(np.mean(off)),
        "error": float(np.sqrt(np.mean(np.square(off)))),
        "held": float(np.mean(held)),
    }


def rows(count: int) -> Iterator[str]:
    for seasons in (4, 8):
        for smaller in (SMALLER, (0.0, 0.0, 0.0)):
            for known in (False, True):
                told = ", ".join(
                    f"{name} {value:.3f}"
                    for name, value in judged(seasons, range(count), known, smaller).items()
                )
                yield f"{seasons} seasons, first crops smaller by {smaller}, planting {'known' if known else 'not known'}: {told}"
