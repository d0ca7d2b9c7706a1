"""A set that fills a season made smaller, and more welcome, than the greedy one.

One is taken out for good; then, as long as days lie bare, of all pairs of who goes and who comes the one is exchanged that leaves days least bare.
A day counts the more the longer it has lain bare, and who has just come or gone stays so for a while, so that no exchange is made over
and over. At the end each is exchanged for the most welcome that does the same. A choice of ours; the same set comes out whenever it is asked for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from dashboard.ripening.filling import (
    Filling,
    brought_by,
    greedy,
    indispensable,
    reached_without,
    seasons_in,
)

EXCHANGES, USUAL, SEED = (
    240,
    16,
    20,
)  # one of a set of more than is usual, times the layers, counts so much more: it takes longer
MANY, LIGHT = (
    300,
    0.5,
)  # of fewer candidates an exchange that is to make a set smaller counts less, half at the least: it is sooner made
RISE = 1.1  # times a day's weight with each exchange that leaves it bare
STAYS, AWAY = (1, 5), (3, 11)  # exchanges, from and up to, for which who came stays and who went is away
AIMED = (1, 6)  # with a most: bare days, from and up to, that are tried for next,
PATIENCE, IN_VAIN = 20, 20  # by so many exchanges at the most, and as many times in vain
BRIEF = 20  # exchanges in which one of doubtful odds is to be done without
BLOCK = 20  # who might come in, looked at together
NOISE = 1e-4  # by which gains are shaken, so that of equals another is taken each time, and the better never gives way to the worse


def filled(task: Filling, *starts: Sequence[int], exchanges: float = EXCHANGES) -> tuple[int, ...]:
    """The set, in order of picking: ``kept``, and what covers the possible days with the fewest (or most days with ``most``).

    Never a larger one than the greedy one, nor than any of ``starts`` that covers as much.
    """
    random = np.random.default_rng(SEED)
    kept = [at for at in task.kept if at not in task.barred]
    begun = [_cut(task, [*kept, *(at for at in start if at not in kept)]) for start in starts]
    begun.append(greedy(task))
    if task.most is not None:
        begun.append(_cut(task, greedy(replace(task, most=None))))
    elif needed := [at for at in indispensable(task) if at not in kept]:
        task = replace(task, kept=(*task.kept, *needed))
        begun.append(greedy(task))
    best = min((_tidied(task, one) for one in begun), key=task.standing)
    vain = 0
    while exchanges > 0 and vain < IN_VAIN:
        bare = task.most is not None and task.standing(best)[0] > 0
        weight = max(len(best) * task.least / USUAL, 1.0)
        weight *= 1.0 if bare else min(max(len(task.free) / MANY, LIGHT), 1.0)
        tried, spent = (_more_days if bare else _one_fewer)(
            task, best, int(np.ceil(exchanges / weight)), random
        )
        exchanges -= max(spent, 1) * weight
        stands, told = task.standing(tried)[:3], task.standing(best)[:3]
        vain = 0 if tried and stands < told else vain + 1 if bare else IN_VAIN
        if tried and stands <= told:  # what is as good may lead to what is better
            best = tried
    return tuple(sorted(_swapped(task, best), key=lambda at: (task.middles[at], at)))


def likelier(task: Filling, chosen: Sequence[int], odds: np.ndarray, sure: float) -> tuple[int, ...]:
    """As many that do the same, with fewer of those whose ``odds`` (candidates,) lie below ``sure``: from the least on, each is kept out and
    a short search made for what does without it and without another such one; in order of picking."""
    random, current, needed = np.random.default_rng(SEED), list(chosen), set(task.kept)
    while doubtful := [at for at in current if odds[at] < sure and at not in needed]:
        at = min(doubtful, key=lambda one: odds[one])
        out = {int(one) for one in np.flatnonzero(odds < sure) if one not in current} | {at}
        surer = replace(
            task, needed=np.where(task.covered(current), task.asked, 0), most=len(current), barred=tuple({*task.barred, *out})
        )  # fmt: skip
        start = greedy(surer, [one for one in current if one != at])
        tried, _ = _exchanged(surer, start, len(current), BRIEF, random)
        if tried and task.standing(tried)[:3] <= task.standing(current)[:3]:
            current = tried
        else:
            needed.add(at)
    return tuple(sorted(current, key=lambda at: (task.middles[at], at)))


def _one_fewer(
    task: Filling, chosen: list[int], exchanges: int, random: np.random.Generator
) -> tuple[list[int], int]:
    """A set of one fewer that covers what ``chosen`` does, [] where none was found, and how many exchanges it took."""
    if len(chosen) <= len(task.kept):
        return [], 0
    asked = np.where(task.covered(chosen), task.asked, 0)
    tried, spent = _exchanged(replace(task, needed=asked), chosen, len(chosen) - 1, exchanges, random)
    return _tidied(task, tried), spent


def _more_days(
    task: Filling, chosen: list[int], exchanges: int, random: np.random.Generator
) -> tuple[list[int], int]:
    """A set of ``most`` that covers a few bare days beside what ``chosen`` covers; as ``_one_fewer``."""
    bare = np.flatnonzero(task.reached(chosen) < task.asked)
    start = int(random.integers(0, len(bare)))
    aims = np.where(task.covered(chosen), task.asked, 0)
    few = bare[start : start + int(random.integers(*AIMED))]
    aims[few] = task.asked[few]
    exchanges = min(exchanges, PATIENCE)
    tried, spent = _exchanged(replace(task, needed=aims), chosen, len(chosen), exchanges, random, task.asked)
    return _tidied(task, greedy(task, tried)), spent


def _exchanged(
    task: Filling, chosen: Sequence[int], size: int, exchanges: int, random: np.random.Generator,
    hoped: np.ndarray | None = None,
) -> tuple[list[int], int]:  # fmt: skip
    """A set of ``size`` that covers every day asked and lacks no more of the shares than ``chosen``, and the exchanges made. Where none is
    found, [], or of those on the way the one that leaves fewest days of ``hoped`` (days,) seasons bare."""
    close: tuple[float, list[int]] = (np.inf, [])
    lacking, current = task.standing(chosen)[1], _cut(replace(task, most=size), chosen)
    weights, until = np.ones(len(task.needed)), np.zeros(len(task.fruit))
    until[list(task.kept)] = until[list(task.barred)] = np.inf
    deeper = replace(task, least=task.least + 1)
    for turn in range(1, exchanges + 1):
        more = deeper.layers(current)
        have = seasons_in(more[-2])
        bare = np.flatnonzero(have < task.asked)
        if not len(bare) and task.standing(current)[1] <= lacking:
            return current, turn
        if hoped is not None and (left := int((have < hoped).sum())) <= close[0]:
            close = left, list(current)
        weights[bare] *= RISE
        factor = np.where(until < turn, np.exp(NOISE * random.random(len(until))), 0.0)
        pair = _best_pair(task, more, current, weights, factor)
        if pair is None:
            until[np.isfinite(until)] = 0
            continue
        gone, come = pair
        current[current.index(gone)] = come
        until[gone], until[come] = turn + int(random.integers(*AWAY)), turn + int(random.integers(*STAYS))
    return close[1], exchanges


def _best_pair(
    task: Filling, more: np.ndarray, current: list[int], weights: np.ndarray, factor: np.ndarray
) -> tuple[int, int] | None:
    """Of the set, who goes, and of the others, who comes, so that the days lack least by ``weights``; who has a ``factor``
    (candidates,) of 0 does neither. ``more``: the set's layers, one more than the task's."""
    going = [at for at in current if factor[at]]
    found = more[:-1] & ~(task.fruit[going][:, None] & ~more[1:])
    have = seasons_in(found)
    lacks = np.maximum(task.asked - have, 0)
    left = lacks.sum(axis=1) @ weights
    outside = factor.copy()
    outside[current] = 0.0
    best, least = None, np.inf
    for place in np.argsort(left, kind="stable"):
        lack = lacks[place].sum(axis=0, dtype=np.float32)
        days = np.flatnonzero(lack)
        may = (
            outside * _lacked(task, [at for at in current if at != going[place]]) if task.quotas else outside
        )
        reach = weights[days] @ np.minimum(task.daily[days], lack[days, None]) * may
        able = np.flatnonzero(reach > max(left[place] - least, 0.0))
        order = able[np.argsort(-reach[able], kind="stable")]
        asked = np.broadcast_to(task.asked[days], (task.least, len(days)))
        for start in range(0, len(order), BLOCK):
            block = order[start : start + BLOCK]
            if left[place] - reach[block[0]] >= least:
                break
            brought = brought_by(task, found[place][:, days], have[place][:, days], asked, block, days)
            after = left[place] - brought @ weights[days] * may[block]
            if (low := after.min()) < least:
                best, least = (going[place], int(block[after.argmin()])), low
    return best


def _lacked(task: Filling, chosen: list[int]) -> np.ndarray:
    """(candidates,) 1 for those not chosen, where shares lack somebody only for those they lack most; else 0."""
    told = np.zeros(len(task.fruit))
    for quota in task.quotas:
        if sum(quota.members[at] for at in chosen) < quota.least(len(chosen) + 1):
            told += quota.members
    told[chosen] = -1
    return (told == max(told.max(), 0)).astype(float)


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
        have = seasons_in(found)
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
