"""Late cultivars vary more than early ones, from site to site, season to season and sample to sample; a site may be rougher than another.

Cultivars come and go: each stands at one or both of two sites for two to four of six seasons.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.estimates import worth
from tests.estimates.robust.scoring import Score, by_thirds

SITES, SEASONS, PICKS, FRUIT = 2, 6, 2, 10
LASTING, BY_SITE, BY_SEASON, BY_BOTH, LEVEL, SAMPLE, WITHIN = 3.0, 1.0, 1.6, 1.4, 2.5, 1.4, 4.0  # SDs in mm


@dataclass(frozen=True)
class Case:
    by_class: tuple[float, float, float] = (0.6, 1.0, 1.6)  # how far early, middle and late cultivars vary
    by_site: tuple[float, float] = (1.0, 1.0)
    cultivars: int = 60

    def __str__(self) -> str:
        return f"{self.cultivars} cultivars, by class {self.by_class}, by site {self.by_site}"


CASES = (
    Case(),
    Case((0.8, 1.0, 1.25)),
    Case((1.0, 1.0, 1.0)),
    Case((1.0, 1.0, 1.0), (0.6, 1.4)),
    Case(cultivars=24),
)


def drawn(case: Case, seed: int) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Sample summaries of size (mm), by day; and each cultivar's true mean over the site-seasons of the trial, and at each site."""
    rng = np.random.default_rng(
        [seed, case.cultivars, *(int(10 * one) for one in (*case.by_class, *case.by_site))]
    )
    count = case.cultivars
    kind = np.arange(count) * 3 // count
    middle = 165 + 25 * kind + rng.normal(0, 5, count)
    own, level = rng.normal(0, LASTING, count), rng.normal(0, LEVEL, (SITES, SEASONS))
    rough = np.array(case.by_class)[kind]
    at_site, in_season = rng.normal(0, BY_SITE, (count, SITES)), rng.normal(0, BY_SEASON, (count, SEASONS))
    both = rng.normal(0, BY_BOTH, (count, SITES, SEASONS))
    rows = []
    for i in range(count):
        sites = range(SITES) if rng.random() < 0.6 or i % 10 == 0 else [int(rng.integers(SITES))]
        entry, stay = (
            (0, SEASONS) if i % 10 == 0 else (int(rng.integers(SEASONS - 1)), int(rng.integers(2, 5)))
        )
        for k in range(entry, min(entry + stay, SEASONS)):
            for j in sites:
                here = case.by_site[j] * (at_site[i, j] + both[i, j, k]) + in_season[i, k]
                for pick in range(PICKS):
                    noise = case.by_site[j] * rng.normal(0, SAMPLE)
                    fruit = (
                        60
                        + own[i]
                        + level[j, k]
                        + rough[i] * (here + noise + case.by_site[j] * rng.normal(0, WITHIN, FRUIT))
                    )
                    mean = fruit.mean()
                    day = middle[i] + 3 * pick + rng.normal(0, 3)
                    rows.append(
                        (
                            f"C{i:02d}",
                            ("Hill", "River")[j],
                            2016 + k,
                            pick + 1.0,
                            day,
                            mean,
                            float(FRUIT),
                            np.square(fruit - mean).sum(),
                        )
                    )
    columns = ["cultivar", "site", "season", "pick", "day", "size", "size_n", "size_ss"]
    names = [f"C{i:02d}" for i in range(count)]
    true = pd.DataFrame({"over sites": 60 + own + level.mean()}, names)
    for j, site in enumerate(("Hill", "River")):
        true[site] = 60 + own + level[j].mean() + rough * case.by_site[j] * at_site[:, j]
    return pd.DataFrame(rows, columns=columns), true


def at_sites(case: Case, sets: range) -> dict[str, tuple[float, float, float]]:
    """By site: which share of the intervals of those that stood there holds, its standard error from set to set, and half their width."""
    held: dict[str, list[float]] = {"Hill": [], "River": []}
    width: dict[str, list[float]] = {"Hill": [], "River": []}
    for seed in sets:
        frame, true = drawn(case, seed)
        for site, told in worth(frame.drop(columns="day"), "size").at.items():
            told = told[told["samples"] > 0]
            here = true[site].loc[told.index]
            held[site].append(float(here.between(told["low"], told["high"]).mean()))
            width[site].append(float((told["high"] - told["low"]).mean() / 2))
    return {
        site: (
            float(np.mean(one)),
            float(np.std(one, ddof=1) / np.sqrt(len(one))),
            float(np.mean(width[site])),
        )
        for site, one in held.items()
    }


def by_class(case: Case, sets: range, told: bool = True) -> list[Score]:
    """Of early, middle and late cultivars; ``told``: with the days of picking, from which their classes follow."""
    sampled = (drawn(case, seed) for seed in sets)
    return by_thirds(
        (worth(frame.drop(columns=[] if told else ["day"]), "size"), true["over sites"])
        for frame, true in sampled
    )


def rows(count: int) -> Iterator[str]:
    for case in CASES:
        for told in (False, True):
            found = by_class(case, range(count), told)
            yield f"{case}, {'after' if told else 'before'}:\n" + "\n".join(
                f"  {name:6s} {score}" for name, score in zip(("early", "middle", "late"), found, strict=True)
            )
        for site, (share, error, width) in at_sites(case, range(count)).items():
            yield f"  at {site}: held {share:.3f} ± {error:.3f}, half-width {width:.2f}"
