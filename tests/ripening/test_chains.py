"""No chain that covers every day is ever dropped, and in the end no other is left: against trying every set."""

from __future__ import annotations

import itertools
import time
from dataclasses import replace

import numpy as np

from dashboard.ripening import chains
from dashboard.ripening.chains import Chains, covering
from dashboard.ripening.filling import Filling
from tests.ripening.fruit import generated


def alone(number: int) -> tuple[np.ndarray, Filling]:
    """One of the generated tasks, of which one at once is enough."""
    picked, asked = generated(number)
    return picked, replace(asked, least=1, quotas=())


def chains_left(held: Chains) -> set[tuple[int, ...]]:
    """Every way through the links."""
    ways: list[tuple[tuple[int, ...], int]] = [((), 0)]
    for links in held.links:
        found = list(zip(links.comes.tolist(), links.start.tolist(), links.end.tolist(), strict=True))
        ways = [((*way, comes), end) for way, at in ways for comes, start, end in found if start == at]
    return {way for way, _ in ways}


def covering_sets(picked: np.ndarray, asked: np.ndarray, size: int) -> set[tuple[int, ...]]:
    """Every set of ``size`` that covers every day; ``picked`` (candidates, days, seasons)."""
    sets = itertools.combinations(range(len(picked)), size)
    return {one for one in sets if (picked[list(one)].any(axis=0).sum(axis=1) >= asked).all()}


def test_every_chain_that_covers_the_days_is_left_and_in_the_end_no_other():
    """Sets of two, three and four in 60 small tasks, whatever the days weigh, in the order of picking or in any other."""
    covered, none = 0, 0
    for number in range(60):
        picked, asked = alone(number)
        random, days = np.random.default_rng(number), np.flatnonzero(asked.asked)
        order = np.argsort(asked.middles) if number % 2 else random.permutation(len(picked))
        picked, fruit, needed = (
            picked[np.ix_(order, days)],
            asked.fruit[np.ix_(order, days)],
            asked.asked[days],
        )
        for size in (2, 3, 4) if len(days) else ():
            right, held = covering_sets(picked, needed, size), Chains(fruit, needed, size, np.inf)
            for _ in range(size):
                if held.some:
                    held.weights = random.dirichlet(np.ones(len(days)))
                    if found := held.lightened():
                        assert (picked[found].any(axis=0).sum(axis=1) >= needed).all()
                    assert right <= chains_left(held)
                if held.some:
                    assert held.lengthened()
                    assert right <= chains_left(held)
            assert chains_left(held) == right
            covered, none = covered + len(right), none + (not right)
    assert covered > 300
    assert none > 40


def test_nothing_is_told_without_time_or_room(monkeypatch):
    asked = replace(alone(40)[1], kept=())  # it takes four, and whoever is left out, others make up for it
    assert [bool(covering(asked, size)) for size in (0, 1, 2, 3, 4)] == [False, False, False, False, True]
    assert covering(asked, 3, time.monotonic()) is None
    monkeypatch.setattr(chains, "MOST_LINKS", 0)
    assert covering(asked, 3) is None
