"""Effects of relatives: drawn together, by how much of what their parents had they share.

With s and p the parents of i, and m_i what chance adds when they pass on half of theirs each,

    a_i = (a_s + a_p) / 2 + m_i,     m_i ~ N(0, d_i sigma2),     d_i = 1 - (A_ss + A_pp) / 4,     A_ii = 1 + A_sp / 2

with nothing of a parent that is not known (Henderson 1976, Biometrics 32: 69-83). So a = T D^(1/2) v = L v, v independent: the m of
whoever is nobody's parent concerns nobody else and stays within its own block of the equations; the others are few.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np
import pandas as pd
from scipy import linalg, sparse

_TRIFLE = 1e-12


@dataclass(frozen=True, eq=False)
class Kin:
    """A group for ``fit``: ``labels`` (R,) of the records, and for the levels ``names`` (n,) what their effects are made of,
    ``own`` (n,) of a draw each and ``shared`` (n, q) of q draws in common; ``covariate`` (R,) as of a random slope."""

    names: pd.Index
    own: np.ndarray
    shared: sparse.csr_array
    labels: Any = None
    covariate: np.ndarray | None = None

    def seen(self, labels: Any, covariate: np.ndarray | None = None) -> Kin:
        """For records of these labels."""
        return replace(self, labels=labels, covariate=covariate)

    def of(self, levels: Any) -> Kin:
        """For these levels, in their order; one without a name among the relatives stands alone."""
        at = self.names.get_indexer(pd.Index(levels))
        known = np.flatnonzero(at >= 0)
        pick = sparse.csr_array((np.ones(len(known)), (known, at[known])), shape=(len(at), len(self.names)))
        own = np.where(at >= 0, self.own[np.maximum(at, 0)], 1.0)
        shared = _narrow(sparse.csr_array(pick @ self.shared))
        return Kin(pd.Index(levels), *_lone(own, shared), self.labels, self.covariate)

    def nearer(self, records: np.ndarray, most: float) -> Kin:
        """As exact as the memory allows: the pairs of shared draws in a record, over all ``records`` (n,) of each level, are at most ``most``.

        What the least of them added to a level's variance, from its most distant ancestors, counts as its own from then on.
        """
        shared = self.shared.copy()
        for least in 2.0 ** -np.arange(8, 0, -1):
            if records @ np.square(np.diff(shared.indptr)) <= 2 * most:
                break
            shared.data[np.abs(shared.data) < least] = 0
            shared.eliminate_zeros()
        lost = np.asarray((self.shared.power(2) - shared.power(2)).sum(axis=1)).ravel()
        return replace(
            self, own=np.sqrt(np.square(self.own) + np.where(lost > _TRIFLE, lost, 0.0)), shared=shared
        )

    @cached_property
    def drawn(self) -> np.ndarray:
        """The levels with a draw of their own."""
        return np.flatnonzero(self.own > 0)

    @property
    def width(self) -> int:
        return len(self.drawn) + self.shared.shape[1]

    @cached_property
    def loading(self) -> sparse.csr_array:
        """L (n, width), those of their own first."""
        own = sparse.csr_array(
            (self.own[self.drawn], (self.drawn, np.arange(len(self.drawn)))),
            shape=(len(self.own), len(self.drawn)),
        )
        return sparse.csr_array(sparse.hstack([own, self.shared], format="csr"))

    @cached_property
    def diagonal(self) -> np.ndarray:
        """(n,) variances, 1 of whoever is not inbred."""
        return np.asarray(self.loading.power(2).sum(axis=1)).ravel()

    @property
    def relationship(self) -> np.ndarray:
        """A (n, n)."""
        return (self.loading @ self.loading.T).toarray()


def kin(parents: Mapping[Any, Sequence[Hashable]], wanted: Sequence[Hashable] | None = None) -> Kin:
    """Who is related to whom, from the known parents (none, one or two) of each.

    ``wanted`` are the levels, in order; all that are named without. ValueError when somebody is among its own ancestors.
    """
    order = in_order(parents)
    place = {name: number for number, name in enumerate(order)}
    of = [[place[parent] for parent in parents.get(name, ())] for name in order]
    names = list(wanted if wanted is not None else order)
    older = np.zeros(len(order), dtype=bool)
    for mine in of:
        older[mine] = True
    A, L, rank = _of_parents(of, older)

    def of_parents(mine: list[int]) -> tuple[np.ndarray, float]:
        row = sum((0.5 * L[rank[parent]] for parent in mine), np.zeros(L.shape[1]))
        return row, float(np.sqrt(1 - sum(0.25 * A[rank[parent], rank[parent]] for parent in mine)))

    own, shared = np.zeros(len(names)), np.zeros((len(names), L.shape[1]))
    for number, name in enumerate(names):
        at = place.get(name)
        if at is not None and older[at]:
            shared[number] = L[rank[at]]
        else:
            shared[number], own[number] = of_parents(of[at] if at is not None else [])
    return Kin(pd.Index(names), *_lone(own, sparse.csr_array(shared)))


def in_order(parents: Mapping[Any, Sequence[Hashable]]) -> list[Hashable]:
    """Everyone named, parents before their offspring; ValueError when somebody is among its own ancestors."""
    order: list[Hashable] = []
    state: dict[Hashable, bool] = {}  # True once placed
    for name in parents:
        stack = [name]
        while stack:
            one = stack[-1]
            if state.get(one):
                stack.pop()
                continue
            state[one] = False
            waiting = [parent for parent in parents.get(one, ()) if not state.get(parent)]
            if any(state.get(parent) is False for parent in waiting):
                raise ValueError(f"{one} is among its own ancestors.")
            if waiting:
                stack.append(waiting[0])
            else:
                order.append(stack.pop())
                state[one] = True
    return order


def _of_parents(of: list[list[int]], older: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """A and its root L among those who are parents, and the rank of each among them."""
    among = np.flatnonzero(older)
    rank = np.full(len(older), -1)
    rank[among] = np.arange(len(among))
    A, L = np.zeros((len(among), len(among))), np.zeros((len(among), len(among)))
    for number, one in enumerate(among):
        mine = [rank[parent] for parent in of[one]]
        for parent in mine:
            A[number, :number] += 0.5 * A[parent, :number]
            L[number] += 0.5 * L[parent]
        A[:number, number] = A[number, :number]
        A[number, number] = 1 + (0.5 * A[mine[0], mine[1]] if len(mine) == 2 else 0.0)
        L[number, number] = np.sqrt(1 - sum(0.25 * A[parent, parent] for parent in mine))
    return A, L, rank


def _lone(own: np.ndarray, shared: sparse.csr_array) -> tuple[np.ndarray, sparse.csr_array]:
    """Draws that only one level has are its own, as of parents with no other offspring; the others stay shared."""
    several = shared.astype(bool).sum(axis=0) > 1
    added = np.asarray(shared[:, np.flatnonzero(~several)].power(2).sum(axis=1)).ravel()
    return np.sqrt(np.square(own) + added), sparse.csr_array(shared[:, np.flatnonzero(several)])


def _narrow(shared: sparse.csr_array) -> sparse.csr_array:
    """The same products of its rows from fewest columns: families whose parents have no other offspring need one draw, not two."""
    dense = shared.toarray()
    dense = dense[:, np.abs(dense).max(axis=0, initial=0.0) > _TRIFLE]
    rows, back = np.unique(dense.round(12), axis=0, return_inverse=True)
    if len(rows) < dense.shape[1]:
        rows = np.atleast_2d(linalg.qr(rows.T, mode="r")[0][: len(rows)].T)
        dense = rows[back.ravel()]
        dense = dense[:, np.abs(dense).max(axis=0, initial=0.0) > _TRIFLE]
    return sparse.csr_array(np.where(np.abs(dense) > _TRIFLE, dense, 0.0))
