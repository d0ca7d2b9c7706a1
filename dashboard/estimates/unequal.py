"""How far cultivars of one time of ripening, and those at one site, vary beside the others: from season to season and sample to sample.

Late cultivars often vary more. With one spread for all, their values are told too surely and those of early ones not surely enough. The
squares of what is left of site-season means, once cultivar and site-season are taken out, are compared by thirds of the cultivars from
the earliest on. Where they differ by more than chance, each third has a factor of its own, drawn toward 1 by what chance adds to the
spread of its logarithm (2 / degrees of freedom; Bartlett & Kendall 1946, JRSS Suppl. 8: 128-138); what is left open of a third's factor
takes from the degrees of freedom of its values. So have sites a factor. Ratings and shares have ends, and
vary by how near to them they are: they are left alone.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

import numpy as np
import pandas as pd
from scipy import stats

from dashboard.estimates.readings import Readings
from dashboard.terms.traits import trait_called

CLASSES = ("early", "middle", "late")
CHANCE = 0.05  # of a difference where there is none
LEAST = 1.15  # times the least of the three, below which intervals would change by a hundredth of their cover at most
FEWEST_DF = 12.0  # of a third, below which it cannot be told
_APART = 0.7  # site-seasons of a cultivar that tell as much as one apart: those of one season go together
_SWEEPS, _ROUNDS = 20, 3


class Unequal(NamedTuple):
    rough: np.ndarray  # (cultivars,) spread over the usual one
    at: np.ndarray  # (sites,) the same, of all cultivars there
    sentence: str  # what was found; nothing where all vary alike
    doubt: np.ndarray  # (cultivars,) error variance of the log of ``rough`` squared


def unequal(read: Readings) -> Unequal:
    """How far each cultivar varies, and all of them at each site, 1 as usual; 1 throughout where the records do not tell it apart."""
    rough, at, said = np.ones(len(read.cultivars)), np.ones(len(read.sites)), []
    doubt = np.zeros(len(rough))
    if not trait_called(read.trait).on_fruit or not len(read):
        return Unequal(rough, at, "", doubt)
    cells, kind = _cells(read), _thirds(read)
    if kind is not None:
        found = _told(cells, kind[cells.owner], kind[read.cultivar], np.ones(len(cells.owner)))
        if found is not None:
            part = found.part
            rough, doubt = (
                np.where(kind >= 0, of[kind], none) for of, none in zip(found, (1.0, 0.0), strict=True)
            )
            named = _listed(zip(CLASSES, part, strict=True))
            said.append(f"by thirds of the cultivars in their order of ripening: {named}")
    usual = rough[cells.owner]
    enough = np.flatnonzero(_APART * np.bincount(cells.site, _left(cells, usual)[1]) >= FEWEST_DF)
    if len(enough) > 1:
        number = np.full(len(read.sites), -1)
        number[enough] = np.arange(len(enough))
        found = _told(cells, number[cells.site], number[read.site], usual)
        if found is not None:
            at[enough] = part = found.part
            said.append(f"by site: {_listed(zip(read.sites[enough], part, strict=True))}")
    told = " ".join(f"Spread beside the usual one, {one}." for one in said)
    return Unequal(rough, at, told, doubt)


def _listed(named: Iterable[tuple[object, float]]) -> str:
    return ", ".join(f"{name} {one:.2f}" for name, one in named)


class _Parts(NamedTuple):
    part: np.ndarray  # (kinds,) spread beside the usual one
    doubt: np.ndarray  # error variance of the log of its square


def _told(cells: _Cells, kind: np.ndarray, sampled: np.ndarray, base: np.ndarray) -> _Parts | None:
    """Spreads of kinds of cells beside the usual one, where that of each is ``base`` otherwise; None where they are as good as alike.
    ``sampled``: the kinds of the samples; -1 is no kind."""
    count = int(kind.max()) + 1
    samples, part = np.bincount(sampled + 1, minlength=count + 1)[1:], np.ones(count)
    for _ in range(_ROUNDS):
        rough = base * np.where(kind >= 0, part[kind], 1.0)
        left, free = _left(cells, rough)
        found = _by_kind(left / base, free, kind, samples)
        if found is None:
            return None
        part = found.part
    assert found is not None
    return None if part.max() < LEAST * part.min() else found


def _thirds(read: Readings) -> np.ndarray | None:
    """(cultivars,) 0 for the earliest third to 2 for the latest by the middle of its days of picking, -1 where it is not known."""
    day = pd.Series(read.day).groupby(read.cultivar).median().reindex(range(len(read.cultivars)))
    if day.notna().sum() < 3 * len(CLASSES):
        return None
    rank = day.rank(method="average").to_numpy()
    place = np.ceil(rank * len(CLASSES) / day.notna().sum()) - 1
    return np.where(np.isfinite(place), np.nan_to_num(place), -1).astype(int)


def _by_kind(left: np.ndarray, free: np.ndarray, kind: np.ndarray, samples: np.ndarray) -> _Parts | None:
    """Spreads of the kinds beside the usual one; None where too little is known of one, or they differ by no more than chance."""
    part = np.arange(len(samples))
    known = kind >= 0
    freedom, square = (np.bincount(kind[known], one[known], len(part)) for one in (free, np.square(left)))
    df = _APART * freedom
    if (df < FEWEST_DF).any() or not (square > 0).all():
        return None
    log, chance = np.log(square / freedom), 2 / df
    weight = 1 / chance
    usual = weight @ log / weight.sum()
    excess = float(weight @ np.square(log - usual))
    if excess < stats.chi2.isf(CHANCE, len(part) - 1):
        return None
    between = (excess - len(part) + 1) / (weight.sum() - np.square(weight).sum() / weight.sum())
    drawn = np.exp((log - usual) * between / (between + chance))
    return _Parts(np.sqrt(drawn / (samples @ drawn / samples.sum())), between * chance / (between + chance))


class _Cells(NamedTuple):
    """Site-season means of cultivars: whose, where, and how large."""

    owner: np.ndarray
    where: np.ndarray
    site: np.ndarray
    mean: np.ndarray


def _cells(read: Readings) -> _Cells:
    places = int(read.environment.max()) + 1
    cell, at = np.unique(read.cultivar * places + read.environment, return_inverse=True)
    owner, where = np.divmod(cell, places)
    site = np.zeros(places, dtype=np.int64)
    site[read.environment] = read.site
    return _Cells(owner, where, site[where], np.bincount(at, read.y) / np.bincount(at))


def _left(cells: _Cells, rough: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """What is left of each mean once cultivar and site-season are taken out, and its degrees of freedom; what varies much counts less."""
    owner, where, _, left = cells
    sure = 1 / np.square(rough)
    own, here = np.maximum(np.bincount(owner, sure), np.finfo(float).tiny), np.bincount(where, sure)
    for _ in range(_SWEEPS):
        left = left - (np.bincount(owner, sure * left) / own)[owner]
        left = left - (np.bincount(where, sure * left) / here)[where]
    return left, np.maximum((1 - sure / own[owner]) * (1 - sure / here[where]), 0.0)
