"""Sums of fixed effects and effects, written as weights on a model's columns."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
import pandas as pd
from scipy import sparse

from dashboard.mixed.criterion import Model
from dashboard.mixed.design import Term


def weights_of(model: Model, fixed: Any, effects: Mapping[str, Any]) -> tuple[sparse.csr_array, pd.Index]:
    """The weights (k, columns of the model) of the k sums asked for, and what to call them; see ``Fit.predict``.

    ValueError when a group, a label or a shape does not fit the model or the others.
    """
    parts: list[tuple[int, Any]] = []
    index: pd.Index | None = None
    if fixed is not None:
        given = np.atleast_2d(np.asarray(fixed, dtype=float))
        if given.shape[1] != len(model.records.names):
            raise ValueError(
                f"The fixed weights have {given.shape[1]} columns; X has {len(model.records.names)}."
            )
        parts.append((model.beta.start, sparse.coo_array(given)))
    terms = {term.name: term for term in model.records.terms}
    for name, asked in effects.items():
        if name not in terms:
            raise ValueError(f"{name!r} is not a group of this model; they are {', '.join(terms)}.")
        block, labels = _one(terms[name], asked)
        index = labels if index is None else index
        kin = terms[name].kin
        runs = model.runs(name)
        if kin is not None:
            block = sparse.csr_array(sparse.csr_array(block) @ kin.loading)
        cut = runs[0].stop - runs[0].start
        for run, part in zip(
            runs, (block,) if kin is None else (block[:, :cut], block[:, cut:]), strict=True
        ):
            parts.append((run.start, part))
    k = max((block.shape[0] for _, block in parts), default=1)
    side_by_side, end = [], 0
    for start, block in sorted(parts, key=lambda part: part[0]):
        if block.shape[0] not in (1, k):
            raise ValueError(f"Weights of {block.shape[0]} and of {k} sums were given together.")
        given = sparse.csr_array(block)
        if block.shape[0] < k:  # the same in every sum
            several = np.arange(k + 1) * given.nnz
            given = sparse.csr_array(
                (np.tile(given.data, k), np.tile(given.indices, k), several), shape=(k, block.shape[1])
            )
        side_by_side += [sparse.csr_array((k, start - end)), given]
        end = start + block.shape[1]
    total = sparse.csr_array(
        sparse.hstack([*side_by_side, sparse.csr_array((k, model.width - end))], format="csr")
    )
    return total, pd.RangeIndex(k) if index is None else index


def _one(term: Term, asked: Any) -> tuple[sparse.coo_array, pd.Index | None]:
    """Weights (k, levels) on one term, or (1, levels) when the same in every sum; with the labels, if they name sums."""
    levels = term.levels
    if sparse.issparse(asked) or (isinstance(asked, np.ndarray) and asked.ndim == 2):
        given: Any = sparse.coo_array(asked)  # type: ignore[arg-type]
        if given.shape[1] != len(levels):
            raise ValueError(
                f"The weights of {term.name!r} have {given.shape[1]} columns for {len(levels)} levels."
            )
        return given, None
    labels = asked.index if isinstance(asked, pd.Series) else pd.Index(asked)
    at = levels.get_indexer(labels)
    if (lost := (at < 0) & labels.notna()).any():
        raise ValueError(f"{labels[lost][0]} is not a level of {term.name!r} in the records.")
    seen = np.flatnonzero(at >= 0)
    if isinstance(asked, pd.Series):
        entries = (asked.to_numpy(float)[seen], (np.zeros(len(seen), dtype=int), at[seen]))
        return sparse.coo_array(entries, shape=(1, len(levels))), None
    entries = (np.ones(len(seen)), (seen, at[seen]))
    return sparse.coo_array(entries, shape=(len(labels), len(levels))), labels
