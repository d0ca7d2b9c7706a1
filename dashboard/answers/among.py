"""One cultivar among all, trait by trait: how all of them spread, where it stands, and which share is as good or better.

A share counts every cultivar with a value, the one that is asked about included. A tie counts against it: nothing is told
as better than it is.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd

from dashboard.market import Market
from dashboard.terms.traits import trait_called

BINS = 32
NAN = float("nan")
WAYS = {"larger": "more", "smaller": "less", "target": "depends"}  # what a wish says of more of a trait


@dataclass(frozen=True)
class Standing:
    """One trait of one cultivar among all. SI; NaN where it is not known."""

    trait: str
    value: float
    low: float
    high: float
    span: tuple[float, float]  # the ends of the axis: of all values and its own interval
    counts: tuple[int, ...]  # how many cultivars lie in each of ``BINS`` equal parts of the axis
    way: str  # what is better: "more", "less", "depends"
    known: int  # cultivars with a value, itself included
    above: int  # of those, how many have strictly more
    below: int  # strictly less

    @property
    def top(self) -> float:
        """Where more is better: the share of all that has at least as much."""
        return (self.known - self.below) / self.known

    @property
    def fewer_than(self) -> float:
        """The share of all that has strictly more."""
        return self.above / self.known

    @property
    def more_than(self) -> float:
        """The share of all that has strictly less."""
        return self.below / self.known


def way(trait: str, market: Market | None) -> str:
    """Which way is better: as the market wishes, else as the trait has it."""
    for wish in market.wishes if market else ():
        if wish.key == trait:
            return WAYS[wish.shape]
    return trait_called(trait).better


def among(
    values: dict[str, pd.DataFrame], cultivar: str, market: Market | None = None
) -> tuple[Standing, ...]:
    """A standing for each trait in which the cultivar has a value, in the order of the traits."""
    found = []
    for trait, frame in values.items():
        if cultivar not in frame.index:
            continue
        own: Any = frame.loc[cultivar]
        value, low, high = (float(own[end]) for end in ("estimate", "low", "high"))
        if not np.isfinite(value):
            continue
        every = frame["estimate"].to_numpy(dtype=float)
        every = every[np.isfinite(every)]
        ends = [end for end in (*every, low, high) if np.isfinite(end)]
        span = (float(min(ends)), float(max(ends)))
        counts = np.histogram(every, BINS, span if span[0] < span[1] else None)[0]
        found.append(
            Standing(
                trait, value, low, high, span, tuple(int(count) for count in counts), way(trait, market),
                len(every), int((every > value).sum()), int((every < value).sum()),
            )
        )  # fmt: skip
    return tuple(found)
