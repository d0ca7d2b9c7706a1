"""Factorisation of the arrowhead equations at one set of variances.

With d the scale and e the ridge of each column (1 for random effects, 0 for fixed ones),

    C = d [Z X]' W [Z X] d + e = [ A  B ; B' G ]
    A_i = L_i L_i',   K_i = L_i^-1,   H_i = K_i B_i,   S = G - sum_i H_i' H_i = R R'
    log|C| = sum_i log|A_i| + log|S|

(Schur complement: Golub & Van Loan, Matrix Computations, 3.2; this scaling, with identity covariance for the random
effects, is Bates et al. 2015, J. Stat. Software 67(1), eq. 18, and stays regular when a variance is zero.) Any part of
the inverse follows without forming it, with F_i = K_i' H_i and M = S^-1:

    (C^-1)_ii = K_i' K_i + F_i M F_i',      (C^-1)_i,border = -F_i M,      (C^-1)_border = M
"""

from __future__ import annotations

from copy import copy
from functools import cached_property

import numpy as np
from scipy import linalg

from dashboard.mixed.arrowhead import Arrowhead, Products

_SMALL = 30  # columns up to which blocks are inverted together,
_MANY = 4  # and how many a column there have to be: fewer take less time one by one


class Factor:
    """C factored; ``scale`` and ``ridge`` (L + G,) as d and e above. LinAlgError when C is not positive definite."""

    def __init__(self, arrow: Arrowhead, products: Products, scale: np.ndarray, ridge: np.ndarray) -> None:
        self.arrow, self.scale, self.ridge = arrow, scale, ridge
        local, border = arrow.local, arrow.border
        d, e = np.r_[scale[:local], 0.0], np.r_[ridge[:local], 1.0]  # padding: nothing there, ridge 1
        d_border = np.r_[scale[local:], 0.0]
        self.K: list[np.ndarray] = []
        self.H: list[np.ndarray] = []
        self.log_det = 0.0
        for bucket, a, b in zip(arrow.buckets, products.a, products.b, strict=True):
            left = d[bucket.columns][:, :, None]
            block = a * left * left.transpose(0, 2, 1)
            diagonal = np.arange(block.shape[1])
            block[:, diagonal, diagonal] += e[bucket.columns]
            L = np.linalg.cholesky(block)
            self.log_det += 2 * float(np.log(L[:, diagonal, diagonal]).sum())
            K = _inverse(L)
            H = K @ (b * left * d_border[bucket.border][:, None, :])
            self.K.append(K)
            self.H.append(H)
        G = products.g * scale[local:, None] * scale[local:]
        G[np.diag_indices(border)] += ridge[local:]
        self.kept = np.diag(G).copy()  # what each border column was before the blocks took their share
        S = G - arrow.over_borders(H.transpose(0, 2, 1) @ H for H in self.H)
        self.R = np.linalg.cholesky(S)
        self.log_det += 2 * float(np.log(np.diag(self.R)).sum())

    def without(self, off: np.ndarray) -> Factor:
        """With some columns of the border (L + G, true there) switched off: nothing there, ridge 1."""
        local, border = self.arrow.local, self.arrow.border
        out = np.r_[off[local:], False]
        found = copy(self)
        found.__dict__.pop("border_inverse", None)
        found.scale, found.ridge = np.where(off, 0.0, self.scale), np.where(off, 1.0, self.ridge)
        found.H = [
            np.where(out[bucket.border][:, None, :], 0.0, H)
            for bucket, H in zip(self.arrow.buckets, self.H, strict=True)
        ]
        S = np.where(out[:border, None] | out[:border], np.eye(border), self.R @ self.R.T)
        found.R = np.linalg.cholesky(S)
        found.log_det += 2 * float(np.log(np.diag(found.R)).sum() - np.log(np.diag(self.R)).sum())
        return found

    @cached_property
    def border_inverse(self) -> np.ndarray:
        """S^-1 (G, G)."""
        inverse, _ = linalg.lapack.dpotri(self.R, lower=True)
        return np.tril(inverse) + np.tril(inverse, -1).T

    def solution(self, right: np.ndarray) -> np.ndarray:
        """C^-1 right, for right (L + G, k)."""
        local, border = self.arrow.local, self.arrow.border
        padded = np.vstack([right[:local], np.zeros((1, right.shape[1]))])
        top = [K @ padded[bucket.columns] for bucket, K in zip(self.arrow.buckets, self.K, strict=True)]
        down = np.zeros((border + 1, right.shape[1]))
        for bucket, H, part in zip(self.arrow.buckets, self.H, top, strict=True):
            met, columns = bucket.border.ravel(), (H.transpose(0, 2, 1) @ part).reshape(-1, right.shape[1]).T
            for at, column in enumerate(columns):
                down[:, at] += np.bincount(met, column, border + 1)
        below = np.zeros((border + 1, right.shape[1]))
        below[:border] = linalg.cho_solve((self.R, True), right[local:] - down[:border])
        result = np.empty((local + 1, right.shape[1]))
        for bucket, K, H, part in zip(self.arrow.buckets, self.K, self.H, top, strict=True):
            result[bucket.columns] = K.transpose(0, 2, 1) @ (part - H @ below[bucket.border])
        return np.vstack([result[:local], below[:border]])

    def inverse_diagonal(self, products: Products | None = None) -> tuple[np.ndarray, float]:
        """diag(C^-1) (L + G,), and the trace of C^-1 d P d for other cross-products P (0 without any)."""
        local, border = self.arrow.local, self.arrow.border
        d, d_border = np.r_[self.scale[:local], 0.0], np.r_[self.scale[local:], 0.0]
        M = np.zeros((border + 1, border + 1))
        M[:border, :border] = self.border_inverse
        diagonal, trace = np.empty(local + 1), 0.0
        for number, (bucket, K, H) in enumerate(zip(self.arrow.buckets, self.K, self.H, strict=True)):
            F = K.transpose(0, 2, 1) @ H
            across = F @ M[bucket.border[:, :, None], bucket.border[:, None, :]]
            diagonal[bucket.columns] = np.einsum("bkm,bkm->bm", K, K) + np.einsum("bmg,bmg->bm", across, F)
            if products is None:
                continue
            # tr(within P) = tr(K P K') + tr(across' P F), and twice what is across.
            a, left = products.a[number], d[bucket.columns]
            part = K * left[:, None, :]
            trace += float(np.einsum("bmk,bmk->", part @ a, part))
            F *= left[:, :, None]
            rest = a @ F - 2 * products.b[number] * d_border[bucket.border][:, None, :]
            across *= left[:, :, None]
            trace += float(np.einsum("bmg,bmg->", across, rest))
        if products is not None:
            d_border = d_border[:border]
            trace += float(
                np.einsum("gh,gh->", self.border_inverse * d_border, products.g * d_border[:, None])
            )
        return np.r_[diagonal[:local], np.diag(self.border_inverse)], trace


def _inverse(L: np.ndarray) -> np.ndarray:
    """Of lower triangles (b, m, m): many small ones row by row, all at once; few or large ones each by itself."""
    m = L.shape[1]
    if m > _SMALL or len(L) < _MANY * m:
        found = [linalg.lapack.dtrtri(one, lower=1) for one in L]
        if any(fault for _, fault in found):
            raise np.linalg.LinAlgError("A block is singular.")
        return np.stack([one for one, _ in found])
    last = np.ascontiguousarray(L.transpose(1, 2, 0))
    K = np.zeros_like(last)
    for row in range(m):
        K[row, row] = 1 / last[row, row]
        K[row, :row] = -np.einsum("kb,kjb->jb", last[row, :row], K[:row, :row]) * K[row, row]
    return np.ascontiguousarray(K.transpose(2, 0, 1))
