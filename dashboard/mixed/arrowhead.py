"""The pattern of a mixed model's equations: an arrowhead of small blocks with a narrow border.

Terms nested in the main factor (say cultivar, cultivar:site, cultivar:year) only meet within one level of it;
the few other columns (environments, fixed effects) form the border. With weights W of the records,

    [Z X]' W [Z X] = [ A  B ; B' G ],      A = blockdiag(A_i),      B_i: the rows of block i

Every entry is a sum of w_r times a constant, so the pattern is made once and a new weighting costs three sparse
products. Blocks of like size are padded to one shape and kept together: no Python loop runs over levels.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import sparse

_CHUNK = 1_000_000  # most numbers in one batch, so that no temporary outgrows the memory
_SIZES = np.unique(np.r_[np.arange(5), (4 * 1.3 ** np.arange(60)).astype(np.int64)])


@dataclass(frozen=True, eq=False)
class Bucket:
    """b blocks padded to m local and g border columns; padding points one past the last column."""

    columns: np.ndarray  # (b, m) numbers of the local columns, 0 … L - 1, padding L
    border: np.ndarray  # (b, g) numbers of the border columns touched, 0 … G - 1, padding G
    a: slice  # where its A_i, and
    b: slice  # its B_i lie in the flat cross-products

    @property
    def shape(self) -> tuple[int, int, int]:
        return (*self.columns.shape, self.border.shape[1])


@dataclass(frozen=True, eq=False)
class Products:
    """[Z X]' diag(w) [Z X] of one weighting: A_i and B_i by bucket, (b, m, m) and (b, m, g), and G (G, G)."""

    a: list[np.ndarray]
    b: list[np.ndarray]
    g: np.ndarray


class Arrowhead:
    """Which column lies in which block and meets which border column.

    ``local`` (R, L) and ``border`` (R, G) are sparse designs; ``block`` (L,) is each local column's block. The local
    entries of a row all lie in one block. ``design`` (R, L + G) is the two side by side.
    """

    def __init__(self, local: sparse.csr_array, block: np.ndarray, border: sparse.csr_array) -> None:
        self.design = sparse.csr_array(sparse.hstack([local, border], format="csr"))
        self.local, self.border = local.shape[1], border.shape[1]
        blocks = int(block.max(initial=-1)) + 1

        # Place of each local column in its block.
        size = np.bincount(block, minlength=blocks)
        order = np.argsort(block, kind="stable")
        place = np.empty(self.local, dtype=np.int64)
        place[order] = np.arange(self.local) - np.repeat(np.cumsum(size) - size, size)

        # Border columns each block touches, as sorted keys block * G + column; place of each among its block's.
        row, one, other, value = _pairs(local, border)
        key = block[one] * max(self.border, 1) + other
        touched, where = np.unique(key, return_inverse=True)
        owner, column = np.divmod(touched, max(self.border, 1))
        width = np.bincount(owner, minlength=blocks)
        seat = np.arange(len(touched)) - (np.cumsum(width) - width)[owner]

        m, g = _SIZES[np.searchsorted(_SIZES, size)], _SIZES[np.searchsorted(_SIZES, width)]
        a_start, b_start = np.zeros(blocks, dtype=np.int64), np.zeros(blocks, dtype=np.int64)
        self.buckets: list[Bucket] = []
        a_end = b_end = 0
        for members in _batches(m, g):
            b, m_, g_ = len(members), int(m[members[0]]), int(g[members[0]])
            line = np.full(blocks, -1)
            line[members] = np.arange(b)
            columns, borders = np.full((b, m_), self.local), np.full((b, g_), self.border)
            mine = np.flatnonzero(line[block] >= 0)
            columns[line[block[mine]], place[mine]] = mine
            met = np.flatnonzero(line[owner] >= 0)
            borders[line[owner[met]], seat[met]] = column[met]
            a_start[members], b_start[members] = (
                a_end + m_ * m_ * np.arange(b),
                b_end + m_ * g_ * np.arange(b),
            )
            a, c = slice(a_end, a_end + b * m_ * m_), slice(b_end, b_end + b * m_ * g_)
            self.buckets.append(Bucket(columns, borders, a, c))
            a_end, b_end = a.stop, c.stop

        rows = local.shape[0]
        place_b = b_start[block[one]] + place[one] * g[block[one]] + seat[where]
        self._b = _sums(place_b, row, value, b_end, rows)
        row, one, other, value = _pairs(local, local)
        place_a = a_start[block[one]] + place[one] * m[block[one]] + place[other]
        self._a = _sums(place_a, row, value, a_end, rows)
        row, one, other, value = _pairs(border, border)
        self._g = _sums(one * self.border + other, row, value, self.border**2, rows)

    def products(self, w: np.ndarray) -> Products:
        """The cross-products under weights ``w`` (R,)."""
        a, b = self._a @ w, self._b @ w
        return Products(
            [a[bucket.a].reshape(*bucket.shape[:2], bucket.shape[1]) for bucket in self.buckets],
            [b[bucket.b].reshape(bucket.shape) for bucket in self.buckets],
            (self._g @ w).reshape(self.border, self.border),
        )


def _batches(m: np.ndarray, g: np.ndarray) -> list[np.ndarray]:
    """Blocks of the same padded shape, no batch too large to work through at once."""
    if not len(m):
        return []
    shape, group = np.unique(np.stack([m, g], axis=1), axis=0, return_inverse=True)
    batches = []
    for number, widest in enumerate(shape.max(axis=1)):
        alike = np.flatnonzero(group.ravel() == number)
        batches += np.array_split(alike, max(1, -(-len(alike) * int(widest) ** 2 // _CHUNK)))
    return [batch for batch in batches if len(batch)]


def _pairs(
    one: sparse.csr_array, other: sparse.csr_array
) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Every pair of stored entries in the same row: (row, column in one, column in other, product)."""
    have = np.diff(other.indptr)
    row = np.repeat(np.arange(one.shape[0]), np.diff(one.indptr))
    repeats = have[row]
    first = np.repeat(np.arange(len(row)), repeats)
    step = np.arange(len(first)) - np.repeat(np.cumsum(repeats) - repeats, repeats)
    second = other.indptr[row[first]] + step
    value = one.data[first] * other.data[second]
    return row[first], one.indices[first].astype(np.int64), other.indices[second].astype(np.int64), value


def _sums(place: np.ndarray, row: np.ndarray, value: np.ndarray, places: int, rows: int) -> sparse.csr_array:
    """The matrix that turns weights of rows into sums at places."""
    return sparse.csr_array(sparse.coo_array((value, (place, row)), shape=(places, rows)))
