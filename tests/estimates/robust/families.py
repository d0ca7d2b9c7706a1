"""Cultivars that are brothers and sisters: founders crossed, families of eight, kept for one season or for several.

What is inherited lies at many places of the genome, each parent passing on one of its two at random, so it is neither normal nor
exactly what a matrix of relationships says; a part of each cultivar is its own and goes to no offspring.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.estimates import Worth, relatives_of, worth
from tests.estimates.robust.scoring import Score, scored

FOUNDERS, PLACES, FAMILY = 10, 60, 8
# SDs in mm: cultivars, all told; cultivar by site, by season, by both; site-season; sample; fruit.
LASTING, BY_SITE, BY_SEASON, BY_BOTH, LEVEL, SAMPLE, WITHIN, FRUIT = 3.0, 1.0, 1.4, 1.2, 2.0, 1.2, 4.0, 10
ONE_SEASON = 0.5  # share of the cultivars that is dropped after one


@dataclass(frozen=True)
class Case:
    name: str
    inherited: float = 0.7  # share of the variance between unrelated cultivars that parents pass on
    families: int = 10
    sites: int = 2
    seasons: int = 6
    wrong: float = 0.0  # share of the cultivars whose parents are written down wrong

    def __str__(self) -> str:
        return f"{self.name}: {self.families} families of {FAMILY}, {self.sites} x {self.seasons}"


CASES = (
    Case("as written"),
    Case("all inherited", inherited=1.0),
    Case("a third inherited", inherited=0.33),
    Case("nothing inherited", inherited=0.0),
    Case("one parent pair in five wrong", wrong=0.2),
    Case("all parents wrong", wrong=1.0),
    Case("few", families=4, sites=1, seasons=4),
    Case("many", families=30),
)


@dataclass(frozen=True)
class Families:
    summaries: pd.DataFrame
    parents: pd.DataFrame  # cultivar, seed_parent, pollen_parent
    true: pd.Series  # by cultivar, over the site-seasons
    one_season: frozenset[str]


def bred(case: Case, seed: int) -> Families:
    """A trial: half of the families have founders for parents, the others one parent of the families before them."""
    random = np.random.default_rng([seed, case.families, case.seasons])
    effect = random.normal(size=PLACES)
    passed = {f"F{k}": random.integers(0, 2, (2, PLACES)) for k in range(FOUNDERS)}
    pool = [[*passed]]
    rows, since = [], {}
    for family in range(case.families):
        older = pool[0] if family < case.families // 2 or len(pool) == 1 else pool[-1]
        seed_parent, pollen_parent = str(random.choice(older)), ""
        while pollen_parent in ("", seed_parent):
            pollen_parent = str(random.choice(pool[0]))
        names = [f"C{family:02d}-{k}" for k in range(FAMILY)]
        for name in names:
            passed[name] = np.stack(
                [
                    np.where(random.integers(0, 2, PLACES) == 0, *passed[parent])
                    for parent in (seed_parent, pollen_parent)
                ]
            )
            rows.append((name, seed_parent, pollen_parent))
            since[name] = family * max(case.seasons - 1, 1) // case.families
        if family + 1 == case.families // 2:
            pool.append([row[0] for row in rows])
    names = [row[0] for row in rows]
    spread = np.sqrt(PLACES / 2) * np.sqrt(np.square(effect).mean())
    lasting = {
        name: LASTING
        * (
            np.sqrt(case.inherited) * float(effect @ (passed[name].sum(axis=0) - 1)) / spread
            + np.sqrt(1 - case.inherited) * random.normal()
        )
        for name in names
    }
    one = frozenset(name for name in names if random.random() < ONE_SEASON)
    frame, there = _sampled(case, since, lasting, one, random)
    parents = pd.DataFrame(rows, columns=["cultivar", "seed_parent", "pollen_parent"])
    pairs = parents[["seed_parent", "pollen_parent"]].to_numpy()
    for place in np.flatnonzero(random.random(len(parents)) < case.wrong):
        pairs[place] = pairs[
            random.integers(len(parents) // 2)
        ]  # of the founders: nobody becomes its own ancestor
    parents[["seed_parent", "pollen_parent"]] = pairs
    return Families(frame, parents, there, one)


def _sampled(
    case: Case,
    since: dict[str, int],
    lasting: dict[str, float],
    one: frozenset[str],
    random: np.random.Generator,
) -> tuple[pd.DataFrame, pd.Series]:
    """Sample summaries of size (mm) and the true values; every cultivar stands at every site, from its first season on."""
    level = random.normal(0, LEVEL, (case.sites, case.seasons))
    rows, true = [], {}
    for name, first in since.items():
        last = first + 1 if name in one else min(first + 4, case.seasons)
        at_site = random.normal(0, BY_SITE, case.sites)
        # Of one site what suits it is part of the value there.
        true[name] = 60 + lasting[name] + level.mean() + (at_site[0] if case.sites == 1 else 0.0)
        for season in range(first, last):
            of_season = random.normal(0, BY_SEASON)
            for site in range(case.sites):
                cell = 60 + lasting[name] + at_site[site] + level[site, season] + of_season
                cell += random.normal(0, BY_BOTH)
                for pick in (1.0, 2.0):
                    fruit = cell + random.normal(0, SAMPLE) + random.normal(0, WITHIN, FRUIT)
                    square = np.square(fruit - fruit.mean()).sum()
                    rows.append((name, f"S{site}", 2015 + season, pick, fruit.mean(), float(FRUIT), square))
    columns = ["cultivar", "site", "season", "pick", "size", "size_n", "size_ss"]
    return pd.DataFrame(rows, columns=columns), pd.Series(true)


def told(case: Case, sets: range) -> list[tuple[Families, Worth, Worth]]:
    """Each trial with what it is worth without its pedigree and with it."""
    made = [bred(case, seed) for seed in sets]
    return [
        (one, worth(one.summaries, "size"), worth(one.summaries, "size", relatives=relatives_of(one.parents)))
        for one in made
    ]


def compared(case: Case, sets: range) -> tuple[list[Score], float]:
    """Before and after, of all cultivars and of those of one season; and in what share of the trials relatives spoke."""
    found = told(case, sets)
    one_season = [one.true[one.true.index.isin(list(one.one_season))] for one, _, _ in found]
    scores = []
    for which in (1, 2):
        every = [(trial[which], trial[0].true) for trial in found]
        few = [(trial[which], true) for trial, true in zip(found, one_season, strict=True)]
        scores += [scored(every), scored(few)]
    return scores, float(np.mean([len(after.leans) > 0 for _, _, after in found]))


def rows(count: int) -> Iterator[str]:
    for case in CASES:
        (before, before_one, after, after_one), spoke = compared(case, range(count))
        yield (
            f"{case}; relatives speak in {spoke:.2f}\n  before: {before}\n  after:  {after}"
            f"\n  one season, before: {before_one}\n  one season, after:  {after_one}"
        )
