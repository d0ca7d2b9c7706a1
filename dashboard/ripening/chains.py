"""Whether so many cultivars can fill a season at all: a set is found, or it is proven that there is none.

A set in the order of picking is a chain. Let each link bring to a day what it adds to the ``memory`` links before it, in seasons and up to what is
asked. While all before it do not cover the day, nor do these few, so it brings no less than it adds to all; and the link that covers the day brings no
less than all before it lack. So what a chain that covers a day brings to it adds up to what is asked (a union bounded along a chain: Hunter 1976,
Journal of Applied Probability 13: 597-603, from memory). That holds for any sum of days, each by some weight, and the chain that brings most to
it is found link by link. Where it brings less than is asked, there is no set. Else every link that is in no chain which brings enough is
dropped, and those left remember one more, in the end all. Linear programs look for weights by which the chains met with bring least. Whoever
joins a set uncovers nothing, so a set of fewer is in one of ``size``. Whom no others make up for is in every set, and what they cover is not asked for. Weights are whole and what is asked weighs 2**22 at the most, where
single floats are still exact.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import linprog

from dashboard.ripening.filling import Filling, indispensable, seasons_in

EXACT = 2.0**22
ROUNDS, FEW = 100, 50  # of linear programs at the most, and links that are worth one
NEAR = 0.02  # they end, too, when so small a part could still be gained
STEP = 0.5  # of an even share, by which a day's weight moves at the most from the best so far
SHARPEST = 16  # weights, beside each day alone, by which links that remember one more are tried
PAIRS, BLOCK = 4096, 256  # of links looked at together, and counted together
MOST_LINKS = 600_000  # held at once


def covering(task: Filling, size: int, until: float = np.inf) -> tuple[int, ...] | None:
    """Candidates, ``size`` or fewer and who is kept among them, that cover every possible day; () where it is proven that there are none, None where
    neither is known ``until`` then (``time.monotonic``). One at once is enough (``least``), shares do not count, a day or more is asked for."""
    free = task.free[np.argsort(task.middles[task.free], kind="stable")]
    needed = np.isin(free, [*task.kept, *indispensable(task)])
    covered = np.bitwise_or.reduce(task.fruit[free[needed]], axis=0)
    lacking = task.asked - seasons_in(covered)
    must, free, days = free[needed].tolist(), free[~needed], np.flatnonzero(lacking > 0)
    if len(must) > size or not len(days):
        return tuple(sorted(must)) if len(must) <= size else ()
    chains = Chains(
        task.fruit[np.ix_(free, days)] & ~covered[days],
        lacking[days],
        min(size - len(must), len(free)),
        until,
    )
    while chains.some:
        if found := chains.lightened():
            return tuple(sorted({*must, *free[found].tolist()}))
        if chains.some and not chains.lengthened():
            return None
    return ()


@dataclass(frozen=True)
class Links:
    """At one place of the chains: who ``comes`` (links,), after which of the ``ends`` there and to which of the next place's (``start``, ``end``),
    and what it ``brings`` (links, days)."""

    comes: np.ndarray
    start: np.ndarray
    end: np.ndarray
    brings: np.ndarray

    def those(self, some: np.ndarray) -> Links:
        return Links(self.comes[some], self.start[some], self.end[some], self.brings[some])


class Chains:
    """Chains of ``size`` candidates, each later in the order than the one before: ``fruit`` (candidates, days, words), ``asked`` (days,)
    seasons. ``ends``: at each place who came last, (ends, memory)."""

    def __init__(self, fruit: np.ndarray, asked: np.ndarray, size: int, until: float) -> None:
        self.fruit, self.asked, self.until = fruit, asked.astype(np.float32), until
        every = np.arange(len(fruit))
        links = Links(every, 0 * every, 0 * every, np.minimum(seasons_in(fruit), self.asked))
        self.links, self.ends = [links] * size, [np.zeros((1, 0), dtype=int)] * size
        self.weights = np.full(len(asked), 1 / len(asked))
        self.sharpest: list[np.ndarray] = []

    @property
    def some(self) -> bool:
        return bool(self.links) and all(len(links.comes) for links in self.links)

    def lightened(self) -> list[int]:
        """By one weighting after the other, links are dropped that are in no chain which brings enough; a chain that covers every day, if one is met with."""
        tried: list[tuple[float, np.ndarray]] = []
        met, weights, least = np.zeros((0, len(self.asked))), self.weights, np.inf
        rounds = min(1 + sum(len(links.comes) for links in self.links) // FEW, ROUNDS)
        while len(tried) < rounds and time.monotonic() < self.until:
            chain, brought, over = self._best_chain(weights)
            if not self.some:
                return []
            if self._covers(chain):
                return chain
            tried.append((over, weights))
            if over < least:
                least, self.weights = over, weights
            met = np.vstack([met, brought - self.asked])
            weights, hoped = _lightest(met, self.weights)
            if least - hoped < NEAR * least:
                break
        self.sharpest = [one for _, one in sorted(tried, key=lambda one: one[0])[:SHARPEST]]
        return []

    def lengthened(self) -> bool:
        """The links remember one more, and those in no chain that brings enough are dropped; False where time or room do not suffice."""
        if time.monotonic() > self.until:
            return False
        weights = np.stack([self._whole(one) for one in (*np.eye(len(self.asked)), *self.sharpest)], axis=1)
        worth, _, after = self._values(weights)
        enough, first = self.asked @ weights, self.links[0]
        at = np.flatnonzero((worth[0] + after[1][first.end] >= enough).all(axis=1))
        before = worth[0][at]
        links, ends = [replace(first.those(at), end=np.arange(len(at)))], [self.ends[0]]
        for place in range(1, len(self.links)):
            prior, now = self.links[place - 1].those(at), self.links[place]
            ends.append(np.c_[self.ends[place - 1][prior.start], prior.comes])
            covered, rest = _Covered(self.fruit, ends[place], self.asked), after[place + 1][now.end]
            found = [
                (np.zeros(0, dtype=int), np.zeros(0, dtype=int), np.zeros((0, len(self.asked)), np.float32))
            ]
            for one, other in self._pairs(prior, now):
                may = (before[one] + worth[place][other] + rest[other] >= enough).all(axis=1)
                one, other = one[may], other[may]
                brings = covered.brought(one, now.comes[other])
                may = (before[one] + brings @ weights + rest[other] >= enough).all(axis=1)
                found.append((one[may], other[may], brings[may]))
                if sum(len(some) for some, _, _ in found) > MOST_LINKS or time.monotonic() > self.until:
                    return False
            one, other, brings = (np.concatenate(some) for some in zip(*found, strict=True))
            at, end = np.unique(other, return_inverse=True)
            links.append(Links(now.comes[other], one, end, brings))
            before = _most(before[one] + brings @ weights, end, len(at))
        links[-1] = replace(links[-1], end=0 * links[-1].end)
        self.links, self.ends = links, ends
        return True

    def _pairs(self, prior: Links, now: Links) -> Iterator[tuple[np.ndarray, np.ndarray]]:
        """Some at a time: links ``prior`` and those ``now`` that may follow them."""
        order = np.argsort(now.start, kind="stable")
        first = np.searchsorted(now.start[order], np.arange(prior.end.max(initial=-1) + 2))
        count = first[prior.end + 1] - first[prior.end]
        cuts = np.flatnonzero(np.diff(np.cumsum(count) // PAIRS)) + 1
        for block in np.split(np.arange(len(count)), cuts):
            some = count[block]
            one = np.repeat(block, some)
            other = order[
                first[prior.end[one]] + np.arange(len(one)) - np.repeat(np.cumsum(some) - some, some)
            ]
            later = now.comes[other] > prior.comes[one]
            yield one[later], other[later]

    def _values(self, weights: np.ndarray) -> tuple[list[np.ndarray], list[np.ndarray], list[np.ndarray]]:
        """By each of ``weights`` (days, weights), at each place: what its links bring (links, weights), and the most that is brought ``before`` and
        ``after`` it (ends, weights)."""
        worth = [links.brings @ weights for links in self.links]
        before = [np.zeros((1, weights.shape[1]), np.float32)]
        after = before[:]
        for place, links in enumerate(self.links[:-1]):
            before.append(
                _most(before[place][links.start] + worth[place], links.end, len(self.ends[place + 1]))
            )
        for place in range(len(self.links) - 1, -1, -1):
            links = self.links[place]
            after.insert(0, _most(worth[place] + after[0][links.end], links.start, len(self.ends[place])))
        return worth, before, after

    def _best_chain(self, weights: np.ndarray) -> tuple[list[int], np.ndarray, float]:
        """Who is in the chain that brings most, (days,) what it brings, and how much more than is asked, on a day of weight 1; links in no chain that brings
        enough are dropped."""
        whole = self._whole(weights)
        enough = float(self.asked @ whole)
        worth, before, after = self._values(whole[:, None])
        chain, brought, end = [], np.zeros(len(self.asked)), 0
        for place, links in enumerate(self.links):
            at = np.flatnonzero(links.start == end)
            at = at[np.argmax((worth[place] + after[place + 1][links.end])[at, 0])]
            chain.append(int(links.comes[at]))
            brought, end = brought + links.brings[at], links.end[at]
            most = (before[place][links.start] + worth[place] + after[place + 1][links.end])[:, 0]
            self.links[place] = links.those(most >= enough)
        return chain, brought, (float(after[0][0, 0]) - enough) / float(whole.sum())

    def _covers(self, chain: list[int]) -> bool:
        return bool((seasons_in(np.bitwise_or.reduce(self.fruit[chain], axis=0)) >= self.asked).all())

    def _whole(self, weights: np.ndarray) -> np.ndarray:
        return np.floor(weights * (EXACT / self.asked.max())).astype(np.float32)


@dataclass(frozen=True)
class _Covered:
    """What candidates add to each of ``ends`` (ends, memory): seasons, up to ``asked`` (days,)."""

    fruit: np.ndarray
    ends: np.ndarray
    asked: np.ndarray

    def brought(self, ends: np.ndarray, comes: np.ndarray) -> np.ndarray:
        """(pairs, days) that each of ``comes`` adds to the one of ``ends`` beside it."""
        told = np.zeros((len(ends), len(self.asked)), np.float32)
        for start in range(0, len(ends), BLOCK):
            some = slice(start, start + BLOCK)
            different, at = np.unique(ends[some], return_inverse=True)
            covered = np.bitwise_or.reduce(self.fruit[self.ends[different]], axis=1)
            with_it = seasons_in(covered[at] | self.fruit[comes[some]])
            told[some] = np.minimum(with_it, self.asked) - np.minimum(seasons_in(covered), self.asked)[at]
        return told


def _most(values: np.ndarray, at: np.ndarray, count: int) -> np.ndarray:
    """(count, weights) the largest of ``values`` (links, weights) that stand ``at`` each."""
    told = np.full((count, values.shape[1]), -np.inf, np.float32)
    if len(at):
        order = np.argsort(at, kind="stable")
        first = np.flatnonzero(np.diff(at[order], prepend=-1))
        told[at[order][first]] = np.maximum.reduceat(values[order], first, axis=0)
    return told


def _lightest(met: np.ndarray, best: np.ndarray) -> tuple[np.ndarray, float]:
    """Weights (days,) not far from the ``best``, by which of chains that brought ``met`` (chains, days) more than is asked the one that brings most brings
    least, and that much."""
    count, days = met.shape
    told = linprog(
        np.r_[np.zeros(days), 1.0], np.c_[met, -np.ones(count)], np.zeros(count), np.r_[np.ones(days), 0.0][None], [1.0],
        bounds=[*((max(one - STEP / days, 0.0), one + STEP / days) for one in best), (None, None)], method="highs",
    )  # fmt: skip
    return told.x[:days], float(told.fun)
