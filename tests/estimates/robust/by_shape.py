"""Three traits told together of round cultivars and of flat ones, every eighth, which are smaller and sweeter by so many SDs of all.

The trials are those of ``several_traits``: what lasts goes together across traits, and is not normal.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.estimates import Worth, worth
from dashboard.estimates.joint import joined
from dashboard.estimates.together import together
from tests.estimates.robust import several_traits
from tests.estimates.robust.scoring import Score, scored
from tests.estimates.robust.several_traits import LASTING, TRAITS

Made = list[tuple[Worth, pd.Series]]


@dataclass(frozen=True)
class Case:
    apart: float  # SDs of cultivars by which flat ones are smaller; half as much sweeter
    cultivars: int = 60
    seasons: int = 5

    def __str__(self) -> str:
        return f"flat apart by {self.apart:g} SD, {self.cultivars} x 2 x {self.seasons}"


CASES = (Case(0.0), Case(0.5), Case(1.0), Case(2.0), Case(0.0, 40, 3), Case(1.0, 40, 3))


def is_flat(names: pd.Index) -> np.ndarray:
    return names.str.slice(1).astype(int).to_numpy() % 8 == 3


def drawn(case: Case, seed: int) -> tuple[pd.DataFrame, pd.DataFrame, pd.Series]:
    """Sample summaries, the true values by trait, and the shapes."""
    like = several_traits.Case("by shape", 0.5, -0.3, case.cultivars, 2, case.seasons)
    frame, true = several_traits.drawn(like, seed)
    by = dict(zip(TRAITS, case.apart * LASTING * np.array([-1.0, 0.5, 0.0]), strict=True))
    for trait, step in by.items():
        frame[trait] += step * is_flat(pd.Index(frame["cultivar"]))
        true[trait] += step * is_flat(true.index)
    shapes = pd.Series(np.where(is_flat(true.index), "flat", "round"), true.index)
    return frame, true[true.index.isin(frame["cultivar"])], shapes


def told(case: Case, sets: range, known: bool) -> dict[str, tuple[Made, Made]]:
    """By trait what was told of round and of flat cultivars, with the truth; ``known``: with their shapes."""
    made: dict[str, tuple[Made, Made]] = {trait: ([], []) for trait in TRAITS}
    for seed in sets:
        frame, true, shapes = drawn(case, seed)
        alone = {trait: worth(frame, trait, kinds=shapes if known else None) for trait in TRAITS}
        flat = is_flat(true.index)
        for trait, found in joined(alone, together(frame, TRAITS)).items():
            for kind, rows in zip(made[trait], (~flat, flat), strict=True):
                kind.append((found, true.loc[rows, trait]))
    return made


def score_of(made: tuple[Made, Made]) -> tuple[Score, Score, float]:
    """Of round cultivars and of flat ones, and the error of all."""
    each = scored(made[0]), scored(made[1])
    return *each, float(np.sqrt(np.mean(np.square(np.concatenate([one.error for one in each])))))


def rows(count: int) -> Iterator[str]:
    for case in CASES:
        for known in (False, True):
            yield f"{case}, shapes {'known' if known else 'not known'}"
            for trait, made in told(case, range(min(count, 60)), known).items():
                of_round, of_flat, error = score_of(made)
                yield f"  {trait:9s} all {error:.4f}; flat off by {of_flat.error.mean():+.3f}, {of_flat}; round {of_round}"
