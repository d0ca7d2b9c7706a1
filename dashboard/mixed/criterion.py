"""The REML criterion of a mixed model at given variances, its slope and its average information.

A sample's own effect is integrated out, so a record of n_r fruit weighs w_r = n_r / (1 + gamma_s n_r), where every
gamma is a variance over the residual one, sigma2. With C of ``factor`` (lambda_t = sqrt(gamma_t) on the columns of
term t), r = y - fitted, u the spherical random effects, N fruit and p fixed effects,

    prss   = sum_r w_r r_r^2 + |u|^2 + within_ss,      sigma2 = prss / (N - p)
    REML   = log|C| + sum_r log(1 + gamma_s n_r) + (N - p) (1 + log(2 pi prss / (N - p)))

which is lme4's REMLcrit (Bates et al. 2015, J. Stat. Software 67(1), eq. 42) of the single fruit, because the means
and the within sum of squares carry all the fruit say. ML has N for N - p and leaves the fixed columns out of |C|
(eq. 35). Slopes and average information: Gilmour, Thompson & Cullis 1995, Biometrics 51: 1440-1450.

A variance that is kept off zero adds -log gamma_t: the mode under a gamma(2, 0) prior on its standard deviation over the
residual one, which is 0 at 0 and flat beside any likelihood of many levels (Chung, Rabe-Hesketh, Dorie, Gelman & Liu 2013,
Psychometrika 78: 685-709). It scales with y as all the rest does.
"""

from __future__ import annotations

from collections.abc import Collection
from copy import copy
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from scipy import sparse

from dashboard.mixed.arrowhead import Patterns, Products
from dashboard.mixed.columns import Columns, laid_out
from dashboard.mixed.design import RESIDUAL, SAMPLE, Records
from dashboard.mixed.factor import Factor

_ALIASED = 1e-10  # a fixed column of which less than this share is its own cannot be estimated

_STEEP = 1e4  # ratio of variances from which the equations lose digits


class Model:
    """Records with their arrowhead pattern. ``variances`` are named in the order used by every vector here."""

    def __init__(
        self,
        records: Records,
        reml: bool = True,
        off_zero: Collection[str] = (),
        patterns: Patterns | None = None,
    ) -> None:
        self.records, self.reml = records, reml
        self.random = tuple(term for term in records.terms if not term.fixed)
        self.variances = (
            *(term.name for term in self.random),
            *([SAMPLE] if records.sampled else []),
            RESIDUAL,
        )
        if unknown := sorted(set(off_zero) - set(self.variances[:-1])):
            raise ValueError(f"{unknown[0]!r} is to be kept off zero but is not one of the variances.")
        self.off_zero = np.array([name in off_zero for name in self.variances])
        laid: Columns = laid_out(records)
        self.columns, self.beta, self.width = laid.of, laid.beta, laid.beta.stop
        self.is_fixed = np.ones(self.width, dtype=bool)
        for term in self.random:
            self.is_fixed[self.columns[term.name]] = False
        self.arrow = (patterns or Patterns()).arrowhead(laid.local, laid.block, laid.border)
        self.parameters = int(self.is_fixed.sum())
        self.freedom = records.total - self.parameters * reml
        # Fixed columns are brought to length 1 (their scale leaves |C| by a constant).
        square = sparse.csr_array(self.arrow.design.power(2)).sum(axis=0)
        self.unit = np.where(self.is_fixed, 1 / np.sqrt(np.where(square > 0, square, 1)), 0.0)
        self.log_unit = 2 * float(np.log(self.unit[self.is_fixed]).sum())
        self.mean_square = np.array([term.mean_square for term in self.random])
        # The rest is worked out on what least squares leaves of y: large levels would cost digits.
        self.offset = self.least_squares()
        self.response = records.y - self.arrow.design @ self.offset
        self.spread = float(np.square(self.response).sum()) / max(len(records.y) - self.parameters, 1)

    def at(self, ratios: np.ndarray) -> Point:
        """The model at variances over the residual one: the random terms, then the sample's when there is one."""
        return Point(self, np.asarray(ratios, dtype=float))

    def runs(self, name: str) -> tuple[slice, ...]:
        """The columns of a term from first to last: all together, or of relatives those in blocks and those in the border."""
        columns = self.columns[name]
        if isinstance(columns, slice):
            return (columns,)
        inside = int((columns < self.arrow.local).sum())
        first, last = int(columns[0]), int(columns[-1]) + 1
        return slice(first, first + inside), slice(last - len(columns) + inside, last)

    def let_go(self) -> None:
        """Forget what a search uses over and over."""
        self.__dict__.pop("plain_products", None)

    @cached_property
    def plain_products(self) -> Products:
        """Cross-products of records that all weigh 1, whatever the variances."""
        return self.arrow.products(np.ones(len(self.records.y)))

    def scale(self, ratios: np.ndarray) -> np.ndarray:
        """d of every column: sqrt(gamma) of its term, or what brings a fixed column to length 1."""
        scale = self.unit.copy()
        for term, ratio in zip(self.random, ratios, strict=False):
            scale[self.columns[term.name]] = np.sqrt(ratio)
        return scale

    def least_squares(self) -> np.ndarray:
        """The fixed effects alone, (L + G,) with zeros for the others; ValueError when they cannot be told apart, or
        explain every record."""
        records, design = self.records, self.arrow.design
        products = self.arrow.products(records.n)
        try:
            factor = Factor(self.arrow, products, self.unit, np.where(self.is_fixed, 0.0, 1.0))
            own = np.square(np.diag(factor.R)) > _ALIASED * factor.kept
        except np.linalg.LinAlgError:
            own = np.zeros(1, dtype=bool)
        if not own.all():
            raise ValueError(
                "The fixed effects cannot all be estimated: a fixed group repeats a column of X (leave the intercept"
                " out) or its levels were never seen together with the others."
            )
        coefficients, left = np.zeros(self.width), records.y
        for _ in range(2):  # the second round mends the rounding of the first
            right = self.unit * (design.T @ (records.n * left))
            coefficients += self.unit * factor.solution(right[:, None])[:, 0]
            left = records.y - design @ coefficients
        if np.square(left).sum() <= 1e-24 * np.square(records.y).sum() and records.within_ss == 0:
            raise ValueError(
                "The fixed effects explain every record exactly, so there is no variation to share out."
            )
        return coefficients


@dataclass(eq=False)
class Point:
    """A model at one set of variance ratios, with everything that follows from them."""

    model: Model
    ratios: np.ndarray  # (k,) or (k + 1,) with the sample's last
    w: np.ndarray = field(init=False)  # (R,)
    spherical: np.ndarray = field(init=False)  # (L + G,) solution of the equations
    residual: np.ndarray = field(init=False)  # (R,)
    sigma2: float = field(init=False)
    plain: float = field(init=False)  # the REML (or ML) criterion
    criterion: float = field(init=False)  # and what the prior adds to it

    def __post_init__(self) -> None:
        model, records, design = self.model, self.model.records, self.model.arrow.design
        shrink = 1 + self.ratios[-1] * records.n if records.sampled else np.ones(len(records.n))
        self.w = records.n / shrink
        self.scale = model.scale(self.ratios)
        self.spherical, self.residual = np.zeros(model.width), model.response
        for _ in range(
            1 + bool((self.ratios > _STEEP).any())
        ):  # a second round mends the rounding of steep equations
            right = self.scale * (design.T @ (self.w * self.residual)) - self.factor.ridge * self.spherical
            self.spherical = self.spherical + self.factor.solution(right[:, None])[:, 0]
            self.residual = model.response - design @ (self.scale * self.spherical)
        prss = float(self.w @ np.square(self.residual)) + records.within_ss
        prss += float(np.square(self.spherical[~model.is_fixed]).sum())
        self.sigma2 = prss / model.freedom
        log_det = self.factor.log_det - model.log_unit if model.reml else self.known().log_det
        log_det += float(np.log(shrink).sum())
        self.plain = log_det + model.freedom * (1 + float(np.log(2 * np.pi * self.sigma2)))
        with np.errstate(divide="ignore"):
            self.criterion = self.plain - float(np.log(self.ratios[model.off_zero[:-1]]).sum())

    @cached_property
    def factor(self) -> Factor:
        return Factor(self.model.arrow, self.products, self.scale, np.where(self.model.is_fixed, 0.0, 1.0))

    def let_go(self) -> None:
        """Forget the factor, the largest part, until it is asked for again."""
        self.__dict__.pop("factor", None)

    @property
    def products(self) -> Products:
        """Made anew when asked for: kept, they would take as much memory as the factor."""
        return self.model.arrow.products(self.w) if self.model.records.sampled else self.model.plain_products

    def known(self) -> Factor:
        """The factor with the fixed effects taken as known: their columns switched off."""
        off = self.model.is_fixed
        if not off[: self.model.arrow.local].any():
            return self.factor.without(off)
        return Factor(self.model.arrow, self.products, np.where(off, 0.0, self.scale), np.ones(len(off)))

    def fixed_known(self) -> Point:
        """The same point with the fixed effects taken as known."""
        found = copy(self)
        found.__dict__["factor"] = factor = self.known()
        found.scale = factor.scale
        return found

    @property
    def sigma(self) -> np.ndarray:
        """The variances, residual last."""
        return np.r_[self.ratios, 1.0] * self.sigma2

    @property
    def coefficients(self) -> np.ndarray:
        """(L + G,) effects and fixed effects on the scale of y."""
        return self.scale * self.spherical + self.model.offset

    @cached_property
    def score(self) -> np.ndarray:
        """Slope of -criterion / 2 in each variance: -1/2 [tr(P V_t) - y' P V_t P y]; 0 where a ratio is 0."""
        model, records = self.model, self.model.records
        factor = self.factor if model.reml else self.known()
        square = model.arrow.products(np.square(self.w)) if records.sampled else None
        diagonal, trace = factor.inverse_diagonal(square)
        back = (model.arrow.design.T @ (self.w * self.residual)) / self.sigma2
        score = np.zeros(len(self.ratios) + 1)
        for index, (term, ratio) in enumerate(zip(model.random, self.ratios, strict=False)):
            if ratio == 0:
                continue
            columns = model.columns[term.name]
            lost = float((1 - diagonal[columns]).sum()) / (ratio * self.sigma2)
            score[index] = -0.5 * (lost - float(np.square(back[columns]).sum()))
        if records.sampled:
            lost = (float(self.w.sum()) - trace) / self.sigma2
            score[-2] = -0.5 * (lost - float(np.square(self.w * self.residual).sum()) / self.sigma2**2)
        score[model.off_zero] += 0.5 / self.sigma[model.off_zero]
        score[-1] = -float(
            self.ratios @ score[:-1]
        )  # at the best sigma2 the slope along a common factor is 0
        return score

    @cached_property
    def information(self) -> np.ndarray:
        """Average information AI_ab = y' P V_a P V_b P y / 2 of the variances (k, k)."""
        model, records, design = self.model, self.model.records, self.model.arrow.design
        weighted = self.w * self.residual / self.sigma2  # P y
        back = design.T @ weighted
        working = []
        for term in model.random:
            own = back[model.columns[term.name]]
            effect = own if term.kin is None else term.kin.loading @ own
            working.append(effect[term.code] * term.covariate)
        if records.sampled:
            working.append(weighted)
        working.append(weighted / records.n)
        Q = np.stack(working, axis=1)
        WQ = self.w[:, None] * Q
        solved = self.factor.solution(self.scale[:, None] * (design.T @ WQ))
        PQ = (WQ - self.w[:, None] * (design @ (self.scale[:, None] * solved))) / self.sigma2
        information = Q.T @ PQ / 2
        information[-1, -1] += records.within_ss / (2 * self.sigma2**3)
        information[model.off_zero, model.off_zero] += 0.5 / np.square(self.sigma[model.off_zero])
        return (information + information.T) / 2
