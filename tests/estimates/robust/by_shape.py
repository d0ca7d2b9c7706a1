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


def told(case: Case, sets: range, known: bool) -> dict[str, tuple[Made, Made, Made]]:
    """By trait what was told, with the truth, of round cultivars, of flat ones, and of a flat one and a round one in turn; ``known``: with
    their shapes."""
    made: dict[str, tuple[Made, Made, Made]] = {trait: ([], [], []) for trait in TRAITS}
    for seed in sets:
        frame, true, shapes = drawn(case, seed)
        alone = {trait: worth(frame, trait, kinds=shapes if known else None) for trait in TRAITS}
        of_round, of_flat = (np.flatnonzero(is_flat(true.index) == one) for one in (False, True))
        in_turn = np.column_stack([of_flat, of_round[: len(of_flat)]]).ravel()
        for trait, found in joined(alone, together(frame, TRAITS)).items():
            for some, rows in zip(made[trait], (of_round, of_flat, in_turn), strict=True):
                some.append((found, true[trait].iloc[rows]))
    return made


@dataclass(frozen=True)
class Scores:
    of_round: Score
    of_flat: Score
    beside: float  # share of differences of flat ones from round ones that hold
    error: float  # of all

    def __str__(self) -> str:
        off, own = self.of_flat.error.mean(), np.sqrt(np.mean(np.square(self.of_flat.error)))
        return (
            f"error {self.error:.4f}; flat off by {off:+.3f}, error {own:.3f}, held {self.of_flat.held.mean():.3f} ± "
            f"{self.of_flat.sampling[0]:.3f}, beside round ones {self.beside:.3f}; round held {self.of_round.held.mean():.3f}"
        )


def score_of(made: tuple[Made, Made, Made]) -> Scores:
    of_round, of_flat = (scored(one) for one in made[:2])
    error = np.concatenate([of_round.error, of_flat.error])
    beside = scored(made[2], neighbours=True).apart_held.mean()
    return Scores(of_round, of_flat, float(beside), float(np.sqrt(np.mean(np.square(error)))))


def rows(count: int) -> Iterator[str]:
    for case in CASES:
        for known in (False, True):
            yield f"{case}, shapes {'known' if known else 'not known'}"
            for trait, made in told(case, range(min(count, 60)), known).items():
                yield f"  {trait:9s} {score_of(made)}"
