"""Sums of effects split by the blocks of the equations that they touch.

A sum kappa' [u; b], on the scale of the equations (kappa d), has a part l in each block it touches, mostly one, and a part g on the
border. With K, H, R of ``factor`` its error variance over the residual one is |Y|^2 + |T|^2,

    Y = l K' block by block,      T = h R^-T,      h = g - sum over blocks of Y H

The blocks of one bucket are worked through together, K and H as they lie there.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
from scipy import linalg, sparse

from dashboard.mixed.criterion import Point

_CHUNK = 250_000  # most numbers of one kind copied out of a bucket at once


@dataclass(frozen=True, eq=False)
class Piece:
    """j parts of sums in as many blocks of one bucket: the numbers of the sums, ``lines`` of the bucket, l and Y (j, m) each."""

    bucket: int
    lines: slice | np.ndarray
    sums: np.ndarray
    l: np.ndarray  # noqa: E741
    Y: np.ndarray


class Split:
    """k sums with ``weights`` (k, L + G) on the columns of a model at ``point``."""

    def __init__(self, point: Point, weights: sparse.csr_array) -> None:
        self.point, self.count = point, weights.shape[0]
        local, border = point.model.arrow.local, point.model.arrow.border
        row = np.repeat(np.arange(self.count), np.diff(weights.indptr))
        value = weights.data * point.scale[weights.indices]
        inside = weights.indices < local
        h = np.zeros((self.count, border + 1))
        h[row[~inside], weights.indices[~inside] - local] = value[~inside]
        self.pieces = list(self._pieces(row[inside], weights.indices[inside], value[inside]))
        for piece in self.pieces:
            taken = times(piece.Y, point.factor.H[piece.bucket][piece.lines])
            places = (piece.sums[:, None], self.border(piece))
            if (np.diff(piece.sums) > 0).all():  # each sum once
                h[places] -= taken
            else:
                np.subtract.at(h, places, taken)
        self.T = linalg.solve_triangular(point.factor.R, h[:, :border].T, lower=True).T  # (k, G)

    def border(self, piece: Piece) -> np.ndarray:
        """(j, g) numbers of the border columns that the blocks of a piece touch, the number past the last for padding."""
        return self.point.model.arrow.buckets[piece.bucket].border[piece.lines]

    @cached_property
    def local_part(self) -> sparse.csr_array:
        """Y of all sums (k, L)."""
        local = self.point.model.arrow.local
        rows, columns, values = [np.empty(0, np.int32)], [np.empty(0, np.int32)], [np.empty(0)]
        for piece in self.pieces:
            column = self.point.model.arrow.buckets[piece.bucket].columns[piece.lines]
            real = (column < local) & (piece.Y != 0)
            rows.append(np.broadcast_to(piece.sums[:, None], real.shape)[real])
            columns.append(column[real])
            values.append(piece.Y[real])
        entries = (np.concatenate(values), (np.concatenate(rows), np.concatenate(columns)))
        return sparse.csr_array(sparse.coo_array(entries, shape=(self.count, local)))

    def _pieces(self, row: np.ndarray, column: np.ndarray, value: np.ndarray) -> Iterator[Piece]:
        factor, home = self.point.factor, self.point.model.arrow.home
        bucket, line, place = (home[at][column] for at in range(3))
        for number in np.unique(bucket).tolist():
            here = bucket == number
            blocks, m = factor.K[number].shape[:2]
            key, at = np.unique(row[here] * blocks + line[here], return_inverse=True)
            l = np.zeros((len(key), m))  # noqa: E741
            np.add.at(l, (at, place[here]), value[here])
            sums, lines = np.divmod(key, blocks)
            if len(lines) == blocks and (lines == np.arange(blocks)).all():
                groups: list[tuple[slice | np.ndarray, slice]] = [(slice(None), slice(None))]
            else:
                parts = -(-len(lines) * factor.K[number][0].size // _CHUNK)
                ends = np.linspace(0, len(lines), parts + 1).astype(int)
                taken = [slice(int(one), int(other)) for one, other in pairwise(ends)]
                groups = [(lines[part], part) for part in taken]
            for which, part in groups:
                yield Piece(
                    number, which, sums[part], l[part], times(l[part], factor.K[number][which], turned=True)
                )


def times(rows: np.ndarray, blocks: np.ndarray, turned: bool = False) -> np.ndarray:
    """(j, m) by (j, m, g), or by (j, g, m) ``turned``, row by row: (j, g)."""
    if turned:
        return np.matmul(blocks, rows[:, :, None])[:, :, 0]
    return np.matmul(rows[:, None, :], blocks)[:, 0]
