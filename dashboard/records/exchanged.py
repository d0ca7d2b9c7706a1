"""Two figures of one row that were typed in each other's place: told where each would be usual in the place of the other.

Then neither is a slipped point or another unit, so nothing of that kind is proposed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from dashboard.records.problems import Problem, listed, quoted
from dashboard.records.schema import Column, Range
from dashboard.terms.units import Unit

_FEWEST = 5  # figures of a column, from which on what most of them lie between is common in it (judgement)
_ENDS, _WIDER = (0.1, 0.9), 1.15
_EXCHANGED = "does it stand exchanged with "


@dataclass(frozen=True)
class Place:
    """A column as it is written, by its heading: the ``unit`` of its figures, or the ends of its ``scale``; between which most of them lie."""

    heading: str
    column: Column
    unit: Unit | None = None
    scale: Range | None = None
    most: Range | None = None

    def usual(self, numbers: np.ndarray) -> np.ndarray:
        """(n,) bool: whether figures, as written, would be usual here; where nothing says what is, none is."""
        limits = self.scale or self.column.flag or self.column.refuse
        return _within(self.unit.to_si(numbers) if self.unit else numbers, limits)

    def common(self, numbers: np.ndarray) -> np.ndarray:
        """(n,) bool: whether most figures of the column are like these."""
        return _within(numbers, self.most)


def most_of(numbers: np.ndarray) -> Range | None:
    """Between which most figures of a column lie; None where there are too few to say."""
    numbers = numbers[np.isfinite(numbers)]
    if len(numbers) < _FEWEST:
        return None
    low, high = np.quantile(numbers, _ENDS)
    return float(low) / _WIDER, float(high) * _WIDER


def exchanged(
    here: Place, there: Place, figures: np.ndarray, others: np.ndarray, as_here: np.ndarray
) -> np.ndarray:
    """(n,) bool: whether figures that are odd ``here`` may stand exchanged with the ``others`` of their rows, ``as_here`` as they read here.

    Both are usual the other way round, and the other is odd, too, where it stands: by itself, or beside most figures of its column, to which
    each would belong then.
    """
    apart = ~there.common(others) & there.common(figures) & here.common(as_here)
    return there.usual(figures) & here.usual(as_here) & (~there.usual(others) | apart)


def _within(numbers: np.ndarray, limits: Range | None) -> np.ndarray:
    if limits is None:
        return np.zeros(len(numbers), dtype=bool)
    with np.errstate(invalid="ignore"):
        return (limits[0] <= numbers) & (numbers <= limits[1])


def hint(places: Sequence[Place], near: bool = False) -> str:
    """What to look for where a figure would be usual at one of ``places``, and theirs here; "" where there is none. ``near``: it is not far
    from usual as it stands."""
    if not places:
        return ""
    others = listed((quoted(one.heading) for one in places), "or")
    if near:
        return f"look whether it was misread, or stands exchanged with {others}"
    return f"{_EXCHANGED}{others}? Both would be usual the other way round"


def once(problems: Iterable[Problem]) -> list[Problem]:
    """Of two figures of a row that stand exchanged with each other the first alone."""
    told: set[tuple[str, str, int | None]] = set()
    kept = []
    for one in problems:
        row = (one.file, one.sheet, one.row)
        if not one.suggestion.startswith(_EXCHANGED) or row not in told:
            kept.append(one)
        if one.suggestion.startswith(_EXCHANGED):
            told.add(row)
    return kept
