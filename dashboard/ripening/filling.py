"""Which few cultivars fill a selling season: a set that has fruit on each day in as many drawn seasons as are asked for.

A day is covered exactly as ``cover.Cover`` tells it, over the same draws. The set is chosen greedily by the seasons that each
cultivar adds, over all days and only up to what is asked: Nemhauser, Wolsey & Fisher (1978), Mathematical Programming 14: 265-294, and
Wolsey (1982), Combinatorica 2: 385-393 (both from memory). What is better is looked for by ``exchanging``; how far from best it may be, ``fewest``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import pandas as pd

from dashboard.ripening.cover import Draws, whole_days

BLOCK = 48  # candidates looked at together
WORD = 64


@dataclass(frozen=True)
class Quota:
    """At least ``share`` (0 to 1) of the set are ``members`` (candidates,) True or False."""

    members: tuple[bool, ...]
    share: float

    def lacking(self, chosen: Sequence[int]) -> int:
        """How many of the set are too few."""
        return max(self.least(len(chosen)) - sum(self.members[at] for at in chosen), 0)

    def least(self, size: int) -> int:
        return int(np.ceil(self.share * size - 1e-9))


@dataclass(frozen=True, eq=False)
class Filling:
    """``fruit`` (candidates, days, words): one bit a drawn season, set where the candidate is picked on that day. ``needed``
    (days,): in how many of ``seasons`` at least ``least`` of a set are to be picked. Days that all candidates together do not
    cover are given up (``possible``). ``worth`` (candidates,) tells who is welcome where days do not."""

    fruit: np.ndarray
    seasons: int
    needed: np.ndarray
    least: int = 1
    worth: np.ndarray | None = None
    kept: tuple[int, ...] = ()
    barred: tuple[int, ...] = ()
    quotas: tuple[Quota, ...] = ()
    most: int | None = None

    @cached_property
    def free(self) -> np.ndarray:
        """Those that may be chosen."""
        return np.setdiff1d(np.arange(len(self.fruit)), self.barred).astype(int)

    @cached_property
    def possible(self) -> np.ndarray:
        """(days,) whether all that may be chosen cover it together."""
        return self.reached(self.free) >= self.needed

    @cached_property
    def asked(self) -> np.ndarray:
        """(days,) ``needed``, and 0 on days that cannot be covered."""
        return np.where(self.possible, self.needed, 0)

    @cached_property
    def welcome(self) -> np.ndarray:
        return np.zeros(len(self.fruit)) if self.worth is None else np.nan_to_num(self.worth)

    @cached_property
    def middles(self) -> np.ndarray:
        """(candidates,) the day about which each is picked."""
        days = np.bitwise_count(self.fruit).sum(axis=2, dtype=np.int64)
        return days @ np.arange(days.shape[1]) / np.maximum(days.sum(axis=1), 1)

    @cached_property
    def often(self) -> np.ndarray:
        """(candidates, days) in how many seasons each is picked."""
        return np.bitwise_count(self.fruit).sum(axis=2, dtype=np.int32)

    @cached_property
    def daily(self) -> np.ndarray:
        """(days, candidates) the same, laid out by day."""
        return np.ascontiguousarray(self.often.T, dtype=np.float32)

    def layers(self, chosen: Sequence[int] | np.ndarray) -> np.ndarray:
        """(least, days, words) seasons with at least one, two, … of the chosen."""
        found = np.zeros((self.least, *self.fruit.shape[1:]), dtype=np.uint64)
        for at in chosen:
            self.lay(found, at)
        return found

    def lay(self, found: np.ndarray, at: int) -> None:
        fruit = self.fruit[at]
        for level in range(self.least - 1, 0, -1):
            found[level] |= found[level - 1] & fruit
        found[0] |= fruit

    def reached(self, chosen: Sequence[int] | np.ndarray) -> np.ndarray:
        """(days,) in how many seasons enough of the chosen are picked."""
        return seasons_in(self.layers(chosen)[-1])

    def covered(self, chosen: Sequence[int] | np.ndarray) -> np.ndarray:
        """(days,) whether the chosen cover it."""
        return self.reached(chosen) >= self.needed

    def standing(self, chosen: Sequence[int]) -> tuple[int, int, int, float]:
        """The less, the better: days of those possible that lie bare, members that a share lacks, the set's size, what it is worth."""
        bare = int((self.reached(chosen) < self.asked).sum())
        lacking = sum(quota.lacking(chosen) for quota in self.quotas)
        return bare, lacking, len(chosen), -float(self.welcome[list(chosen)].sum())


def seasons_in(bits: np.ndarray) -> np.ndarray:
    """(…,) how many bits are set in (…, words)."""
    found = np.bitwise_count(bits).astype(np.float32) @ np.ones(bits.shape[-1], dtype=np.float32)
    return np.asarray(
        found.astype(np.int64)
    )  # whole numbers far below 2**24, so exact; a plain sum is four times as slow


def reached_without(task: Filling, chosen: Sequence[int] | np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(days,) in how many seasons enough of the chosen are picked, and (chosen, days) the same without each of them."""
    more = replace(task, least=task.least + 1).layers(chosen)
    enough, barely = more[-2], more[-2] & ~more[-1]
    without = enough & ~(task.fruit[list(chosen)] & barely)
    return (
        seasons_in(enough),
        seasons_in(without),
    )


def indispensable(task: Filling) -> list[int]:
    """Who is in every set that covers the possible days: those for whom all others together do not make up."""
    _, without = reached_without(task, task.free)
    return list(task.free[(without < task.asked).any(axis=1)].tolist())


def fruit_days(found: Draws, names: Sequence[str], span: tuple[float, float]) -> np.ndarray:
    """(names, days, words) as ``Filling.fruit``, of names that ``found`` knows; no season's bit where one has no pick."""
    rows = found.cultivars.get_indexer(pd.Index(names))
    start, end = whole_days(np.nan_to_num(found.first[:, rows]), np.nan_to_num(found.last[:, rows]), span)
    never = (rows < 0) | ~np.isfinite(found.first[0, rows])
    end[:, never] = 0
    seasons, length = len(start), int(span[1] - span[0]) + 1
    days, words = np.arange(length)[:, None], -(-seasons // WORD)
    bits = np.zeros((len(rows), length, words * WORD // 8), dtype=np.uint8)
    for at in range(len(rows)):
        told = np.packbits((days >= start[:, at]) & (days < end[:, at]), axis=1)
        bits[at, :, : told.shape[1]] = told
    return bits.view(np.uint64)


def needed_seasons(certainty: int, seasons: int) -> int:
    """The fewest of ``seasons`` whose share ``Cover`` takes for covered at so many in ten."""
    return int(np.argmax(np.arange(seasons + 1) / seasons >= certainty / 10))


def greedy(task: Filling, chosen: Sequence[int] | None = None) -> list[int]:
    """``chosen`` (unless given, ``kept``) and, one by one up to ``most``, what adds most seasons to the days, each up to what is asked; then
    those that a share lacks."""
    start = [at for at in task.kept if at not in task.barred] if chosen is None else chosen
    found, chosen, weights = task.layers(start), list(start), np.ones(len(task.needed))
    while task.most is None or len(chosen) < task.most:
        have = seasons_in(found)
        bare = np.flatnonzero(have[-1] < task.asked)
        at = most_useful(task, found, have, bare, weights, chosen) if len(bare) else _member(task, chosen)
        if at is None:
            break
        chosen.append(at)
        task.lay(found, at)
    return chosen


def most_useful(
    task: Filling,
    found: np.ndarray,
    have: np.ndarray,
    bare: np.ndarray,
    weights: np.ndarray,
    chosen: list[int],
) -> int | None:
    """Who of those not chosen adds most to the ``bare`` days by ``weights`` (days,): to layers ``found`` that ``have`` (least, days) so many seasons."""
    asked = np.tile(task.asked[bare], (task.least, 1))
    at = _best(task, found, have, bare, asked, weights[bare], chosen)
    if at is None and task.least > 1:  # one alone adds nothing where several have to come together
        asked[:-1] = task.seasons
        at = _best(task, found, have, bare, asked, weights[bare], chosen)
    return at


def _best(
    task: Filling, found: np.ndarray, have: np.ndarray, bare: np.ndarray, asked: np.ndarray, weights: np.ndarray,
    chosen: list[int],
) -> int | None:  # fmt: skip
    """Who adds most to the bare days, in each layer no more than is ``asked`` (least, bare) of it. Candidates are looked at from the one that could at most, until none left can add more."""
    may = np.zeros(len(task.fruit))
    may[task.free] = 1.0
    may[chosen] = 0.0
    lacking = np.maximum(asked - have[:, bare], 0).sum(axis=0)
    reach = (np.minimum(task.often[:, bare], lacking) @ weights) * may
    others = np.flatnonzero(reach)
    reach = reach[others]
    order = others[np.argsort(-reach, kind="stable")]
    reach = np.sort(reach)[::-1]
    best, most = None, 0.0
    for start in range(0, len(order), BLOCK):
        if reach[start] <= most:
            break
        block = order[start : start + BLOCK]
        gains = brought_by(task, found[:, bare], have[:, bare], asked, block, bare) @ weights * may[block]
        top = np.lexsort((block, -task.welcome[block], -np.round(gains, 6)))[0]
        if gains[top] > most + 1e-9:
            best, most = int(block[top]), float(gains[top])
    return best


def brought_by(
    task: Filling, found: np.ndarray, have: np.ndarray, asked: np.ndarray, block: np.ndarray, days: np.ndarray
) -> np.ndarray:
    """(block, days) seasons that each adds to the layers, in each no more than is asked."""
    fruit, gains = task.fruit[block[:, None], days], 0
    for level in range(task.least):
        with_it = found[level] | (fruit if level == 0 else fruit & found[level - 1])
        count = seasons_in(with_it)
        gains = gains + np.minimum(count, asked[level]) - np.minimum(have[level], asked[level])
    return np.asarray(gains)


def _member(task: Filling, chosen: list[int]) -> int | None:
    """Who is welcome most of those that a share still lacks."""
    for quota in task.quotas:
        if quota.lacking(chosen):
            others = [at for at in task.free if quota.members[at] and at not in chosen]
            if others:
                return max(others, key=lambda at: (task.welcome[at], -at))
    return None
