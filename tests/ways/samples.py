"""Made-up samples as they were written down, in the units of whoever wrote them, and what that is in SI."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

import numpy as np

FRUIT = 10
READINGS = ("suture_mm", "cross_mm", "firmness_1_n", "firmness_2_n", "ssc_brix")
# mm and N of each unit, written here once more so that the truth does not rest on what is tried (inch and pound of 1959, 3rd CGPM 1901).
SI = {"mm": 1.0, "cm": 10.0, "in": 25.4, "n": 1.0, "kgf": 9.80665, "lbf": 0.45359237 * 9.80665}
# How finely each unit is read: a caliper, a rule in eighths of an inch, a penetrometer's dial.
_STEPS = {"mm": 0.1, "cm": 0.01, "in": 1 / 8, "n": 0.5, "lbf": 0.1, "kgf": 0.05}
Scale = tuple[float, float, float]  # lowest, highest, best
TEN = (0.0, 10.0, 10.0)


@dataclass
class Sample:
    """``figures``: (fruit, 5) as written, in the order of READINGS; ratings as written, on ``scale``."""

    cultivar: str
    site: str
    day: date
    figures: np.ndarray
    length: str = "mm"
    force: str = "n"
    ratings: dict[str, float] = field(default_factory=dict)
    scales: Mapping[str, Scale] = field(default_factory=dict)

    @property
    def key(self) -> tuple[str, str, str]:
        return self.cultivar, self.site, self.day.isoformat()

    @property
    def si(self) -> np.ndarray:
        """(fruit, 5)"""
        found = self.figures.astype(float).copy()
        found[:, :2] = found[:, :2] * SI[self.length]
        found[:, 2:4] = found[:, 2:4] * SI[self.force]
        return found

    @property
    def rated(self) -> dict[str, float]:
        """0 to 10, 10 most desirable."""
        return {name: of_ten(value, self.scales.get(name, TEN)) for name, value in self.ratings.items()}


def sampled(
    cultivars: Sequence[str], sites: Sequence[str], days: Sequence[date], seed: int, length: str = "mm", force: str = "n",
    rated: Sequence[str] = (), scales: Mapping[str, Scale] | None = None, caliper: float = 0,
) -> list[Sample]:  # fmt: skip
    """Every cultivar at every site each day; ``caliper``: how finely diameters are read, where it is not as usual.

    Cultivars differ in size, firmness and sugar as ordinary ones do; fruit within a sample less.
    """
    found = []
    for cultivar in cultivars:
        of_all = np.random.default_rng([*cultivar.encode()])
        middle = np.array([of_all.normal(63, 3), of_all.normal(58, 9), of_all.normal(12, 1)])
        for site in sites:
            for day in days:
                own = np.random.default_rng([seed, day.toordinal(), *site.encode(), *cultivar.encode()])
                at = middle + own.normal(0, 1, 3) * (1.5, 4, 0.5)
                size = own.normal(at[0], 2.5, FRUIT)
                firm = own.normal(at[1], 5, FRUIT)
                si = np.column_stack(
                    [size + own.normal(0, 1, FRUIT), size + own.normal(0, 1, FRUIT), firm + own.normal(0, 2, FRUIT), firm + own.normal(0, 2, FRUIT), own.normal(at[2], 0.8, FRUIT)]
                )  # fmt: skip
                scale = dict(scales or {})
                ratings = {name: float(_rating(own, scale.get(name, TEN))) for name in rated}
                found.append(Sample(cultivar, site, day, _written(si, length, force, caliper), length, force, ratings, scale))  # fmt: skip
    return found


def of_ten(value: float, scale: Scale) -> float:
    low, high, best = scale
    worst = low + high - best
    return 10 * abs(value - worst) / (high - low)


def weekly(year: int, count: int, first: tuple[int, int] = (7, 3)) -> list[date]:
    return [date(year, *first) + timedelta(days=7 * week) for week in range(count)]


def as_called(sample: Sample, cultivar: str) -> Sample:
    return replace(sample, cultivar=cultivar)


def by_day(samples: Iterable[Sample]) -> dict[date, list[Sample]]:
    found: dict[date, list[Sample]] = {}
    for sample in samples:
        found.setdefault(sample.day, []).append(sample)
    return found


def _rating(chance: np.random.Generator, scale: Scale) -> float:
    """Rather toward the best end, and not at either."""
    place = np.clip(chance.normal(0.65, 0.15), 0.2, 1.0)
    low, high, best = scale
    worst = low + high - best
    return round(worst + (best - worst) * place)


def _written(si: np.ndarray, length: str, force: str, caliper: float) -> np.ndarray:
    units = (length, length, force, force)
    columns = [_stepped(column / SI[unit], (unit == length and caliper) or _STEPS[unit]) for unit, column in zip(units, si.T[:4], strict=True)]  # fmt: skip
    return np.column_stack([*columns, _stepped(si[:, 4], 0.1)])


def _stepped(values: np.ndarray, step: float) -> np.ndarray:
    return np.round(np.round(values / step) * step, 4)
