"""Three traits that go together in what lasts in one way, and in what seasons and samples do to them in another.

What lasts is drawn from two hidden factors, so that it is no more normal than fruit are; cultivars come and go.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.estimates import worth
from dashboard.estimates.draws import error_correlation, errors, long_run_draws
from dashboard.estimates.joint import joined
from dashboard.estimates.together import together
from dashboard.estimates.worth import Worth
from tests.estimates.robust.scoring import Score, scored

TRAITS = ("size", "sugar", "firmness")
LEVEL = np.array([62.0, 12.0, 45.0])
LASTING = np.array([3.0, 0.8, 6.0])  # SDs in mm, °Brix, N
LIMITS = {"size": 61.0, "sugar": 11.8}  # at least; no limit on firmness
FRUIT, SAMPLES = 6, 2


@dataclass(frozen=True)
class Case:
    name: str
    lasts: float  # correlation of size and sugar in what lasts; of both with firmness the other way, weaker
    passes: float  # and in what does not
    cultivars: int = 60
    sites: int = 2
    seasons: int = 5
    missing: float = 0.0  # share of samples without sugar

    def __str__(self) -> str:
        return (
            f"{self.name}: {self.lasts:+.1f} in what lasts, {self.passes:+.1f} in what passes, "
            f"{self.cultivars} x {self.sites} x {self.seasons}"
            + (f", {100 * self.missing:.0f} % of samples without sugar" if self.missing else "")
        )


CASES = (
    Case("opposite", 0.7, -0.6),
    Case("opposite, few", 0.7, -0.6, 20, 2, 3),
    Case("opposite, gaps", 0.7, -0.6, missing=0.4),
    Case("alike", 0.6, 0.6),
    Case("lasting alone", 0.7, 0.0),
    Case("passing alone", 0.0, 0.6),
    Case("none", 0.0, 0.0),
    Case("none, few", 0.0, 0.0, 16, 1, 3),
)


def root(correlation: float) -> np.ndarray:
    other = -0.6 * correlation
    whole = np.array([[1, correlation, other], [correlation, 1, other], [other, other, 1]])
    values, vectors = np.linalg.eigh(whole)
    return vectors * np.sqrt(np.maximum(values, 0))


def drawn(case: Case, seed: int) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Sample summaries, and what each cultivar is truly worth over the site-seasons of the trial."""
    rng = np.random.default_rng([seed, case.cultivars, case.seasons, int(100 * (1 + case.lasts))])
    lasts, passes = root(case.lasts), root(case.passes)

    def part(how: np.ndarray, share: float, *shape: int) -> np.ndarray:
        return share * LASTING * (rng.normal(size=(*shape, 3)) @ how.T)

    factor = rng.uniform(-np.sqrt(3), np.sqrt(3), (case.cultivars, 3))
    own = LASTING * (factor @ lasts.T)
    level = rng.normal(size=(case.sites, case.seasons, 3)) * LASTING * 0.6
    at_site = part(passes, 0.35, case.cultivars, case.sites, 1)
    cell = LEVEL + own[:, None, None] + level + at_site
    cell = cell + part(passes, 0.6, case.cultivars, 1, case.seasons)
    cell = cell + part(passes, 0.5, *cell.shape[:3])
    sample = cell[:, :, :, None] + part(passes, 0.5, *cell.shape[:3], SAMPLES)
    fruit = sample[..., None, :] + part(passes, 1.2, *sample.shape[:4], FRUIT)
    entered = rng.integers(1 - case.seasons, case.seasons, case.cultivars)
    stays = rng.integers(1, case.seasons + 1, case.cultivars)
    season = np.arange(case.seasons)
    stood = (season >= entered[:, None]) & (season < entered[:, None] + stays[:, None] + 1)
    stood[:3] = True
    stood[~stood.any(axis=1), rng.integers(case.seasons)] = True
    i, j, k, pick = np.indices(sample.shape[:4]).reshape(4, -1)
    keep = stood[i, k]
    frame = pd.DataFrame(
        {"cultivar": [f"C{code:02d}" for code in i], "site": np.array(["Hill", "River"])[j], "season": 2015 + k, "pick": pick + 1.0}
    )  # fmt: skip
    mean = fruit.mean(axis=4)
    for at, trait in enumerate(TRAITS):
        frame[trait] = mean[..., at].ravel()
        frame[f"{trait}_n"] = float(FRUIT)
        frame[f"{trait}_ss"] = np.square(fruit[..., at] - mean[..., None, at]).sum(axis=-1).ravel()
    lost = rng.random(len(frame)) < case.missing
    frame.loc[lost, ["sugar", "sugar_ss"]] = np.nan
    frame.loc[lost, "sugar_n"] = 0.0
    at_one = at_site[:, 0, 0] if case.sites == 1 else 0.0  # of one site, what it owes to that lasts too
    true = LEVEL + own + at_one + level.mean(axis=(0, 1))
    names = [f"C{code:02d}" for code in range(case.cultivars)]
    return frame[keep].reset_index(drop=True), pd.DataFrame(true, names, list(TRAITS))


@dataclass(frozen=True)
class Told:
    """``chance`` told that all limits hold, and whether they do; the score of each trait."""

    chance: np.ndarray
    held: np.ndarray
    by_trait: dict[str, Score]

    @property
    def brier(self) -> float:
        return float(np.mean(np.square(self.chance - self.held)))

    @property
    def worst(self) -> float:
        """The largest distance between the mean told and the share that held, in fifths of the chances told."""
        order = np.argsort(self.chance, kind="stable")
        return max(
            abs(self.chance[part].mean() - self.held[part].mean()) for part in np.array_split(order, 5)
        )

    def __str__(self) -> str:
        traits = "; ".join(f"{trait} {score}" for trait, score in self.by_trait.items())
        return f"Brier {self.brier:.4f}, worst fifth {self.worst:.3f}; {traits}"


def fitted(frame: pd.DataFrame) -> tuple[dict[str, Worth], dict[str, Worth]]:
    """Each trait told alone, and all of them together."""
    alone = {trait: worth(frame, trait) for trait in TRAITS}
    return alone, joined(alone, together(frame, TRAITS))


def as_was(frame: pd.DataFrame, alone: dict[str, Worth]) -> np.ndarray:
    """The correlation that errors of traits told alone were taken to have."""
    return np.broadcast_to(together(frame, TRAITS).correlation.to_numpy(), (len(alone["size"].values), 3, 3))


def told(case: Case, sets: range) -> tuple[Told, Told]:
    """Before and after."""
    chance, held, made = ([], []), [], tuple({trait: [] for trait in TRAITS} for _ in range(2))
    for seed in sets:
        frame, true = drawn(case, seed)
        alone, at_once = fitted(frame)
        true = true.loc[sorted(frame["cultivar"].unique())]
        held.append((true[list(LIMITS)] >= pd.Series(LIMITS)).all(axis=1).to_numpy())
        ways = ((alone, as_was(frame, alone)), (at_once, error_correlation(at_once)))
        for way, (found, correlation) in enumerate(ways):
            error = errors(found, correlation)
            clears = np.ones((1000, len(true)), dtype=bool)
            for trait, limit in LIMITS.items():
                clears &= long_run_draws(found[trait], error[trait]) >= limit
            for trait in TRAITS:
                made[way][trait].append((found[trait], true[trait][found[trait].values["estimate"].notna()]))
            chance[way].append(clears.mean(axis=0))
    before, after = (
        Told(np.concatenate(chance[way]), np.concatenate(held), {trait: scored(one) for trait, one in made[way].items()})
        for way in range(2)
    )  # fmt: skip
    return before, after


def rows(count: int) -> Iterator[str]:
    for case in CASES:
        before, after = told(case, range(min(count, 60)))
        yield f"{case}\n  before: {before}\n  after:  {after}"
