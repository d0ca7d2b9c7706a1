"""Which fruit of a tree were sampled: all alike, those of commercial size alone, or the best; declared once."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.terms.units import MM_PER_INCH

ALL, COMMERCIAL, BEST = WAYS = ("all", "commercial", "best")
SMALLEST_MM = (20.0, 120.0)
SPARE_MM, TOO_MANY = (
    0.5,
    0.02,
)  # how far under the declared size a reading may lie, and what part of the fruit may be smaller


@dataclass(frozen=True)
class Taken:
    way: str = ALL
    smallest_mm: float | None = None  # below it no fruit was sampled; None where it is not declared

    @property
    def sentence(self) -> str:
        """What it means for size, for a reader of the figures; nothing where all fruit were sampled alike."""
        return self._words[0]

    @property
    def mark(self) -> str:
        """The same in some words, to stand beside size."""
        return self._words[1]

    @property
    def _words(self) -> tuple[str, str]:
        if self.way == ALL:
            return "", ""
        if self.way == BEST:
            return (
                "Only the best fruit were sampled. Sizes are of those, not of all fruit.",
                "of the best fruit",
            )
        if self.smallest_mm is None:
            told = "Only fruit of commercial size were sampled, from what size is not known. Small cultivars read larger than they are."
            return told, "of commercial fruit"
        told = f"Fruit under {self.smallest_mm / MM_PER_INCH:.2f} in ({self.smallest_mm:g} mm) were not sampled. Sizes are worked back to all fruit."
        return told, "worked back to all fruit"


ALIKE = Taken()  # where nothing is declared


def taken(items: Mapping[str, object], number: Callable[[object], float | None], tell) -> Taken:
    """As declared in ``items``; what cannot be is told, and all fruit are taken to have been sampled alike."""
    way = str(items.get("fruit_taken") or ALL).strip().casefold()
    if way not in WAYS:
        tell("fruit_taken", items["fruit_taken"], "is not all, commercial or best; all is taken to hold", "write one of the three")  # fmt: skip
        way = ALL
    if items.get("smallest_taken_mm") in (None, ""):
        return Taken(way)
    smallest = number(items["smallest_taken_mm"])
    if smallest is None or not SMALLEST_MM[0] <= smallest <= SMALLEST_MM[1]:
        tell("smallest_taken_mm", items["smallest_taken_mm"], f"is not a number from {SMALLEST_MM[0]:g} to {SMALLEST_MM[1]:g}; no size is taken to hold", "write the smallest diameter that was sampled, in mm")  # fmt: skip
        return Taken(way)
    if way != COMMERCIAL:
        tell("smallest_taken_mm", items["smallest_taken_mm"], "holds for fruit of commercial size only; it was left out", "declare fruit_taken commercial as well")  # fmt: skip
        return Taken(way)
    return Taken(way, smallest)


def undersized(taken: Taken, size: np.ndarray | pd.Series) -> np.ndarray:
    """Which fruit of ``size`` (mm) should not be there: smaller than the smallest that was sampled."""
    if taken.smallest_mm is None:
        return np.zeros(len(size), dtype=bool)
    return np.asarray(size, dtype=float) < taken.smallest_mm - SPARE_MM


def borne_out(taken: Taken, size: np.ndarray) -> Taken:
    """What may be built on: no smallest size where too many fruit (mm) are smaller than it."""
    known = np.isfinite(size)
    if known.any() and undersized(taken, size[known]).mean() > TOO_MANY:
        return Taken(taken.way)
    return taken
