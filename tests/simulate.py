"""Trial records with a known truth: cohorts of cultivars that enter, are judged, and are dropped on what was seen.

    fruit = mean + environment + c_i + cs_is + cy_iy + csy_isy + pick step * pick + sample + fruit error

Every effect is normal with the spreads below, which are assumptions of this simulation, not measurements. Checks
stand at every site in every season; other cultivars at some sites, for at most four to seven seasons, and the poorest
running means leave first, so that the records are selected the way real ones are.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import pandas as pd

INCH_MM, POUND_N = 25.4, 4.4482216152605
SPREADS = ("cultivar", "cs", "cy", "env", "csy", "sample", "fruit")


@dataclass(frozen=True)
class Trait:
    mean: float
    sd: dict[str, float]
    pick: float  # what one pick later adds
    trend: float  # what one season of entry later adds to a cultivar


def _trait(unit: float, mean: float, sds: tuple[float, ...], pick: float, trend: float) -> Trait:
    return Trait(
        mean * unit,
        {name: sd * unit for name, sd in zip(SPREADS, sds, strict=True)},
        pick * unit,
        trend * unit,
    )


TRAITS = {
    "size": _trait(INCH_MM, 2.55, (0.20, 0.06, 0.08, 0.12, 0.07, 0.06, 0.17), -0.04, 0.008),  # mm
    "sugar": _trait(1.0, 12.0, (1.0, 0.30, 0.50, 0.80, 0.40, 0.50, 1.2), 0.2, 0.02),  # degrees Brix
    "firmness": _trait(POUND_N, 9.0, (1.6, 0.4, 0.8, 1.0, 0.7, 1.3, 2.0), -0.3, 0.05),  # N
    "rating": _trait(
        1.0, 6.2, (0.9, 0.25, 0.45, 0.5, 0.3, 0.8, 0.0), 0.0, 0.02
    ),  # 0-10, one judgement a sample
}


@dataclass(frozen=True)
class Plan:
    cultivars: int
    checks: int
    sites: int
    seasons: int
    active: int  # cultivars in trial in any one season
    sites_each: tuple[int, int]  # fewest and most sites of a cultivar


PLANS = {
    "S": Plan(87, 3, 1, 3, 51, (1, 1)),
    "H": Plan(140, 4, 2, 5, 52, (1, 2)),
    "M": Plan(350, 5, 3, 10, 91, (1, 3)),
    "L": Plan(2000, 8, 8, 20, 290, (1, 5)),
}
PICKS, PICK_SHARES = np.array([1, 2, 3, 4]), np.array([0.12, 0.28, 0.40, 0.20])
LOST_CELLS, SHORT_SAMPLES, FRUIT = 0.04, 0.08, 10


@dataclass(frozen=True, eq=False)
class Simulated:
    """``samples``: one row a sample (cultivar, site, season, pick, check, entry, the labels of every model term,
    mean, n, ss). ``fruit`` (samples, 10), NaN where there was none. ``truth``: one row a cultivar: ``value``, its
    long-run mean (at the site, when there is one only), ``here``, its mean over the environments of the trial, and
    ``coming``, its mean at the first site in the season after the records."""

    samples: pd.DataFrame
    fruit: np.ndarray
    truth: pd.DataFrame
    trait: Trait

    @property
    def within_ss(self) -> float:
        return float(self.samples["ss"].sum())

    @property
    def fruit_frame(self) -> pd.DataFrame:
        """One row a fruit: the columns of its sample and its value ``y``."""
        row, place = np.nonzero(np.isfinite(self.fruit))
        return self.samples.iloc[row].assign(y=self.fruit[row, place]).reset_index(drop=True)


def simulate(
    size: str = "S",
    trait: str = "size",
    seed: int = 0,
    *,
    trend: float = 1.0,
    interaction: float = 1.0,
    cull: bool = True,
    seasons: int | None = None,
) -> Simulated:
    """A data set of one of the PLANS; ``trend`` and ``interaction`` multiply the assumed trend and the spreads of the
    cultivar by environment terms."""
    plan, model = PLANS[size], TRAITS[trait]
    years = plan.seasons if seasons is None else seasons
    random, sd = np.random.default_rng(seed), model.sd
    count = plan.cultivars
    env = random.normal(0, sd["env"], (years, plan.sites))
    cs = random.normal(0, sd["cs"] * interaction, (count, plan.sites))
    cy = random.normal(0, sd["cy"] * interaction, (count, years))
    low, high = plan.sites_each
    grown = (
        random.random((count, plan.sites)).argsort(axis=1) < random.integers(low, high + 1, count)[:, None]
    )
    grown[: plan.checks] = True
    stay = random.integers(4, 8, count)

    entry = np.zeros(count, dtype=int)
    waiting = np.arange(plan.active + plan.checks, count)
    for season, cohort in enumerate(np.array_split(waiting, max(years - 1, 1)), start=1):
        entry[cohort] = season
    c = random.normal(0, sd["cultivar"], count) + model.trend * trend * entry
    active = entry == 0
    total, times = np.zeros(count), np.zeros(count)
    frames, fruits = [], []
    for season in range(years):
        if season:
            active = _kept(
                active,
                entry,
                stay,
                season,
                plan,
                total / np.maximum(times, 1) if cull else random.random(count),
            )
        who, where = np.nonzero(grown & active[:, None])
        found = random.random(len(who)) >= LOST_CELLS
        who, where = who[found], where[found]
        cell = env[season, where] + c[who] + cs[who, where] + cy[who, season]
        cell = model.mean + cell + random.normal(0, sd["csy"] * interaction, len(who))
        picks = random.choice(PICKS, len(who), p=PICK_SHARES)
        row = np.repeat(np.arange(len(who)), picks)
        pick = np.arange(len(row)) - np.repeat(np.cumsum(picks) - picks, picks)
        level = cell[row] + model.pick * pick + random.normal(0, sd["sample"], len(row))
        fruit = level[:, None] + random.normal(0, sd["fruit"], (len(row), FRUIT))
        short = random.random(len(row)) < SHORT_SAMPLES
        few = np.where(short, random.integers(3, FRUIT, len(row)), FRUIT)
        fruit[np.arange(FRUIT) >= few[:, None]] = np.nan
        frames.append(
            pd.DataFrame({"cultivar": who[row], "site": where[row], "season": season, "pick": pick})
        )
        fruits.append(fruit)
        total += np.bincount(who[row], np.nanmean(fruit, axis=1), count)
        times += np.bincount(who[row], minlength=count)
    values = model.mean + c + (cs[:, 0] if plan.sites == 1 else 0.0)
    made = _simulated(
        pd.concat(frames, ignore_index=True), np.concatenate(fruits), values, env, entry, plan, model
    )
    later = np.random.default_rng([seed, 1])  # the season after the records, at the first site
    peculiar = np.hypot(sd["cy"], sd["csy"]) * interaction
    coming = model.mean + c + cs[:, 0] + later.normal(0, sd["env"]) + later.normal(0, peculiar, count)
    return replace(made, truth=made.truth.assign(coming=coming[made.truth.index]))


def _kept(
    active: np.ndarray, entry: np.ndarray, stay: np.ndarray, season: int, plan: Plan, seen: np.ndarray
) -> np.ndarray:
    """Who is in trial this season: checks, newcomers, and the best of the others as far as there is room."""
    check = np.arange(len(active)) < plan.checks
    new = entry == season
    old = active & ~check & (season - entry < stay)
    room = max(plan.active - int(new.sum()), 0)
    best = np.flatnonzero(old)[np.argsort(-seen[old])[:room]]
    kept = check | new
    kept[best] = True
    return kept


def _simulated(
    samples: pd.DataFrame,
    fruit: np.ndarray,
    values: np.ndarray,
    env: np.ndarray,
    entry: np.ndarray,
    plan: Plan,
    model: Trait,
) -> Simulated:
    cultivar, site, season = (samples[name] for name in ("cultivar", "site", "season"))
    mean = np.nanmean(fruit, axis=1)
    samples = samples.assign(
        check=cultivar < plan.checks,
        entry=entry[cultivar],
        env=season * plan.sites + site,
        cs=cultivar * plan.sites + site,
        cy=cultivar * plan.seasons + season,
        csy=(cultivar * plan.seasons + season) * plan.sites + site,
        mean=mean,
        n=np.isfinite(fruit).sum(axis=1).astype(float),
        ss=np.nansum(np.square(fruit - mean[:, None]), axis=1),
    )
    truth = pd.DataFrame({"value": values, "here": values + env.mean(), "entry": entry})
    truth["check"] = truth.index < plan.checks
    return Simulated(samples, fruit, truth.rename_axis("cultivar"), model)
