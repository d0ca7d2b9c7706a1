"""A set that fills a season made smaller, and more welcome, than the greedy one.

One is taken out for good; then, as long as days lie bare, who gives these most is taken in and whom the rest needs least is taken out.
A day counts the more the longer it has lain bare, and who has just come or gone stays so for a while, so that no exchange is made over
and over. At the end each is exchanged for the most welcome that does the same. A choice of ours; the same set comes out whenever it is asked for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from dashboard.ripening.filling import Filling, greedy, most_useful, reached_without, seasons_in

EXCHANGES, SEED = 1500, 20
RISE = 0.2  # of a day's weight with each exchange that leaves it bare
REST = (1, 4)  # exchanges, from and up to, for which who came stays and who went is away
AIMED = (1, 6)  # with a most: bare days, from and up to, that are tried for next,
PATIENCE, IN_VAIN = 20, 20  # by so many exchanges at the most, and as many times in vain
NOISE = 0.02  # by which gains are shaken, so that of equals another is taken each time


def filled(task: Filling, *starts: Sequence[int], exchanges: int = EXCHANGES) -> tuple[int, ...]:
    """The set, in order of picking: ``kept``, and what covers the possible days with the fewest (or most days with ``most``).

    Never a larger one than the greedy one, nor than any of ``starts`` that covers as much.
    """
    random = np.random.default_rng(SEED)
    kept = [at for at in task.kept if at not in task.barred]
    begun = [_cut(task, [*kept, *(at for at in start if at not in kept)]) for start in starts]
    if task.most is not None:
        begun.append(_cut(task, greedy(replace(task, most=None))))
    best = min((_tidied(task, one) for one in (greedy(task), *begun)), key=task.standing)
    vain = 0
    while exchanges > 0 and vain < IN_VAIN:
        bare = task.most is not None and task.standing(best)[0] > 0
        tried, spent = (_more_days if bare else _one_fewer)(task, best, exchanges, random)
        exchanges -= spent
        stands, told = task.standing(tried)[:3], task.standing(best)[:3]
        vain = 0 if tried and stands < told else vain + 1 if bare else IN_VAIN
        if tried and stands <= told:  # what is as good may lead to what is better
            best = tried
    return tuple(sorted(_swapped(task, best), key=lambda at: (task.middles[at], at)))


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
    lacking, current = task.standing(chosen)[1], list(chosen)
    weights, until = np.ones(len(task.needed)), np.zeros(len(task.fruit))
    until[list(task.kept)] = until[list(task.barred)] = np.inf
    deeper = replace(task, least=task.least + 1)
    for turn in range(1, exchanges + 1):
        more = deeper.layers(current)
        found = more[:-1]
        if (
            len(current) > size
            and (gone := _least_needed(task, more, current, weights, until < turn)) is not None
        ):
            found = found & ~(task.fruit[gone] & ~more[1:])
            current.remove(gone)
            until[gone] = turn + int(random.integers(*REST))
        have = seasons_in(found)
        bare = np.flatnonzero(have[-1] < task.asked)
        if not len(bare) and len(current) <= size and task.standing(current)[1] <= lacking:
            return current, turn
        if hoped is not None and len(current) <= size and (left := int((have[-1] < hoped).sum())) <= close[0]:
            close = left, list(current)
        weights[bare] += RISE
        shaken = np.exp(NOISE * random.random(len(until)))
        factor = np.where(until < turn, shaken, 0.0) * _lacked(task, current)
        at = most_useful(task, found, have, bare, weights, current, factor) if len(bare) else None
        if at is None and (able := np.flatnonzero(factor)).size:
            at = int(random.choice(able))
        if at is not None:
            current.append(at)
            until[at] = turn + int(random.integers(*REST))
    return close[1], exchanges


def _least_needed(
    task: Filling, more: np.ndarray, chosen: list[int], weights: np.ndarray, may: np.ndarray
) -> int | None:
    """Who of those that ``may`` go (candidates,) leaves the days least bare, these by ``weights``; ``more``: a layer more than the task's."""
    asked = np.flatnonzero(task.asked)
    enough, barely = more[-2, asked], more[-2, asked] & ~more[-1, asked]
    without = enough & ~(task.fruit[np.ix_(np.array(chosen), asked)] & barely)
    kept = np.minimum(seasons_in(without), task.asked[asked]) @ weights[asked]
    kept[~may[chosen]] = -np.inf
    place = int(np.argmax(kept))
    return chosen[place] if np.isfinite(kept[place]) else None


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
