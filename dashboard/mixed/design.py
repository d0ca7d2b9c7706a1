"""What was asked of a mixed model, checked and coded: records, grouping factors, fixed columns.

The model of the records r = 1 … R (Bates, Mächler, Bolker & Walker 2015, J. Stat. Software 67(1), eq. 2-3)

    y = X b + sum_t Z_t u_t + e,      u_t ~ N(0, sigma2_t I),      e_r ~ N(0, sigma2)

or, when a record is the mean of n_r fruit (a sample), with e_r ~ N(0, sigma2_sample + sigma2 / n_r). Each Z_t has one
entry a row: 1, or the covariate of a random slope. The effects of relatives are u_t = L v with v ~ N(0, sigma2_t I), L L' their
relationship (``kin``).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
from scipy import linalg

from dashboard.mixed.kin import Kin

Groups = Mapping[
    str, Any
]  # name -> labels (R,), or (labels, covariate) for a random slope, or relatives (``kin``)

RESIDUAL, SAMPLE = "residual", "sample"


@dataclass(frozen=True, eq=False)
class Term:
    """One grouping factor: ``code`` (R,) numbers each record's level, ``covariate`` (R,) is Z's entry there."""

    name: str
    levels: pd.Index
    code: np.ndarray
    covariate: np.ndarray
    fixed: bool  # its effects are unknown constants, not draws: no variance, no shrinkage
    kin: Kin | None = None  # how the effects of its levels go together; apart where there is none

    @property
    def plain(self) -> bool:
        return self.kin is None and bool((self.covariate == 1).all())

    @property
    def draws(self) -> int:
        """How many independent draws its effects are made of."""
        return len(self.levels) if self.kin is None else self.kin.width

    @property
    def mean_square(self) -> float:
        """What a unit of its variance adds to that of a record, on average."""
        square = np.square(self.covariate)
        return float((square if self.kin is None else square * self.kin.diagonal[self.code]).mean())


@dataclass(frozen=True, eq=False)
class Records:
    """Checked input. ``n`` is all ones and ``sampled`` False when the records are single observations."""

    y: np.ndarray  # (R,)
    X: np.ndarray  # (R, p)
    names: pd.Index  # of the p columns of X
    terms: tuple[Term, ...]
    n: np.ndarray  # (R,)
    sampled: bool
    within_ss: float  # sum over records and their fruit of (fruit - record mean)^2

    @property
    def related(self) -> list[tuple[Term, Kin]]:
        """The terms of relatives."""
        return [(term, term.kin) for term in self.terms if term.kin is not None]

    @property
    def total(self) -> float:
        """N, the number of fruit (or of records when there are no fruit)."""
        return float(self.n.sum())


def checked(
    y: Any, X: Any, groups: Groups, *, n: Any = None, within_ss: float = 0.0, fixed: Iterable[str] = ()
) -> Records:
    """The records of a model that can be fitted; otherwise ValueError with one sentence that says why not."""
    response = _numbers(y, "y")
    count = len(response)
    if count < 2:
        raise ValueError(f"A mixed model needs at least two records; y has {count}.")
    if np.ptp(response) == 0 and not within_ss > 0:
        raise ValueError("Every value of y is the same, so there is no variation to share out.")
    matrix, names = _columns(X, count)
    held_constant = {fixed} if isinstance(fixed, str) else set(fixed)
    if unknown := sorted(held_constant - set(groups)):
        raise ValueError(f"{unknown[0]!r} is declared fixed but is not among the groups.")
    if reserved := {RESIDUAL, SAMPLE} & set(groups) if n is not None else {RESIDUAL} & set(groups):
        raise ValueError(f"{reserved.pop()!r} names a variance of its own and cannot name a group.")
    terms = tuple(_term(name, value, count, name in held_constant) for name, value in groups.items())
    fruit = np.ones(count) if n is None else _numbers(n, "n", count)
    _check_columns(matrix, names)
    _check_terms(terms, "sample" if n is not None else "residual")
    _check_fruit(fruit, n is not None, float(within_ss))
    parameters = matrix.shape[1] + sum(len(term.levels) for term in terms if term.fixed)
    if fruit.sum() - parameters < 1:
        raise ValueError(
            f"{parameters} fixed effects leave nothing of {int(fruit.sum())} observations to judge by."
        )
    return Records(response, matrix, names, terms, fruit, n is not None, float(within_ss))


def _numbers(values: Any, what: str, count: int | None = None) -> np.ndarray:
    try:
        numbers = np.asarray(values, dtype=float)
    except (TypeError, ValueError) as fault:
        raise ValueError(f"{what} must be numbers: {fault}.") from None
    if what != "X" and numbers.ndim != 1:
        raise ValueError(f"{what} must be one number a record, not an array of shape {numbers.shape}.")
    if count is not None and (numbers.ndim == 0 or len(numbers) != count):
        raise ValueError(f"{what} has {len(np.atleast_1d(numbers))} rows but y has {count}.")
    if len(bad := np.argwhere(~np.isfinite(numbers))):
        raise ValueError(f"{what} is missing or infinite at record {bad[0][0]} (counting from 0).")
    return numbers


def _columns(X: Any, count: int) -> tuple[np.ndarray, pd.Index]:
    """X as numbers (R, p) and the names of its columns: those of a frame, otherwise x0, x1, …"""
    matrix = _numbers(X, "X", count)
    matrix = matrix[:, None] if matrix.ndim == 1 else matrix
    if matrix.ndim != 2:
        raise ValueError(
            f"X must have one row a record and one column a fixed effect, not shape {matrix.shape}."
        )
    return matrix, X.columns if isinstance(X, pd.DataFrame) else pd.Index(
        [f"x{j}" for j in range(matrix.shape[1])]
    )


def _term(name: str, value: Any, count: int, fixed: bool) -> Term:
    kin = None
    if isinstance(value, Kin):
        if fixed:
            raise ValueError(f"{name!r} goes by relationship, so it cannot be fixed.")
        value, kin = (value.labels, value.covariate), value
    labels, covariate = value if isinstance(value, tuple) and len(value) == 2 else (value, None)
    labels = pd.Series(np.asarray(labels) if not isinstance(labels, pd.Series) else labels.array)
    if len(labels) != count:
        raise ValueError(f"Group {name!r} has {len(labels)} labels but y has {count} records.")
    code, levels = pd.factorize(labels, sort=True)
    if (code < 0).any():
        raise ValueError(
            f"Group {name!r} has no label at record {int(np.argmax(code < 0))} (counting from 0)."
        )
    if len(levels) < 2:
        raise ValueError(f"Group {name!r} has one level only, so nothing can be said of its spread.")
    slope = np.ones(count) if covariate is None else _numbers(covariate, f"The covariate of {name!r}", count)
    if not slope.any():
        raise ValueError(f"The covariate of {name!r} is zero in every record.")
    if kin is not None:
        kin = kin.of(levels)
    return Term(str(name), pd.Index(levels, name=name), code.astype(np.int64), slope, fixed, kin)


def _check_columns(X: np.ndarray, names: pd.Index) -> None:
    """Every column of X must add something (pivoted QR of the columns scaled to length 1)."""
    if not X.shape[1]:
        return
    length = np.linalg.norm(X, axis=0)
    if not length.all():
        raise ValueError(f"Column {names[int(np.argmin(length))]!r} of X is zero throughout; leave it out.")
    _, triangle, order = linalg.qr(X / length, mode="economic", pivoting=True)
    pivots = np.abs(np.diag(triangle))
    rank = int((pivots > 1e-9 * pivots[0]).sum())
    if rank < X.shape[1]:
        surplus = ", ".join(repr(names[j]) for j in sorted(order[rank:]))
        raise ValueError(f"X has {X.shape[1]} columns of rank {rank}; leave out {surplus} (or their equal).")


def _check_terms(terms: tuple[Term, ...], error: str) -> None:
    """No grouping may repeat another one, or the records themselves: their variances cannot be told apart."""
    for index, term in enumerate(terms):
        if term.plain and len(term.levels) == len(term.code) and not term.fixed:
            raise ValueError(
                f"Group {term.name!r} has one record a level, so it cannot be told from the {error} variance."
            )
        for other in terms[:index]:
            if term.plain and other.plain and nested(term, other) and nested(other, term):
                raise ValueError(
                    f"Groups {other.name!r} and {term.name!r} split the records alike and cannot be told apart."
                )


def _check_fruit(n: np.ndarray, sampled: bool, within_ss: float) -> None:
    if not (np.isfinite(within_ss) and within_ss >= 0):
        raise ValueError(f"within_ss is a sum of squares and cannot be {within_ss}.")
    if not sampled:
        if within_ss:
            raise ValueError("within_ss needs n, the number of fruit behind each record.")
        return
    if (n < 1).any():
        raise ValueError(
            f"n counts fruit and must be at least 1; record {int(np.argmax(n < 1))} has {n.min()}."
        )
    if (n == 1).all():
        raise ValueError(
            "Every record has one fruit, so sample and residual cannot be told apart; leave n out."
        )
    if within_ss == 0:
        raise ValueError(
            "within_ss is 0 although some records have several fruit: no variation within samples."
        )


def nested(inner: Term, outer: Term) -> bool:
    """True when every level of ``inner`` lies within one level of ``outer``."""
    within = np.empty(len(inner.levels), dtype=np.int64)
    within[inner.code] = outer.code
    return bool((within[inner.code] == outer.code).all())


def main_term(terms: tuple[Term, ...]) -> tuple[Term | None, list[Term], list[Term]]:
    """(main, local, crossing): the factor to eliminate block by block, the terms nested in it, and the others; relatives in neither.

    The main factor is the one that leaves the smallest border, that is the fewest levels in crossing terms;
    among equals the one with most levels, whose blocks are smallest. None when there are no terms.
    """
    best: tuple[Term | None, list[Term], list[Term]] = (None, [], [])
    best_size = (np.inf, 0.0)
    apart = [term for term in terms if term.kin is None]
    for main in apart:
        local = [term for term in apart if nested(term, main)]
        crossing = [term for term in apart if not any(term is one for one in local)]
        size = (sum(len(term.levels) for term in crossing), -len(main.levels))
        if size < best_size:
            best, best_size = (main, local, crossing), size
    return best
