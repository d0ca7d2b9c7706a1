"""What a fitted mixed model says: variances, effects, and any sum of them with its error.

A wanted sum is a row kappa of weights on the columns: kappa'[u; b]. Split by the arrowhead into its local part l and
its border part g, and with K, H, S of ``factor`` (all on the scale of y), the error variances and covariances of
many sums against the truth are of low rank beside a sparse part (Henderson 1975, Biometrics 31: 423-447, for C^-1):

    Cov = sigma2 (Y Y' + T T'),      Y = l K',      T = (g - Y H) R^-T,      S = R R'

For the value of every level of the main factor Y Y' is diagonal, so thousands of values, and any difference between
them, cost little more than one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np
import pandas as pd
from scipy import linalg, sparse

from dashboard.mixed.criterion import Model, Point
from dashboard.mixed.moves import Moves
from dashboard.mixed.reml import Optimum
from dashboard.mixed.split import Split
from dashboard.mixed.threads import one_thread
from dashboard.mixed.weights import weights_of

_FAR = 5.0  # standard errors from zero, at which no records speak for zero: there the criterion is steeper than a parabola


@dataclass(frozen=True, eq=False, repr=False)
class Fit:
    """A fitted model. ``variance`` has each random group, "sample" where there is one, and "residual"."""

    model: Model
    best: Optimum

    def __repr__(self) -> str:
        parts = ", ".join(f"{name} {value:.6g}" for name, value in self.variance.items())
        return f"Fit({len(self.model.records.y)} records, criterion {self.criterion:.6f}, variances: {parts})"

    @property
    def criterion(self) -> float:
        """lme4's REMLcrit, or its ML deviance when fitted by ML."""
        return self.best.point.criterion

    @property
    def converged(self) -> bool:
        return self.best.converged

    @property
    def iterations(self) -> int:
        return self.best.iterations

    @property
    def at_zero(self) -> tuple[str, ...]:
        """Variances whose best value is zero: the records show no such spread. An answer, not a failure."""
        return self.best.at_zero

    def better_without(self, name: str) -> bool:
        """Whether the records alone speak rather for no such variance than for the one told, the others as they are."""
        if self.variance[name] > _FAR * self.variance_se[name]:
            return False
        ratios = self.best.point.ratios.copy()
        ratios[self.model.variances.index(name)] = 0.0
        return self.model.at(ratios).plain <= self.best.point.plain

    def put_at(self, variance: Mapping[str, float]) -> Fit:
        """The same records at other variances, the residual one among them: what would be said were they true."""
        sigma = np.array([variance[name] for name in self.model.variances])
        return replace(self, best=replace(self.best, point=self.model.at(sigma[:-1] / sigma[-1])))

    @cached_property
    def variance(self) -> dict[str, float]:
        return dict(zip(self.model.variances, map(float, self.best.point.sigma), strict=True))

    @cached_property
    @one_thread
    def variance_se(self) -> dict[str, float]:
        """Standard errors by average information; NaN for variances at zero (their law is not normal there)."""
        return {
            name: self.variance_se_of(name) if name not in self.at_zero else float("nan")
            for name in self.model.variances
        }

    def variance_se_of(self, *names: str) -> float:
        """Standard error of the sum of some variances."""
        summed = self.best.link[[self.model.variances.index(name) for name in names]].sum(axis=0)
        return float(np.sqrt(max(summed @ self._covariance(self.best.link) @ summed, 0.0)))

    def _covariance(self, link: np.ndarray) -> np.ndarray:
        return np.asarray(linalg.pinvh(link.T @ self.best.point.information @ link))

    @cached_property
    def beta(self) -> pd.Series:
        """Fixed effects (p,) by column of X."""
        return pd.Series(
            self.best.point.coefficients[self.model.beta], index=self.model.records.names, name="beta"
        )

    @cached_property
    @one_thread
    def beta_cov(self) -> pd.DataFrame:
        """Covariance (p, p) of the fixed effects."""
        point, names = self.best.point, self.model.records.names
        inside = slice(self.model.beta.start - self.model.arrow.local, None)
        unit = point.scale[self.model.beta]
        return pd.DataFrame(
            point.sigma2 * point.factor.border_inverse[inside, inside] * unit * unit[:, None], names, names
        )

    @cached_property
    def effect(self) -> dict[str, pd.Series]:
        """Effects by group, each by label: predicted (BLUP) of random groups, estimated (BLUE) of fixed ones."""
        return self._by_label(self.best.point.coefficients)

    @cached_property
    @one_thread
    def effect_sd(self) -> dict[str, pd.Series]:
        """Standard deviations of the random effects given the records and the fixed effects (lme4's condVar)."""
        by_label = self._errors(self.best.point.fixed_known())
        return {term.name: by_label[term.name] for term in self.model.random}

    @cached_property
    @one_thread
    def effect_se(self) -> dict[str, pd.Series]:
        """Standard errors of prediction of the effects, the uncertainty of the fixed effects within (root PEV)."""
        return self._errors(self.best.point)

    @one_thread
    def moves(self) -> Moves:
        """How sums and their errors move with the variances; for ``small_sample`` of several sums, one after the other."""
        return Moves(self.best.point)

    def _by_label(self, values: np.ndarray) -> dict[str, pd.Series]:
        return {
            term.name: pd.Series(
                values[self.model.columns[term.name]] if term.kin is None else term.kin.loading @ values[self.model.columns[term.name]],
                index=term.levels, name=term.name,
            )
            for term in self.model.records.terms
        }  # fmt: skip

    def _errors(self, point: Point) -> dict[str, pd.Series]:
        """By label the standard deviations of effects about the truth."""
        diagonal, _ = point.factor.inverse_diagonal()
        found = self._by_label(np.sqrt(point.sigma2 * np.maximum(diagonal, 0)) * point.scale)
        for term, _ in self.model.records.related:
            asked, _ = weights_of(self.model, None, {term.name: term.levels})
            found[term.name][:] = _deviations(point, asked)
        return found

    def error_of(self, effects: Mapping[str, Any]) -> np.ndarray:
        """Standard deviations (k,) of sums of random effects given the records and the fixed effects."""
        return _deviations(self.best.point.fixed_known(), weights_of(self.model, None, effects)[0])

    def predict(self, fixed: Any = None, effects: Mapping[str, Any] | None = None) -> Prediction:
        """Sums of fixed effects and effects, with their errors; one row a sum.

        ``fixed`` weighs the columns of X: (p,) the same in every sum, or (k, p); nothing means none. Each of ``effects``
        is k labels of that group (a missing one means none), or a Series label -> weight used in every sum, or a
        sparse or dense (k, levels) matrix of weights. An unknown label raises ValueError: nothing was seen of it.
        """
        return Prediction(self, *weights_of(self.model, fixed, effects or {}))


@dataclass(frozen=True, eq=False)
class Prediction:
    """k sums of effects, ``weights`` (k, columns) on the model's columns, in the order of ``index``."""

    fit: Fit
    weights: sparse.csr_array
    index: pd.Index

    @cached_property
    def estimate(self) -> np.ndarray:
        return np.asarray(self.weights @ self.fit.best.point.coefficients)

    @cached_property
    @one_thread
    def parts(self) -> tuple[sparse.csr_array, np.ndarray]:
        """Y (k, L) sparse and T (k, G) of the error covariance sigma2 (Y Y' + T T')."""
        return self.split.local_part, self.split.T

    @cached_property
    @one_thread
    def split(self) -> Split:
        """The sums by the blocks of the equations."""
        return Split(self.fit.best.point, self.weights)

    @cached_property
    def variance(self) -> np.ndarray:
        """Error variances (k,) of the sums about the truth (PEV)."""
        return self.fit.best.point.sigma2 * _squares(*self.parts)

    @property
    def se(self) -> np.ndarray:
        return np.sqrt(self.variance)

    @one_thread
    def covariance(self) -> np.ndarray:
        """Error covariances (k, k)."""
        Y, T = self.parts
        return self.fit.best.point.sigma2 * ((Y @ Y.T).toarray() + T @ T.T)

    def covariance_with(self, other: Prediction) -> np.ndarray:
        """Error covariances (k,) of each sum with the one in the same place of ``other``."""
        (Y, T), (Y_, T_) = self.parts, other.parts
        local = np.asarray(Y.multiply(Y_).sum(axis=1)).ravel()
        return self.fit.best.point.sigma2 * (local + np.einsum("kg,kg->k", T, T_))

    def contrast(self, C: Any, index: Any = None) -> Prediction:
        """Sums of these sums: ``C`` (j, k), dense or sparse."""
        C = sparse.csr_array(C if sparse.issparse(C) else np.atleast_2d(C))  # type: ignore[arg-type]
        if C.shape[1] != len(self.index):
            raise ValueError(f"The contrast has {C.shape[1]} weights for {len(self.index)} sums.")
        rows = pd.RangeIndex(C.shape[0]) if index is None else pd.Index(index)
        made = replace(self, weights=sparse.csr_array(C @ self.weights), index=rows)
        if "parts" in self.__dict__:  # no need to work them out again
            Y, T = self.parts
            made.__dict__["parts"] = (sparse.csr_array(C @ Y), C @ T)
        return made

    def difference(self, first: Any, second: Any) -> Prediction:
        """First minus second, by labels of ``index``; two lists of the same length, or two labels."""
        first, second = np.atleast_1d(np.asarray(first)), np.atleast_1d(np.asarray(second))
        one, other = self.index.get_indexer(first), self.index.get_indexer(second)
        if len(lost := [*first[one < 0], *second[other < 0]]):
            raise ValueError(f"{lost[0]} is not among the sums.")
        shape = (len(one), len(self.index))
        row = np.arange(len(one))
        C = sparse.coo_array(
            (np.r_[np.ones(len(one)), -np.ones(len(one))], (np.r_[row, row], np.r_[one, other])), shape
        )
        return self.contrast(C, pd.MultiIndex.from_arrays([first, second]))

    @one_thread
    def small_sample(self, moves: Moves | None = None) -> pd.DataFrame:
        """estimate, se and df (k rows) that allow for the variances having been estimated too.

        With V the covariance of the log variances, delta the slope of the estimate in them and g that of the PEV,

            se^2 = PEV + delta' V delta        (Kackar & Harville 1984, J. Am. Stat. Assoc. 79: 853-862)
            df   = 2 PEV^2 / (g' V g)          (Satterthwaite 1946, Biometrics Bull. 2: 110-114; Giesbrecht & Burns
                                                1985, Biometrics 41: 477-486)

        Variances at zero are taken as known to be zero.
        """
        fit, link = self.fit, self.fit.best.link
        sigma = fit.best.point.sigma
        theta = linalg.pinv(link) @ sigma
        spread = fit._covariance(link) / theta / theta[:, None]
        slope, tilt = (moves or fit.moves()).of(self.split, self.weights)
        # A ratio goes up with its own variance and down with the residual one, which scales the errors.
        with np.errstate(divide="ignore", invalid="ignore"):
            share = np.nan_to_num(link * theta / sigma[:, None])
        by_ratio = np.where(sigma[:-1, None] > 0, share[:-1] - share[-1], 0.0)
        slopes = by_ratio.T @ slope
        tilts = by_ratio.T @ tilt + np.outer(share[-1], self.variance)
        inflated = self.variance + np.einsum("ik,ij,jk->k", slopes, spread, slopes)
        with np.errstate(divide="ignore", invalid="ignore"):
            df = 2 * np.square(self.variance) / np.einsum("ik,ij,jk->k", tilts, spread, tilts)
        return pd.DataFrame({"estimate": self.estimate, "se": np.sqrt(inflated), "df": df}, index=self.index)


def _deviations(point: Point, weights: sparse.csr_array) -> np.ndarray:
    split = Split(point, weights)
    return np.sqrt(point.sigma2 * _squares(split.local_part, split.T))


def _squares(Y: sparse.csr_array, T: np.ndarray) -> np.ndarray:
    return np.asarray(Y.power(2).sum(axis=1)).ravel() + np.square(T).sum(axis=1)
