"""The pattern of a mixed model's equations: an arrowhead of small blocks with a narrow border.

Terms nested in the main factor (say cultivar, cultivar:site, cultivar:year) only meet within one level of it;
the few other columns (environments, fixed effects) form the border. With weights W of the records,

    [Z X]' W [Z X] = [ A  B ; B' G ],      A = blockdiag(A_i),      B_i: the rows of block i

Every entry is a sum of w_r times a constant, so the pattern is made once and a new weighting costs three sparse
products. Blocks of like size are padded to one shape and kept together: no Python loop runs over levels.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from hashlib import blake2b

import numpy as np
from scipy import sparse

_CHUNK = 1_000_000  # most numbers in one batch, so that no temporary outgrows the memory
# To which blocks are padded: by a fifth; large ones, which cost most and are few, by no more than 8.
_SIZES = np.unique(np.r_[np.arange(5), (4 * 1.2 ** np.arange(16)).astype(np.int64), np.arange(64, 1024, 8),
                         (1024 * 1.2 ** np.arange(60)).astype(np.int64)])  # fmt: skip


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

        # Border columns each block touches, as sorted keys block * G + column; seat of each entry among its block's.
        meeting = border if blocks else border[:0]  # without local columns nothing is met
        inside = block[local.indices[local.indptr[_rows(meeting)]]]
        touched, where = np.unique(inside * max(self.border, 1) + meeting.indices, return_inverse=True)
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
            columns, borders = np.full((b, m_), self.local, np.int32), np.full((b, g_), self.border, np.int32)
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

        in_a, in_b = a_start[block] + place * m[block], b_start[block] + place * g[block]
        # Rows alike in all local entries, as samples of one site-season, are added up first.
        alike = np.column_stack([_by_row(local, part) for part in (local.indices, local.data)])
        _, first, self._alike = np.unique(alike, axis=0, return_index=True, return_inverse=True)
        few = sparse.csr_array(local[first])
        self._a = _sums(few, few, in_a[few.indices], place[few.indices], a_end)
        self._b = _sums(local, border, in_b[local.indices], seat[where], b_end)
        self._g = _sums(border, None, border.indices * self.border, border.indices, self.border**2)

    @cached_property
    def home(self) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Of each local column (L,): the number of its bucket, the line of its block there, and its place in the block."""
        found = np.zeros((3, self.local + 1), dtype=np.int32)
        for number, bucket in enumerate(self.buckets):
            line, place = np.indices(bucket.columns.shape)
            found[:, bucket.columns.ravel()] = np.stack(
                [np.full(line.size, number), line.ravel(), place.ravel()]
            )
        return found[0, :-1], found[1, :-1], found[2, :-1]

    def products(self, w: np.ndarray) -> Products:
        """The cross-products under weights ``w`` (R,)."""
        alike = np.bincount(self._alike.ravel(), w, self._a.shape[1])
        a, b, u = self._a @ alike, self._b @ w, (self._g @ w).reshape(self.border, self.border)
        return Products(
            [a[bucket.a].reshape(*bucket.shape[:2], bucket.shape[1]) for bucket in self.buckets],
            [b[bucket.b].reshape(bucket.shape) for bucket in self.buckets],
            u + u.T,
        )

    def over_borders(self, parts: Iterable[np.ndarray]) -> np.ndarray:
        """Blocks (b, g, g) of every bucket added up in their places (G, G)."""
        wide = self.border + 1
        total = np.zeros(wide**2)
        for bucket, part in zip(self.buckets, parts, strict=True):
            place = bucket.border[:, :, None] * wide + bucket.border[:, None, :]
            total += np.bincount(place.ravel(), part.ravel(), minlength=wide**2)
        return total.reshape(wide, wide)[: self.border, : self.border]


class Patterns:
    """The arrowhead made last: traits read of the same samples, one after the other, share it. ``related``: the one with relatives."""

    def __init__(self) -> None:
        self._made: Arrowhead | None = None
        self._key = b""

    @cached_property
    def related(self) -> Patterns:
        return Patterns()

    def arrowhead(self, local: sparse.csr_array, block: np.ndarray, border: sparse.csr_array) -> Arrowhead:
        """As ``Arrowhead``, made anew only where the last one has other designs, in any entry."""
        digest = blake2b(repr((local.shape, border.shape)).encode())
        for design in (local, border):
            for part in (design.indptr, design.indices, design.data):
                digest.update(np.ascontiguousarray(part).data)
        digest.update(np.ascontiguousarray(block).data)
        key = digest.digest()
        if key != self._key:
            self._made = None  # let go before the next is made
            self._made, self._key = Arrowhead(local, block, border), key
        assert self._made is not None
        return self._made


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


def _rows(design: sparse.csr_array) -> np.ndarray:
    """The row of every stored entry."""
    return np.repeat(np.arange(design.shape[0], dtype=np.int32), np.diff(design.indptr))


def _by_row(design: sparse.csr_array, part: np.ndarray) -> np.ndarray:
    """(rows, most in one) a part of the stored entries of each row; -1 where a row has fewer, as of relatives who are parents."""
    count = np.diff(design.indptr)
    most = int(count.max(initial=0))
    if (count == most).all():
        return part.reshape(len(count), most)
    found = np.full((len(count), most), -1.0)
    found[_rows(design), np.arange(len(part)) - np.repeat(design.indptr[:-1], count)] = part
    return found


def _sums(
    one: sparse.csr_array, other: sparse.csr_array | None, line: np.ndarray, seat: np.ndarray, places: int
) -> sparse.csr_array:
    """The matrix (places, R) that turns weights of rows into the sums, over rows, of products of two entries of a row.

    The product of an entry of ``one`` at ``line`` and one of ``other`` at ``seat`` goes to the place line + seat. Without another,
    those of one with itself, each pair once and an entry with itself by half: half of a symmetric whole.
    """
    entry, row = np.arange(len(one.data), dtype=np.int32), _rows(one)
    ends = one if other is None else other
    begins = entry if other is None else other.indptr[row]
    repeats = ends.indptr[row + 1] - begins
    first = np.repeat(entry, repeats)
    # Of each entry the place of the first it meets, less how many pairs came before it.
    second = (begins - (np.cumsum(repeats) - repeats)).astype(np.int32)[first]
    second += np.arange(len(first), dtype=np.int32)
    value = one.data[first] * ends.data[second]
    if other is None:
        value[first == second] /= 2
    place = line.astype(np.int32)[first]
    place += seat.astype(np.int32)[second]
    entries = (value, (place, row[first]))
    return sparse.csr_array(sparse.coo_array(entries, shape=(places, one.shape[0])))
