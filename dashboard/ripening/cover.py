"""How well a set of cultivars covers a season: on each day the chance that enough of them are being picked, and the gaps.

Everything is counted over joint draws of a coming season: the season moves all cultivars together, what each of them
does beside that is its own. A day is covered when at least ``least`` of the set are being picked on it in as many seasons of
ten as ``certainty`` asks; a gap is a run of days that are not.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import NamedTuple

import numpy as np
import pandas as pd

from dashboard.ripening.model import ANY, Ripening
from dashboard.ripening.parts import PARTS
from dashboard.ripening.seen import stretches

DRAWS, SEED = 1000, 20
CERTAINTIES = (6, 7, 8, 9)  # seasons in ten, of which one is chosen
CERTAINTY = 8  # unless another is
WEEK = 7
AROUND = 14  # days on either side of a gap that an actual one may reach into
CROWDED = 2.0  # times as many at once as on the mean day of the season


@dataclass(frozen=True, eq=False)
class Draws:
    """``first`` and ``last`` day of picking (draws, cultivars) of coming seasons at a site; NaN for one never picked."""

    cultivars: pd.Index
    first: np.ndarray
    last: np.ndarray

    def of(self, names: Sequence[str]) -> np.ndarray:
        """Columns of those names that are known."""
        rows = self.cultivars.get_indexer(pd.Index(names))
        rows = rows[rows >= 0]
        return rows[np.isfinite(self.first[0, rows])]


@dataclass(frozen=True)
class Gap:
    """Days ``first`` to ``last``, covered in too few seasons; ``chance`` is that of the worst of them.

    ``days``: how many days in a row lie bare there and around it in one season of ten at the best, in the middle one, and in
    one of ten at the worst; ``week``: chance of a week or more.
    """

    first: float
    last: float
    chance: float
    days: tuple[float, float, float]
    week: float


class Whole(NamedTuple):
    """Whole seasons: the ``chance`` that no day of one lies bare, how many lie ``bare`` on average, and how many at least in the ``worst`` of ten."""

    chance: float
    bare: float
    worst: int


@dataclass(frozen=True, eq=False)
class Cover:
    """What a set gives over a season.

    Parameters
    ----------
    draws : Draws
        Coming seasons.
    names : tuple of str
        The set.
    span : (float, float)
        First and last day, in days of the season.
    least : int
        How many at once make a day covered.
    certainty : int
        In so many seasons of ten it has to be so.
    """

    draws: Draws
    names: tuple[str, ...]
    span: tuple[float, float]
    least: int = 1
    certainty: int = CERTAINTY

    @property
    def wanted(self) -> float:
        """The chance from which a day is covered."""
        return self.certainty / 10

    @cached_property
    def days(self) -> np.ndarray:
        return np.arange(self.span[0], self.span[1] + 1)

    @cached_property
    def counts(self) -> np.ndarray:
        """(draws, days) how many are being picked."""
        rows = self.draws.of(self.names)
        return picking(self.draws.first[:, rows], self.draws.last[:, rows], self.span)

    @cached_property
    def chance(self) -> np.ndarray:
        """(days,) chance that at least ``least`` are being picked."""
        return (self.counts >= self.least).mean(axis=0)

    @property
    def covered(self) -> np.ndarray:
        """(days,) whether the chance is the wanted one, or more."""
        return self.chance >= self.wanted

    @cached_property
    def whole(self) -> Whole:
        """Of the same draws: a day that is covered in most seasons still lies bare in others, and not on the same days each time."""
        bare = (self.counts < self.least).sum(axis=1)
        return Whole(
            float((bare == 0).mean()), float(bare.mean()), int(np.quantile(bare, 0.9, method="higher"))
        )

    @cached_property
    def expected(self) -> np.ndarray:
        """(days,) how many are being picked on average."""
        return self.counts.mean(axis=0)

    @cached_property
    def gaps(self) -> tuple[Gap, ...]:
        bare = self.counts < self.least
        found = []
        for start, end in stretches(~self.covered):
            near = slice(max(start - AROUND, 0), min(end + AROUND, len(self.days)))
            longest = longest_runs(bare[:, near])
            few, middle, many = np.quantile(longest, [0.1, 0.5, 0.9])
            found.append(
                Gap(
                    float(self.days[start]), float(self.days[end - 1]), float(self.chance[start:end].min()),
                    (float(few), float(middle), float(many)), float((longest >= WEEK).mean()),
                )
            )  # fmt: skip
        return tuple(found)

    @cached_property
    def crowded(self) -> tuple[tuple[float, float], ...]:
        """Stretches (first day, last day) with more than CROWDED times as many at once as on the mean day."""
        if not self.expected.any():
            return ()
        much = self.expected > max(CROWDED * self.expected.mean(), self.least + 1)
        return tuple((float(self.days[a]), float(self.days[b - 1])) for a, b in stretches(much))

    @cached_property
    def losses(self) -> pd.Series:
        """By cultivar, how many more days of a season would lie bare without it; most first."""
        return self.picked_on(self.names, self.counts == self.least).sort_values(
            ascending=False, kind="stable"
        )

    def left_bare(self, name: str) -> tuple[tuple[float, float], ...]:
        """Stretches (first day, last day) that are covered and would be a gap without this one of the set; () for one not in it."""
        rows = self.draws.of([name] if name in self.names else [])
        own = picking(self.draws.first[:, rows], self.draws.last[:, rows], self.span)
        without = (self.counts - own >= self.least).mean(axis=0)
        lost = stretches(self.covered & (without < self.wanted))
        return tuple((float(self.days[a]), float(self.days[b - 1])) for a, b in lost)

    def picked_on(self, names: Sequence[str], decided: np.ndarray) -> pd.Series:
        """By cultivar, on how many of the ``decided`` (draws, days of the span) of a season it is being picked."""
        rows = self.draws.of(names)
        start, end = whole_days(self.draws.first[:, rows], self.draws.last[:, rows], self.span)
        running = np.concatenate([np.zeros((len(decided), 1)), decided.cumsum(axis=1)], axis=1)
        season = np.arange(len(decided))[:, None]
        days = np.maximum(running[season, end] - running[season, start], 0).mean(axis=0)
        return pd.Series(days, index=self.draws.cultivars[rows])


@lru_cache(maxsize=32)
def draws(ripe: Ripening, site: str = "", kind: str = ANY, count: int = DRAWS, seed: int = SEED) -> Draws:
    """Coming seasons, the same ones whenever asked for.

    Parameters
    ----------
    ripe : Ripening
    site : str
        Its key; "" over the sites.
    kind : str
        Kind of season: "early", "ordinary", "late" or "any".
    count, seed : int
        How many, and where they begin.

    Returns
    -------
    Draws
    """
    random = np.random.default_rng(seed)
    known = np.flatnonzero(ripe.known)
    drawn = {}
    for part in PARTS:
        expected = ripe.expected(part, site)
        own, shared = expected.parts
        error = own @ random.standard_normal((own.shape[1], count)) + shared @ random.standard_normal(
            (shared.shape[1], count)
        )
        error *= np.sqrt(expected.fit.best.point.sigma2)
        apart = np.sqrt(ripe.unseen_variance(part, site) + ripe.peculiar(part))
        shared_by_all, untold = _moved(ripe, part, count, random)
        if part == "first" and kind != ANY:
            shared_by_all = np.full(count, ripe.shift(kind))
        shared_by_all = shared_by_all + untold
        alone = apart[:, None] * random.standard_normal(error.shape)
        drawn[part] = (expected.estimate[:, None] + error + alone + shared_by_all).T
    first = np.full((count, len(ripe.cultivars)), np.nan)
    last = first.copy()
    first[:, known] = drawn["first"]
    last[:, known] = drawn["first"] + np.maximum(drawn["days"], 0)
    return Draws(ripe.cultivars, first, last)


def _moved(
    ripe: Ripening, part: str, count: int, random: np.random.Generator
) -> tuple[np.ndarray, np.ndarray | float]:
    """(count,) what a coming season does to all, and what the only one seen did to them, unknown to any fit."""
    if part not in ripe.spread:
        return np.sqrt(ripe.common(part)) * random.standard_t(ripe.df, count), 0.0
    variance = ripe.spread[part].drawn(count, random)
    there = ripe.common(part) - ripe.spread[part].mean  # what seasons do at the site alone
    coming, seen = np.sqrt(variance + max(there, 0.0)), np.sqrt(variance)
    coming = coming * random.standard_normal(count)
    return coming, seen * random.standard_normal(count) if ripe.untold(part) else 0.0


def picking(first: np.ndarray, last: np.ndarray, span: tuple[float, float]) -> np.ndarray:
    """How many cultivars are being picked, day by day.

    Parameters
    ----------
    first, last : ndarray of float
        (draws, cultivars) days of the season; they round to the nearest.
    span : (float, float)
        First and last day, whole numbers.

    Returns
    -------
    ndarray of int
        (draws, days of the span).
    """
    count, length = len(first), int(span[1] - span[0]) + 1
    start, end = whole_days(first, last, span)
    step = np.zeros((count, length + 1), dtype=np.int32)
    season = np.arange(count)[:, None] * (length + 1)
    for ends, by in ((start, 1), (end, -1)):
        step += by * np.bincount((season + ends).ravel(), minlength=step.size).reshape(step.shape).astype(
            np.int32
        )
    return step.cumsum(axis=1)[:, :length]


def whole_days(
    first: np.ndarray, last: np.ndarray, span: tuple[float, float]
) -> tuple[np.ndarray, np.ndarray]:
    """(draws, cultivars) places in the span: the first day picked and the one after the last, both cut to it."""
    length = int(span[1] - span[0]) + 1
    start = np.floor(first + 0.5 - span[0]).clip(0, length).astype(np.intp)
    end = (np.floor(last + 0.5 - span[0]) + 1).clip(0, length).astype(np.intp)
    return start, np.maximum(start, end)


def longest_runs(marked: np.ndarray) -> np.ndarray:
    """The longest run of marked days.

    Parameters
    ----------
    marked : ndarray of bool
        (draws, days).

    Returns
    -------
    ndarray of float
        (draws,) days.
    """
    run, longest = np.zeros(len(marked)), np.zeros(len(marked))
    for day in range(marked.shape[1]):
        run = (run + 1) * marked[:, day]
        longest = np.maximum(longest, run)
    return longest
