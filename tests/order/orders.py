"""Made-up orders for the tests."""

from __future__ import annotations

import numpy as np

from dashboard.order import Task


def made(seed: int, cultivars: int = 3, weeks: int = 2, seasons: int = 10, largest: int = 4, **asked) -> Task:
    """Cultivars picked over a week or two that a season moves; bundles of a few trees."""
    random = np.random.default_rng(seed)
    middle, shift = random.uniform(0, weeks, cultivars), 0.4 * random.standard_normal(seasons)
    apart = np.abs(np.arange(weeks) + 0.5 - (middle[None, :] + shift[:, None])[..., None])
    supply = np.clip(1.3 - apart, 0, None) * random.uniform(5, 20, (seasons, cultivars, 1))
    return Task(
        supply, random.uniform(20, 120, weeks), np.arange(cultivars), random.uniform(6, 12, cultivars).round(2),
        random.choice([5, 10], cultivars), np.full(cultivars, largest), np.zeros(cultivars), **asked,
    )  # fmt: skip


def one_cultivar(fruit: np.ndarray, wanted: float, **asked) -> Task:
    """One week, one cultivar of which a tree gives ``fruit`` (seasons,); trees are sold one by one."""
    one = np.array([1])
    return Task(
        np.asarray(fruit)[:, None, None],
        np.array([wanted]),
        one - 1,
        one * 9.0,
        one,
        one * 10**6,
        one * 0.0,
        **asked,
    )
