"""How often 90 % intervals of values and of differences hold, and how near the values are."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.estimates.comparisons import difference
from dashboard.estimates.worth import Worth


@dataclass(frozen=True)
class Score:
    """Over sets of records; a set counts with each of its cultivars."""

    held: np.ndarray  # bool: the truth lies in the interval of the value
    apart_held: np.ndarray  # the same of differences from the first cultivar, or of neighbours
    error: np.ndarray
    width: np.ndarray
    sets: int
    by_set: (
        np.ndarray
    )  # (sets, 2) share held in each, of values and of differences: its cultivars share their luck

    @property
    def sampling(self) -> np.ndarray:
        """(2,) standard errors of the two shares held, from set to set."""
        return np.nanstd(self.by_set, axis=0, ddof=1) / np.sqrt(self.sets)

    def __str__(self) -> str:
        return (
            f"{self.sets:5d} sets: value {self.held.mean():.3f} ± {self.sampling[0]:.3f}, "
            f"difference {self.apart_held.mean():.3f} ± {self.sampling[1]:.3f}, "
            f"error {np.sqrt(np.mean(np.square(self.error))):.3f}, half-width {self.width.mean():.3f}"
        )


def by_thirds(made: Iterable[tuple[Worth, pd.Series]]) -> list[Score]:
    """Of each third of the cultivars, in the order in which their true values stand."""
    sets = [(found, np.array_split(np.arange(len(true)), 3), true) for found, true in made]
    return [scored((found, true.iloc[thirds[place]]) for found, thirds, true in sets) for place in range(3)]


def scored(made: Iterable[tuple[Worth, pd.Series]], neighbours: bool = False) -> Score:
    """Differences are those of all others from the first; of ``neighbours`` those of each from the one before it, which share less luck."""
    held, apart, error, width, by_set, sets = [], [], [], [], [], 0
    for found, true in made:
        if not found.modelled:
            continue
        sets += 1
        values = found.values.loc[true.index]
        held.append(((values["low"] <= true) & (true <= values["high"])).to_numpy())
        error.append((values["estimate"] - true).to_numpy())
        width.append(((values["high"] - values["low"]) / 2).to_numpy())
        first, *others = true.index
        against = true.index[:-1] if neighbours else [first] * len(others)
        between = [difference(found, one, other) for one, other in zip(others, against, strict=True)]
        within = [one.low <= true[one.first] - true[one.second] <= one.high for one in between]
        apart += within
        by_set.append((held[-1].mean(), np.mean(within)))
    return Score(
        np.concatenate(held),
        np.array(apart),
        np.concatenate(error),
        np.concatenate(width),
        sets,
        np.array(by_set),
    )
