"""How sums of effects, and their error variances, move with the variances they were worked out at.

With C^-1 of ``factor`` and D the scale of its columns, a sum kappa has v = C^-1 D kappa = [ a - F u ; u ] in its local and its border
part, a = l K' K, u = S^-1 (g - F' l), F = K' H. When the ratio gamma_t of a variance to the residual one moves, the residual
one kept where it is,

    d estimate / d log gamma_t = (v_t)' spherical_t           d PEV / d log gamma_t = sigma2 |v_t|^2
    of the sample's:           - gamma_s v' D Z' W^2 r                              sigma2 gamma_s |W Z D v|^2

the rule for the slope of an inverse (Searle, Casella & McCulloch 1992, Variance Components, app. M), part by part. Squares over all
blocks need no pass over them: |a - F u|^2 = |a|^2 - 2 a' F u + u' F' F u, and a touches the sum's own block alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
from scipy import linalg, sparse

from dashboard.mixed.criterion import Point


class _Square(NamedTuple):
    """v' E v of a part E of the equations, by a' own a - 2 a' between u + u' border u."""

    own: sparse.csr_array  # E (L, L)
    between: sparse.csr_array  # E F less what E has there (L, G)
    border: np.ndarray  # (G, G)


class Moves:
    """Of any sums of a model at one point; rows are its variances but the residual one."""

    def __init__(self, point: Point) -> None:
        self.point, model = point, point.model
        self.F = [K.transpose(0, 2, 1) @ H for K, H in zip(point.factor.K, point.factor.H, strict=True)]
        self.squares = [self._of_term(model.columns[term.name]) for term in model.random]
        right = np.zeros((model.width, len(point.ratios)))
        for at, term in enumerate(model.random):
            right[model.columns[term.name], at] = point.spherical[model.columns[term.name]]
        if model.records.sampled:
            self.squares.append(self._of_samples())
            pull = model.arrow.design.T @ (np.square(point.w) * point.residual)
            right[:, -1] = -point.ratios[-1] * point.scale * pull
        self.effects = point.scale[:, None] * point.factor.solution(right)  # (L + G, variances)

    def of(
        self, weights: sparse.csr_array, Y: sparse.csr_array, T: np.ndarray
    ) -> tuple[np.ndarray, np.ndarray]:
        """(variances, k) slopes of k sums, and of their error variances, in the log of each ratio.

        Y and T as of ``Prediction.parts``.
        """
        factor = self.point.factor
        a = sparse.csr_array(Y @ factor.local_root)
        u = linalg.solve_triangular(factor.R, T.T, lower=True, trans="T").T
        tilts = np.empty((len(self.squares), weights.shape[0]))
        for at, (own, between, border) in enumerate(self.squares):
            tilts[at] = np.asarray((a @ own).multiply(a).sum(axis=1)).ravel()
            tilts[at] += np.einsum("kg,kg->k", u @ border - 2 * (a @ between).toarray(), u)
        return (weights @ self.effects).T, self.point.sigma2 * tilts

    def _of_term(self, columns: slice | np.ndarray) -> _Square:
        """E is 1 on the term's own columns."""
        arrow = self.point.model.arrow
        inside = np.zeros(arrow.local + arrow.border)
        inside[columns] = 1.0
        mine = np.r_[inside[: arrow.local], 0.0]

        def kept() -> Iterator[np.ndarray]:
            for bucket, F in zip(arrow.buckets, self.F, strict=True):
                yield F * mine[bucket.columns][:, :, None]

        across = arrow.over_borders(F.transpose(0, 2, 1) @ F for F in kept())
        own = sparse.csr_array(sparse.diags_array(inside[: arrow.local]))
        return _Square(own, arrow.by_border(kept()), across + np.diag(inside[arrow.local :]))

    def _of_samples(self) -> _Square:
        """E = gamma_s D Z' W^2 Z D."""
        point, arrow = self.point, self.point.model.arrow
        products, scale = arrow.products(point.ratios[-1] * np.square(point.w)), point.scale
        d, d_border = np.r_[scale[: arrow.local], 0.0], np.r_[scale[arrow.local :], 0.0]

        def blocks() -> Iterator[tuple[np.ndarray, np.ndarray, np.ndarray]]:
            for bucket, F, a, b in zip(arrow.buckets, self.F, products.a, products.b, strict=True):
                left = d[bucket.columns][:, :, None]
                yield F, a * left * left.transpose(0, 2, 1), b * left * d_border[bucket.border][:, None, :]

        own = arrow.by_local(E for _, E, _ in blocks())
        between = arrow.by_border(E @ F - B for F, E, B in blocks())
        across = arrow.over_borders(
            F.transpose(0, 2, 1) @ (E @ F - B) - B.transpose(0, 2, 1) @ F for F, E, B in blocks()
        )
        unit = d_border[: arrow.border]
        return _Square(own, between, across + products.g * unit * unit[:, None])
