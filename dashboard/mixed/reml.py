"""The variances that a mixed model's records speak for most: average-information REML with zeros as answers.

Each step is Newton's on the variances, with the average information in place of the second derivatives (Gilmour,
Thompson & Cullis 1995, Biometrics 51: 1440-1450) and no variance allowed below zero: with floor f, slope g and
information L L', the step from theta to f + x solves

    min | L' x - (L'(theta - f) + L^-1 g) |^2   subject to   x >= 0

which is non-negative least squares (Lawson & Hanson 1974, ch. 23). Steps are halved until the criterion falls; where
that fails an EM step (Dempster, Laird & Rubin 1977, JRSS B 39: 1-38), and last L-BFGS-B on the log ratios, take over.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from scipy import linalg, optimize

from dashboard.mixed.criterion import Model, Point
from dashboard.mixed.design import RESIDUAL

# A variance below these parts of the noise of one record, or of all variation, is zero.
_NOISE, _TOTAL = 1e-9, 1e-12
_LOWEST = 1e-12  # of all variation; no less residual can be told from rounding
_STEPS, _HALVINGS, _RESCUE = 120, 12, 40
# Gain a step foresees, which is its length in standard errors, squared: as near as numbers go; what may be left to gain after a last step,
# as gains fall from step to step (a hundred-millionth of a standard error); and near enough (a hundredth) where rounding lets it
# come no nearer.
_DONE, _LEFT, _GOOD = 1e-19, 1e-16, 1e-4
# Gain from which on a step tells of the second derivatives, and how far off these may be found.
_NEAR, _AMISS = 1e-2, 2.0
_BEGUN = 0.01  # of all variation, the least a variance begins at


@dataclass(frozen=True, eq=False)
class Optimum:
    """Where the search ended, and how."""

    point: Point
    iterations: int
    converged: bool
    at_zero: tuple[str, ...]
    link: np.ndarray  # (variances, free): all variances from the free ones above zero, and the residual


def optimum(
    model: Model, held: Mapping[str, float] | None = None, near: Mapping[str, float] | None = None
) -> Optimum:
    """The best variances of a model; ``held`` fixes ratios of named variances to the residual one, from those ``near`` it sets out.

    ValueError when the residual variance runs to zero without bound: the effects explain the records exactly.
    """
    search = _Search(model, dict(held or {}), dict(near or {}))
    search.run()
    if not search.converged and (zero := search.zero()):
        # A trifle is not nothing beside an outlier a million times the rest: once more with those at zero outright.
        search = _Search(model, dict(held or {}) | dict.fromkeys(zero, 0.0))
        search.run()
        return search.optimum(zero)
    return search.optimum()


class _Search:
    """The variances on their way down the criterion.

    ``theta`` holds the free ones, residual last; all of them are ``link`` theta, so that held ones move with the residual.
    ``low`` marks those at their floor. Every step ends at the best residual variance for the ratios it found.
    """

    def __init__(self, model: Model, held: dict[str, float], near: dict[str, float] | None = None) -> None:
        self.model, self.sampled = model, model.records.sampled
        names = model.variances
        for name, ratio in held.items():
            if name not in names[:-1]:
                raise ValueError(f"{name!r} is held but is not one of the variances {', '.join(names[:-1])}.")
            if not (np.isfinite(ratio) and ratio >= 0):
                raise ValueError(f"{name!r} is held at {ratio}; a ratio of variances is a number from 0 up.")
        self.free = np.array([name not in held for name in names])
        self.off_zero = model.off_zero[self.free]
        self.link = np.eye(len(names))[:, self.free]
        for name, ratio in held.items():
            self.link[names.index(name), -1] = ratio
        # What a unit of each variance adds to the spread of a record.
        self.weight = np.r_[model.mean_square, [1.0] * self.sampled]
        self.take(self.at(self.start(near or {})), np.zeros(int(self.free.sum()), dtype=bool))
        self.iterations, self.converged = 0, False
        self.before: tuple[np.ndarray, np.ndarray] | None = None  # variances and slopes a step ago

    def start(self, near: Mapping[str, float] = MappingProxyType({})) -> np.ndarray:
        """The spread about the fixed effects, shared out evenly among the variances, or as those ``near`` are; none begins at nothing."""
        records = self.model.records
        if near:
            ratios = np.array([near[name] for name in self.model.variances[:-1]])
            least = _BEGUN * float(self.weight @ ratios) / self.weight
            theta = np.r_[np.maximum(ratios, least), 1.0]
            return theta[self.free]
        share = self.model.spread / len(self.model.variances)
        inner = records.within_ss / (records.total - len(records.y)) if self.sampled else share
        return np.r_[np.maximum(share, 1e-3 * inner) / self.weight, inner][self.free]

    def at(self, theta: np.ndarray) -> Point:
        sigma = self.link @ theta
        return self.model.at(sigma[:-1] / sigma[-1])

    def take(self, point: Point, low: np.ndarray) -> None:
        self.point, self.theta, self.low = point, point.sigma[self.free], low & ~self.off_zero

    def total(self) -> float:
        return float(np.r_[self.weight, 1.0] @ self.point.sigma)

    def lowest(self) -> float:
        """The least residual variance, where nothing else (fruit within samples) says what it is."""
        return 0.0 if self.sampled else _LOWEST * self.total()

    def floor(self) -> np.ndarray:
        """What counts as zero for each free variance. The residual one may fall a hundredfold in one step, and those kept
        off zero twentyfold."""
        noise = self.point.sigma2 * float((1 / self.point.w).mean())
        trifle = np.full(len(self.weight), max(_NOISE * noise, _TOTAL * self.model.spread))
        if self.sampled:
            trifle[-1] = _NOISE * noise
        floor = np.r_[trifle / self.weight, max(self.lowest(), 0.01 * self.theta[-1])][self.free]
        floor = np.where(self.off_zero, 0.05 * self.theta, floor)
        return np.where(self.low, np.minimum(floor, self.theta), floor)

    def run(self) -> None:
        """Steps until none is worth taking, or none can be taken."""
        last, slow, rescued = np.inf, 0, False
        if len(self.theta) == 1:  # the residual one is at its best for the ratios that are held
            self.converged = True
        while self.iterations < _STEPS and not self.converged:
            self.iterations += 1
            floor = self.floor()
            slope = self.link.T @ self.point.score
            goal, gain = self.newton(slope, floor)
            self.before = (self.theta, slope) if gain < _NEAR else None
            slow = slow + 1 if gain > 0.5 * last else 0
            nearly = gain < _GOOD and gain * gain < _LEFT * last < np.inf
            last = gain
            if gain < _DONE or (gain < _GOOD and slow >= 2):
                self.converged = True
                self.low = (goal <= floor) & ~self.off_zero
            elif not self.move(goal, floor) and not self.move(self.em(slope, floor), floor):
                self.converged = gain < _GOOD
                if self.converged or rescued:
                    break
                rescued = self.rescue(floor)
            elif self.iterations >= _RESCUE and not rescued:
                rescued = self.rescue(floor)
            else:
                self.converged = nearly
            if self.theta[-1] <= 1.01 * self.lowest():
                self.check_bounded()

    def newton(self, slope: np.ndarray, floor: np.ndarray) -> tuple[np.ndarray, float]:
        """Where the average-information step ends, and twice the fall in the criterion it foresees."""
        information = self.link.T @ self.point.information @ self.link
        size = 1 / np.sqrt(np.maximum(np.diag(information), np.finfo(float).tiny))
        information *= size * size[:, None]
        # Rounding, or two terms that say nearly the same, may leave it short of definite.
        lift = 1e-12 + max(0.0, -float(np.linalg.eigvalsh(information)[0]))
        information += lift * np.eye(len(size))
        if self.before is not None:
            information += self.amiss(information, slope, size)
        L = np.linalg.cholesky(information)
        here = np.maximum(self.theta - floor, 0) / size
        target = L.T @ here + linalg.solve_triangular(L, slope * size, lower=True)
        x, _ = optimize.nnls(L.T, target)
        return floor + x * size, float((slope * size) @ (x - here))

    def amiss(self, information: np.ndarray, slope: np.ndarray, size: np.ndarray) -> np.ndarray:
        """What the last step showed that average information lacks of the second derivatives: symmetric, of rank one, and such that the
        slopes are as they were found (Nocedal & Wright 2006, Numerical Optimization, 6.2)."""
        assert self.before is not None
        step, fall = (self.theta - self.before[0]) / size, (self.before[1] - slope) * size
        rest = fall - information @ step
        along = float(rest @ step)
        longer = float(
            rest @ linalg.solve(information, rest, assume_a="pos")
        )  # along one direction, beside 1
        if along == 0 or not 1 / _AMISS - 1 <= longer / along <= _AMISS - 1:
            return np.zeros_like(information)  # rounding, or too long a step
        return np.outer(rest, rest) / along

    def em(self, slope: np.ndarray, floor: np.ndarray) -> np.ndarray:
        """Where an EM step ends: theta + 2 theta^2 slope / q, for q effects drawn with each variance."""
        levels = [term.draws for term in self.model.random]
        count = np.r_[levels, [len(self.model.records.y)] * self.sampled, self.model.records.total]
        return np.maximum(self.theta + 2 * np.square(self.theta) * slope / count[self.free], floor)

    def move(self, goal: np.ndarray, floor: np.ndarray) -> bool:
        """Go there, or half-way and so on until the criterion does not rise; False when it always does."""
        noise = 1e-12 * max(1.0, abs(self.point.criterion))
        self.point.let_go()  # two at once take memory
        here = np.maximum(self.theta, floor)
        for halving in range(_HALVINGS):
            theta = here + (goal - here) / 2**halving if halving else goal
            try:
                point = self.at(theta)
            except np.linalg.LinAlgError:
                continue
            if point.criterion <= self.point.criterion + noise:
                self.take(point, theta <= floor)
                return True
        return False

    def rescue(self, floor: np.ndarray) -> bool:
        """L-BFGS-B on the log ratios of the free variances to the residual one; always answers True."""
        if len(self.theta) < 2:
            return True

        def value(logs: np.ndarray) -> tuple[float, np.ndarray]:
            point = self.at(np.r_[np.exp(logs), 1.0])
            slope = self.link.T @ point.score
            return point.criterion, -2 * point.sigma2 * np.exp(logs) * slope[:-1]

        low = np.log(floor[:-1] / self.theta[-1])
        start = np.maximum(np.log(self.theta[:-1] / self.theta[-1]), low)
        bounds = [(one, max(one, 25.0)) for one in low]
        found = optimize.minimize(value, start, jac=True, method="L-BFGS-B", bounds=bounds)
        point = self.at(np.r_[np.exp(found.x), 1.0])
        if point.criterion < self.point.criterion:
            self.take(point, np.r_[found.x <= low, False])
        return True

    def zero(self) -> tuple[str, ...]:
        """Names of the variances at their floor, the residual one aside."""
        names = [name for name, free in zip(self.model.variances, self.free, strict=True) if free]
        return tuple(name for name, low in zip(names[:-1], self.low[:-1], strict=True) if low)

    def optimum(self, before: tuple[str, ...] = ()) -> Optimum:
        """Variances at their floor become zero outright."""
        low = np.r_[self.low[:-1], not self.sampled and self.theta[-1] <= 1.01 * self.lowest()]
        theta = np.r_[np.where(low[:-1], 0.0, self.theta[:-1]), self.theta[-1]]
        point = self.at(theta) if low[:-1].any() else self.point
        at_zero = (*before, *self.zero(), *([RESIDUAL] if low[-1] else []))
        link = self.link[:, np.r_[~low[:-1], True]]
        return Optimum(point, self.iterations, self.converged, at_zero, link)

    def check_bounded(self) -> None:
        """With hardly any residual left the criterion either levels off (a saturated design) or falls for ever."""
        higher = self.theta.copy()
        higher[-1] *= 100
        if self.at(higher).criterion - self.point.criterion > 0.5:
            raise ValueError(
                "The effects explain every record exactly, so there is no residual variance to judge by."
            )
