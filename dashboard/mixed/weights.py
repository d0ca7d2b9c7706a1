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
    parts: list[tuple[np.ndarray, Any]] = []
    at = np.arange(model.width)
    index: pd.Index | None = None
    if fixed is not None:
        given = np.atleast_2d(np.asarray(fixed, dtype=float))
        if given.shape[1] != len(model.records.names):
            raise ValueError(
                f"The fixed weights have {given.shape[1]} columns; X has {len(model.records.names)}."
            )
        parts.append((at[model.beta], sparse.coo_array(given)))
    terms = {term.name: term for term in model.records.terms}
    for name, asked in effects.items():
        if name not in terms:
            raise ValueError(f"{name!r} is not a group of this model; they are {', '.join(terms)}.")
        block, labels = _one(terms[name], asked)
        index = labels if index is None else index
        if (kin := terms[name].kin) is not None:
            block = sparse.coo_array(sparse.csr_array(block) @ kin.loading)
        parts.append((at[model.columns[name]], block))
    k = max((block.shape[0] for _, block in parts), default=1)
    total: Any = sparse.csr_array((k, model.width))
    for columns, block in parts:
        if block.shape[0] not in (1, k):
            raise ValueError(f"Weights of {block.shape[0]} and of {k} sums were given together.")
        if block.shape[0] < k:  # the same in every sum
            block = sparse.coo_array(sparse.csr_array(block)[np.zeros(k, dtype=int)])
        row, column = block.coords
        total += sparse.csr_array(sparse.coo_array((block.data, (row, columns[column])), shape=total.shape))
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
