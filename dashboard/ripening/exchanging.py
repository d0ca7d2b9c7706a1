"""A set that fills a season made smaller, and more welcome, than the greedy one.

A few neighbors are taken out and their days filled anew, over and over; what is not worse is gone on from. At the end each is
exchanged for the most welcome that does the same. A choice of ours; the same set comes out whenever it is asked for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from dashboard.ripening.filling import Filling, extended, greedy, reached_without

EXCHANGES, SEED = 240, 20
TAKEN_OUT = (2, 5)  # how many neighbors at once
AIMED = (1, 9)  # bare days, from and up to, that a set not allowed to cover all tries to cover next
NOISE, LEANING = 0.3, 0.05  # by which gains are shaken between exchanges, and lean to what is worth more


def filled(task: Filling, *starts: Sequence[int], exchanges: int = EXCHANGES) -> tuple[int, ...]:
    """The set, in order of picking: ``kept``, and what covers the possible days with the fewest (or most days with ``most``).

    Never a larger one than the greedy one, nor than any of ``starts`` that covers as much.
    """
    random = np.random.default_rng(SEED)
    kept = [at for at in task.kept if at not in task.barred]
    begun = [_cut(task, [*kept, *(at for at in start if at not in kept)]) for start in starts]
    if task.most is not None:  # what fills the season, as much of it as may stay
        begun.append(_cut(task, filled(replace(task, most=None), *starts, exchanges=exchanges // 2)))
    current = min((_tidied(task, one) for one in (greedy(task), *begun)), key=task.standing)
    told, best = task.standing(current), current
    for _ in range(exchanges if len(current) > len(kept) else 0):
        tried = _refilled(task, current, random)
        if (stands := task.standing(tried))[:3] <= told[:3]:  # what is as good may lead to what is better
            current, told = tried, stands
            best = min(best, current, key=task.standing)
    current = best
    return tuple(sorted(_swapped(task, current), key=lambda at: (task.middles[at], at)))


def _refilled(task: Filling, chosen: list[int], random: np.random.Generator) -> list[int]:
    """The set with a few neighbors taken out and their days filled anew, by gains a little shaken."""
    kept = set(task.kept)
    order = [at for at in sorted(chosen, key=lambda at: (task.middles[at], at)) if at not in kept]
    count = min(int(random.integers(TAKEN_OUT[0], TAKEN_OUT[1] + 1)), len(order))
    if random.random() < 0.75:
        start = int(random.integers(0, len(order) - count + 1))
        out = set(order[start : start + count])
    else:
        out = set(random.permutation(order)[:count].tolist())
    left = [at for at in chosen if at not in out]
    weights = np.exp(random.normal(0, NOISE, len(task.needed)))
    if task.most is not None:
        weights *= _aimed(task, chosen, random)
    shaken = np.exp(NOISE / 5 * random.standard_normal(len(task.fruit)) + LEANING * task.welcome)
    size = len(chosen) if task.most is None else task.most
    tried = extended(task, left, weights, size, shaken)
    if task.most is not None:
        tried = greedy(task, tried)
    return _tidied(task, tried)


def _aimed(task: Filling, chosen: Sequence[int], random: np.random.Generator) -> np.ndarray:
    """(days,) 1 for those that are covered and a few of the others beside each other, 0 for the rest, which so few cannot all cover."""
    bare = np.flatnonzero(task.reached(chosen) < task.asked)
    aims = np.ones(len(task.needed))
    if len(bare):
        aims[bare] = 0
        start = int(random.integers(0, len(bare)))
        aims[bare[start : start + int(random.integers(*AIMED))]] = 1
    return aims


def _tidied(task: Filling, chosen: Sequence[int]) -> list[int]:
    """Without those that nothing needs, the least welcome first."""
    left = list(chosen)
    lacking = sum(quota.lacking(left) for quota in task.quotas)
    while len(left) > len(task.kept):
        have, without = reached_without(task, left)
        asked = np.minimum(task.asked, have)
        spare = (without >= asked).all(axis=1)
        idle = [
            at for place, at in enumerate(left) if spare[place] and at not in task.kept
            and sum(quota.lacking([one for one in left if one != at]) for quota in task.quotas) <= lacking
        ]  # fmt: skip
        if not idle:
            break
        left.remove(min(idle, key=lambda at: (task.welcome[at], -at)))
    return left


def _swapped(task: Filling, chosen: list[int]) -> list[int]:
    """Each exchanged for the one most welcome that leaves no further day bare, as long as any is."""
    current = list(chosen)
    for at in sorted(chosen, key=lambda at: (task.welcome[at], -at)):
        if at in task.kept:
            continue
        rest = [other for other in current if other != at]
        found, bare, lacking = task.layers(rest), *task.standing(current)[:2]
        have = np.bitwise_count(found).sum(axis=2, dtype=np.int32)
        days = np.flatnonzero(have[-1] < task.asked)
        better = [
            one for one in np.setdiff1d(task.free, current) if task.welcome[one] > task.welcome[at] + 1e-9
        ]
        if not better:
            continue
        last = found[-1][days] | (
            task.fruit[np.ix_(better, days)] & (found[-2][days] if task.least > 1 else np.uint64(2**64 - 1))
        )
        left = (np.bitwise_count(last).sum(axis=2, dtype=np.int64) < task.asked[days]).sum(axis=1)
        for place in sorted(np.flatnonzero(left <= bare), key=lambda one: -task.welcome[better[one]]):
            tried = [*rest, int(better[place])]
            if sum(quota.lacking(tried) for quota in task.quotas) <= lacking:
                current = tried
                break
    return current


def _cut(task: Filling, chosen: Sequence[int]) -> list[int]:
    """Those allowed, and of too many one by one without whom fewest days lie bare."""
    left = [at for at in dict.fromkeys(chosen) if at not in task.barred]
    while task.most is not None and len(left) > max(task.most, len(task.kept)):
        _, without = reached_without(task, left)
        lost = (without < task.asked).sum(axis=1)
        part = np.minimum(without, task.asked).sum(axis=1)
        left.remove(
            min(
                (at for at in left if at not in task.kept),
                key=lambda at: (lost[left.index(at)], -part[left.index(at)]),
            )
        )
    return left
