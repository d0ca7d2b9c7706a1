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
    rows, of, end = len(records.y), dict[str, slice | np.ndarray](), 0
    inside, blocks, border = [_design(local, rows)], [_blocks(main, local)], [_design(crossing, rows)]

    def taken(count: int) -> slice:
        nonlocal end
        end += count
        return slice(end - count, end)

    for term in local:
        of[term.name] = taken(len(term.levels))
    own: dict[str, slice] = {}
    for term, kin in records.related:
        alone = 0
        if main is not None and nested(term, main):
            alone = len(kin.drawn)
            blocks.append(_blocks(main, [term])[kin.drawn])
        own[term.name] = taken(alone)
        whole = sparse.csr_array(sparse.diags_array(term.covariate) @ kin.loading[term.code])  # (R, draws)
        inside.append(whole[:, :alone])
        border.append(whole[:, alone:])
    for term in crossing:
        of[term.name] = taken(len(term.levels))
    for term, kin in records.related:
        begun = own[term.name]
        more = taken(kin.width - (begun.stop - begun.start))
        of[term.name] = np.r_[begun, more]
    beta = taken(records.X.shape[1])
    border.append(sparse.csr_array(records.X))
    return Columns(of, beta, _beside(inside), np.concatenate(blocks), _beside(border))


def _beside(designs: list[sparse.csr_array]) -> sparse.csr_array:
    return designs[0] if len(designs) == 1 else sparse.csr_array(sparse.hstack(designs, format="csr"))


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
