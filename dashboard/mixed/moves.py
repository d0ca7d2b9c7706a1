"""How sums of effects, and their error variances, move with the variances they were worked out at.

With C^-1 of ``factor`` and D the scale of its columns, a sum kappa has v = C^-1 D kappa = [ a - F u ; u ] in its local and its border
part, a = l K' K, u = S^-1 (g - F' l), F = K' H. When the ratio gamma_t of a variance to the residual one moves, the residual
one kept where it is,

    d estimate / d log gamma_t = (v_t)' spherical_t           d PEV / d log gamma_t = sigma2 |v_t|^2
    of the sample's:           - gamma_s v' D Z' W^2 r                              sigma2 gamma_s |W Z D v|^2

the rule for the slope of an inverse (Searle, Casella & McCulloch 1992, Variance Components, app. M), part by part. Squares over all
blocks need no pass over them: |a - F u|^2 = |a|^2 - 2 a' F u + u' F' F u, and a touches the sum's own blocks alone.
"""

from __future__ import annotations

import numpy as np
from scipy import linalg, sparse

from dashboard.mixed.criterion import Point
from dashboard.mixed.split import Split, times


class Moves:
    """Of any sums of a model at one point; rows are its variances but the residual one."""

    def __init__(self, point: Point) -> None:
        self.point, model, arrow = point, point.model, point.model.arrow
        self.terms = [model.columns[term.name] for term in model.random]
        self.within = [model.runs(term.name)[0] for term in model.random]
        F = [K.transpose(0, 2, 1) @ H for K, H in zip(point.factor.K, point.factor.H, strict=True)]
        # u' E u over the border and all blocks, for each part E of the equations (G, G): E is 1 on the term's own columns.
        self.border = [self._of_term(columns, F) for columns in self.terms]
        right = np.zeros((model.width, len(point.ratios)))
        for at, columns in enumerate(self.terms):
            right[columns, at] = point.spherical[columns]
        # The samples' E = gamma_s D Z' W^2 Z D: by block, its own and with the border.
        self.inner: list[np.ndarray] = []
        self.outer: list[np.ndarray] = []
        if model.records.sampled:
            self.border.append(self._of_samples(F))
            pull = arrow.design.T @ (np.square(point.w) * point.residual)
            right[:, -1] = -point.ratios[-1] * point.scale * pull
        self.effects = point.scale[:, None] * point.factor.solution(right)  # (L + G, variances)

    def of(self, split: Split, weights: sparse.csr_array) -> tuple[np.ndarray, np.ndarray]:
        """(variances, k) slopes of k sums of these ``weights``, and of their error variances, in the log of each ratio."""
        factor, arrow = self.point.factor, self.point.model.arrow
        u = linalg.solve_triangular(factor.R, split.T.T, lower=True, trans="T").T
        tilts = np.empty((len(self.border), split.count))
        for at, border in enumerate(self.border):
            tilts[at] = np.einsum("kg,kg->k", u @ border, u)
        padded = np.column_stack([u, np.zeros(len(u))])
        for piece in split.pieces:
            K, H = (part[piece.bucket][piece.lines] for part in (factor.K, factor.H))
            there = padded[piece.sums[:, None], split.border(piece)]
            a = times(piece.Y, K)
            Fu = times(times(there, H, turned=True), K)
            own, columns = a * (a - 2 * Fu), arrow.buckets[piece.bucket].columns[piece.lines]
            for at, term in enumerate(self.within):
                mine = (columns >= term.start) & (columns < min(term.stop, arrow.local))
                _add(tilts[at], piece.sums, np.where(mine, own, 0.0).sum(axis=1))
            if self.inner:
                inner, outer = (part[piece.bucket][piece.lines] for part in (self.inner, self.outer))
                lifted = times(a, inner)
                _add(
                    tilts[-1],
                    piece.sums,
                    (lifted * (a - 2 * Fu)).sum(axis=1) + 2 * (times(a, outer) * there).sum(axis=1),
                )
        return (weights @ self.effects).T, self.point.sigma2 * tilts

    def _of_term(self, columns: slice | np.ndarray, F: list[np.ndarray]) -> np.ndarray:
        arrow = self.point.model.arrow
        inside = np.zeros(self.point.model.width)
        inside[columns] = 1.0
        mine, own = np.r_[inside[: arrow.local], 0.0], np.diag(inside[arrow.local :])
        if not mine.any():
            return own
        kept = (
            part * mine[bucket.columns][:, :, None] for bucket, part in zip(arrow.buckets, F, strict=True)
        )
        return own + arrow.over_borders(part.transpose(0, 2, 1) @ part for part in kept)

    def _of_samples(self, F: list[np.ndarray]) -> np.ndarray:
        point, arrow = self.point, self.point.model.arrow
        products, scale = arrow.products(point.ratios[-1] * np.square(point.w)), point.scale
        d, d_border = np.r_[scale[: arrow.local], 0.0], np.r_[scale[arrow.local :], 0.0]
        for bucket, a, b in zip(arrow.buckets, products.a, products.b, strict=True):
            left = d[bucket.columns][:, :, None]
            a *= left
            a *= left.transpose(0, 2, 1)
            b *= left
            b *= d_border[bucket.border][:, None, :]
        self.inner, self.outer = products.a, products.b
        across = arrow.over_borders(
            one.transpose(0, 2, 1) @ (E @ one - B) - B.transpose(0, 2, 1) @ one
            for one, E, B in zip(F, self.inner, self.outer, strict=True)
        )
        unit = d_border[: arrow.border]
        return across + products.g * unit * unit[:, None]


def _add(total: np.ndarray, sums: np.ndarray, found: np.ndarray) -> None:
    """Add what was found of parts of sums to the sums."""
    total += np.bincount(sums, found, len(total))
