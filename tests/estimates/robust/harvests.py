"""Picking days of a few cultivars over few seasons: early ones alike, late ones spread out, and seasons that come in any order.

Ripe days are real numbers; what is recorded are the visits on which ripe fruit was found, or with ``every=0`` the ripe days.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pandas as pd
from scipy import stats

from dashboard.ripening.cover import draws
from dashboard.ripening.model import ANY, ripening
from dashboard.ripening.this_week import this_week

SITES = ("Hill", "River")
PEAK = 200.0  # day of the season
AT_SITE, IN_SEASON, LOCAL, REST = 1.5, 2.0, 1.5, 1.5  # SDs in days
RIPE_DAYS, RIPE_SPREAD, RIPE_REST = 9.0, 2.0, 1.5


@dataclass(frozen=True, eq=False)
class Harvest:
    """``picks`` by their first and last day; ``ordinary`` and ``coming``: true (first, last) by cultivar at the first site."""

    picks: pd.DataFrame
    ordinary: pd.DataFrame
    coming: pd.DataFrame
    found: pd.DataFrame  # cultivar, site, season, day: what was ripe on which visit; none with every=0


def harvest(
    seasons: int, seed: int, *, cultivars: int = 24, sites: int = 2, move: float = 5.0, every: int = 0
) -> Harvest:
    """``move``: SD of a season's shift; ``every``: days from visit to visit."""
    rng = np.random.default_rng([seed, seasons, cultivars, every])
    late = rng.random(cultivars) < 0.4
    middle = PEAK + np.where(late, 15 + rng.gamma(2.0, 7.0, cultivars), -12 + rng.normal(0, 6.0, cultivars))
    at_site = rng.normal(0, AT_SITE, (cultivars, sites))
    season = rng.normal(0, move, seasons + 1)
    local = rng.normal(0, LOCAL, (seasons + 1, sites))
    of_season = rng.normal(0, IN_SEASON, (seasons + 1, cultivars))
    length = np.maximum(RIPE_DAYS + rng.normal(0, RIPE_SPREAD, cultivars), 3.0)
    names = [f"C{code:02d}" for code in range(cultivars)]
    start = rng.integers(0, max(every, 1), (seasons + 1, sites))
    rows, met, coming = [], [], None
    for k in range(seasons + 1):
        first = middle[:, None] + at_site + season[k] + local[k] + of_season[k][:, None]
        first = first + rng.normal(0, REST, first.shape)
        last = first + np.maximum(length[:, None] + rng.normal(0, RIPE_REST, first.shape), 1.0)
        if k == seasons:
            coming = pd.DataFrame({"first": first[:, 0], "last": last[:, 0]}, names)
            break
        for j in range(sites):
            days = np.arange(140 + start[k, j], 300, every) if every else np.empty(0)
            for i in range(cultivars):
                found = (
                    days[(days >= first[i, j]) & (days <= last[i, j])]
                    if every
                    else np.array([first[i, j], last[i, j]])
                )
                where = (names[i], SITES[j], 2015 + k)
                if len(found):
                    rows.append((*where, found[0], found.mean(), found[-1]))
                    met += [(*where, float(day)) for day in found if every]
    picks = pd.DataFrame(rows, columns=["cultivar", "site", "season", "first", "middle", "last"])
    ordinary = pd.DataFrame({"first": middle + at_site[:, 0]}, names).assign(
        last=lambda one: one["first"] + length
    )
    return Harvest(picks, ordinary, coming, pd.DataFrame(met, columns=["cultivar", "site", "season", "day"]))


NOTHING = pd.DataFrame({"cultivar": [], "first": [], "last": []})


MOVES = (3.0, 5.0, 8.0)  # days: how much seasons differ, from one country to another


def missed(told: pd.DataFrame, ordinary: pd.DataFrame, move: float) -> np.ndarray:
    """By cultivar the chance that a coming season's first day lies before not_before or its last after not_after, by the laws it is drawn
    from: whole, where one season to come would be all luck."""
    spread = np.sqrt(move**2 + LOCAL**2 + IN_SEASON**2 + REST**2)
    early = stats.norm.cdf((told["not_before"] - ordinary["first"]) / spread)
    return early + stats.norm.sf((told["not_after"] - ordinary["last"]) / np.hypot(spread, RIPE_REST))


def held(seasons: int, sets: range, moves: tuple[float, ...] = MOVES) -> dict[str, float]:
    """Shares of 90 % intervals that hold: an ordinary season's first day, a coming one's, days from the first cultivar;
    and the share of drawn seasons more than 60 days off. Sets take the ``moves`` of seasons in turn."""
    told: dict[str, list[float]] = {"ordinary": [], "coming": [], "from check": [], "beyond 60 days": []}
    for seed in sets:
        made = harvest(seasons, seed, move=moves[seed % len(moves)])
        names = made.ordinary.index
        ripe = ripening(made.picks, names)
        usual, any_kind = ripe.windows("Hill"), ripe.windows("Hill", ANY)
        first = made.ordinary["first"]
        told["ordinary"] += ((usual["first_low"] <= first) & (first <= usual["first_high"])).tolist()
        told["coming"] += (1 - missed(any_kind, made.ordinary, moves[seed % len(moves)])).tolist()
        apart = ripe.from_check(names[0], "Hill")
        true = made.ordinary.mean(axis=1) - made.ordinary.loc[names[0]].mean()
        told["from check"] += ((apart["low"] <= true) & (true <= apart["high"])).tolist()[1:]
        drawn = draws(ripe, "Hill", ANY, 200).first
        told["beyond 60 days"].append(float((np.abs(drawn - drawn.mean(axis=0)) > 60).any(axis=1).mean()))
    return {name: float(np.mean(values)) for name, values in told.items()}


def brier(seasons: int, sets: range) -> tuple[float, float, float]:
    """This week's chances for those not yet picked: mean square error, mean chance, share that came."""
    foretold, came = [], []
    for seed in sets:
        made = harvest(seasons, seed)
        ripe = ripening(made.picks, made.ordinary.index)
        for today in np.arange(180.0, 230.0, 7.0):
            begun = made.coming[made.coming["first"].round() < today]
            picked = begun.round().rename_axis("cultivar").reset_index()
            rows = this_week(ripe, picked, "Hill", today).rows
            waiting = made.coming.index.difference(begun.index)
            waiting = waiting[np.isfinite(rows["chance"].reindex(waiting))]
            foretold += rows.loc[waiting, "chance"].tolist()
            came += (made.coming.loc[waiting, "first"].round() < today + 7).tolist()
    error = float(np.mean(np.square(np.array(foretold) - came)))
    return error, float(np.mean(foretold)), float(np.mean(came))


def rows(count: int) -> Iterator[str]:
    for seasons in (1, 2, 3, 5, 8):
        for moves in (MOVES, *((move,) for move in MOVES)):
            told = held(seasons, range(count), moves)
            by = " or ".join(f"{move:g}" for move in moves)
            yield f"{seasons} seasons that move by {by} days: " + ", ".join(
                f"{name} {share:.3f}" for name, share in told.items()
            )
    for seasons in (2, 5):
        error, said, came = brier(seasons, range(count // 2))
        yield f"this week, {seasons} seasons before: Brier {error:.4f}, told {said:.3f}, came {came:.3f}"
