"""Where each term's columns lie in the equations of a model: in the blocks of its main factor, or in the border.

What relatives have in common crosses the blocks of whoever has it and goes to the border; what is one level's own stays in its block.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from scipy import sparse

from dashboard.mixed.design import Records, Term, main_term, nested


class Columns(NamedTuple):
    """``of`` each term by name, ``beta`` of the fixed columns of X, and the designs (R, L) and (R, G) with the block of each local
    column (L,)."""

    of: dict[str, slice | np.ndarray]
    beta: slice
    local: sparse.csr_array
    block: np.ndarray
    border: sparse.csr_array


def laid_out(records: Records) -> Columns:
    """The columns of checked records, the local ones first."""
    main, local, crossing = main_term(records.terms)
    crossing.sort(key=lambda term: term.fixed)
    relatives = [term for term in records.terms if term.kin is not None]
    inside = [term for term in relatives if main is not None and nested(term, main)]
    rows = len(records.y)
    own = [_own(term) for term in inside]
    shared = [_whole(term)[:, len(term.kin.drawn) :] if term in inside else _whole(term) for term in relatives]
    of: dict[str, slice | np.ndarray] = {}
    end = 0

    def place(terms: list[Term]) -> None:
        nonlocal end
        for term in terms:
            of[term.name] = slice(end, end + len(term.levels))
            end += len(term.levels)

    place(local)
    begin = {}
    for term, columns in zip(inside, own, strict=True):
        begin[term.name] = np.arange(end, end + columns.shape[1])
        end += columns.shape[1]
    place(crossing)
    for term, columns in zip(relatives, shared, strict=True):
        of[term.name] = np.r_[begin.get(term.name, np.empty(0, np.int64)), end : end + columns.shape[1]]
        end += columns.shape[1]
    beta = slice(end, end + records.X.shape[1])
    border = sparse.hstack([_design(crossing, rows), *shared, sparse.csr_array(records.X)], format="csr")
    return Columns(
        of,
        beta,
        sparse.csr_array(sparse.hstack([_design(local, rows), *own], format="csr")) if own else _design(local, rows),
        np.concatenate([_blocks(main, local), *(_block_of_own(term, main) for term in inside)]),
        sparse.csr_array(border),
    )


def _design(terms: list[Term], rows: int) -> sparse.csr_array:
    """The terms' indicator (or covariate) columns side by side, (R, levels), one stored entry a term and row."""
    if not terms:
        return sparse.csr_array((rows, 0))
    starts = np.cumsum([0, *(len(term.levels) for term in terms)])
    indices = np.stack([term.code + start for term, start in zip(terms, starts, strict=False)], axis=1)
    values = np.stack([term.covariate for term in terms], axis=1)
    pointers = np.arange(rows + 1) * len(terms)
    return sparse.csr_array((values.ravel(), indices.ravel(), pointers), shape=(rows, int(starts[-1])))


def _blocks(main: Term | None, local: list[Term]) -> np.ndarray:
    """The main factor's level within which each local column lies."""
    blocks = [np.empty(0, dtype=np.int64)]
    for term in local:
        block = np.empty(len(term.levels), dtype=np.int64)
        assert main is not None
        block[term.code] = main.code
        blocks.append(block)
    return np.concatenate(blocks)


def _whole(term: Term) -> sparse.csr_array:
    """(R, draws) of relatives."""
    assert term.kin is not None
    return sparse.csr_array(sparse.diags_array(term.covariate) @ term.kin.loading[term.code])


def _own(term: Term) -> sparse.csr_array:
    assert term.kin is not None
    return _whole(term)[:, : len(term.kin.drawn)]


def _block_of_own(term: Term, main: Term | None) -> np.ndarray:
    assert term.kin is not None
    return _blocks(main, [term])[term.kin.drawn]
