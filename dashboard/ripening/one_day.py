"""What a day asks of any set that covers it: cuts sharper than counting seasons, for the bound in ``fewest``.

Those with most fruit on the day are its mainstays; all sets of up to three of them are looked at. A mainstay weighs a fourth at least, so four
weigh one; fewer that cover the day together are made to weigh one. Where fewer lack L seasons of it, the others have to bring these:
each of them weighs at least its part of L, times what the mainstays' weight lacks of one, in the worst case. So whatever set
covers the day weighs one or more (lifting, as of cover inequalities; the argument is whole here). Which weights, of all those: the ones that the
given parts of cultivars break most, by linear programming.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np
from scipy import sparse
from scipy.optimize import linprog

LIGHTEST = 0.25  # of a mainstay: no more than three are looked at together
MAINSTAY, MOST_MAINSTAYS = 0.32, 45  # part of the seasons asked for that makes one
ROUNDS, AT_ONCE = 8, 300  # of linear programs a day, and conditions that each adds
ROUNDING = 1e-6  # by which a cut is weakened for what adding up may be off by
REGARD = 0.003  # for those that the given parts leave out, so that their weights stay low too


class OneDay:
    """``fruit`` (candidates, words), one bit a drawn season; ``asked`` seasons of them, 1 or more, with one picked at least."""

    def __init__(self, fruit: np.ndarray, asked: int) -> None:
        often = np.bitwise_count(fruit).sum(axis=1, dtype=np.int64)
        order = np.argsort(-often, kind="stable")[:MOST_MAINSTAYS]
        self.mainstays = np.sort(order[often[order] >= MAINSTAY * asked])
        self.others = np.setdiff1d(np.flatnonzero(often), self.mainstays)
        self.count = len(fruit)
        sets, together = _sets(fruit[self.mainstays], asked)
        lacking = asked - np.bitwise_count(together).sum(axis=1, dtype=np.int64)
        self.covering, self.short = sets[lacking <= 0], sets[lacking > 0]
        bare = np.unpackbits((~together[lacking > 0]).view(np.uint8), axis=1).astype(np.float32)
        brought = bare @ np.unpackbits(fruit[self.others].view(np.uint8), axis=1).astype(np.float32).T
        self.parts = np.minimum(brought / lacking[lacking > 0, None], 1.0)

    def cut(self, x: np.ndarray) -> np.ndarray:
        """(candidates,) weights, of which every set that covers the day has 1 at least, and ``x`` (candidates,) as little as may be."""
        weights = np.clip(self._weights(x), LIGHTEST, 1.0)
        if self.covering.shape[0]:
            weights = np.minimum(weights / min((self.covering @ weights).min(), 1.0), 1.0)
        row = np.zeros(self.count)
        row[self.mainstays] = weights
        row[self.others] = (self.parts * self._lacks(weights)[:, None]).max(axis=0)
        return row * (1 + ROUNDING)

    def _lacks(self, weights: np.ndarray) -> np.ndarray:
        """(short sets,) what each lacks of one."""
        return np.maximum(1.0 - self.short @ weights, 0.0)

    def _weights(self, x: np.ndarray) -> np.ndarray:
        """(mainstays,) by linear programs, each with the conditions that the one before broke most."""
        seen = np.flatnonzero(x[self.others] > 1e-6)
        parts, count = self.parts[:, seen], len(self.mainstays)
        price = np.r_[x[self.mainstays] + REGARD, x[self.others][seen]]
        weights, beside = np.full(count, LIGHTEST), parts[0].astype(float)
        low, rows, least = np.r_[weights, beside], [], []
        for _ in range(ROUNDS):
            reached = self.covering @ weights
            light = np.argsort(reached)[:AT_ONCE]
            light = light[reached[light] < 1 - 1e-4]
            broken = parts * self._lacks(weights)[:, None] - beside
            most = np.argsort(-broken, axis=None)[:AT_ONCE]
            at, other = np.unravel_index(most[broken.ravel()[most] > 1e-4], broken.shape)
            if not len(light) + len(at):
                break
            part = parts[at, other].astype(float)
            ones = sparse.csr_matrix(
                (np.ones(len(at)), (np.arange(len(at)), other)), shape=(len(at), len(seen))
            )
            rows.append(sparse.hstack([self.covering[light], sparse.csr_matrix((len(light), len(seen)))]))
            rows.append(sparse.hstack([sparse.diags(part) @ self.short[at], ones]))
            least += [np.ones(len(light)), part]
            told = linprog(
                price, -sparse.vstack(rows), -np.concatenate(least), bounds=np.c_[low, np.ones(len(low))], method="highs"
            )  # fmt: skip
            if told.x is None:
                break
            weights, beside = told.x[:count], told.x[count:]
        return weights


def _sets(fruit: np.ndarray, asked: int) -> tuple[sparse.csr_matrix, np.ndarray]:
    """(sets, mainstays) of up to three, the first with nobody, and (sets, words) when any of each is picked; without sets of three of whom two
    cover the day."""
    count = len(fruit)
    three = np.array(list(combinations(range(count), 3)), dtype=int).reshape(-1, 3)
    enough = np.bitwise_count(fruit[:, None] | fruit).sum(axis=2, dtype=np.int64) >= asked
    three = three[
        ~(
            enough[three[:, 0], three[:, 1]]
            | enough[three[:, 0], three[:, 2]]
            | enough[three[:, 1], three[:, 2]]
        )
    ]
    two = np.array(list(combinations(range(count), 2)), dtype=int).reshape(-1, 2)
    rows, bits = [sparse.csr_matrix((1, count))], [np.zeros((1, fruit.shape[1]), dtype=np.uint64)]
    for some in (np.arange(count)[:, None], two, three):
        ends = np.arange(0, some.size + 1, some.shape[1])
        rows.append(sparse.csr_matrix((np.ones(some.size), some.ravel(), ends), shape=(len(some), count)))
        bits.append(np.bitwise_or.reduce(fruit[some], axis=1))
    return sparse.vstack(rows).tocsr(), np.concatenate(bits)
