"""Ratings that may stand on another scale, in another row or in another column than they say.

All limits are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pandas as pd

from dashboard.records.declaration import Scale
from dashboard.records.findings import Findings
from dashboard.records.schema import RATINGS
from dashboard.records.seasons import season_and_day, southern

SOME, MANY = 20, 100  # ratings, from which on an end that is never used means something
UPPER = 6.0  # of 10: a scale of 1 to 5 taken for one of 0 to 10 stays under it
CLEARLY = 0.3  # by which another row or column agrees better, as a correlation
_ROWS = {1: "above", -1: "below"}
SURELY = 3.5  # standard errors of that difference


def suspect_ratings(
    samples: pd.DataFrame, sites: pd.DataFrame, scales: Mapping[str, Scale], findings: Findings
) -> None:
    """Flag scales whose ends are never used, and seasons in which a rating agrees with another row or rating instead."""
    for name in RATINGS:
        _ends(samples[name].dropna(), name, scales[name], findings)
    season, _ = season_and_day(samples["date"], southern(sites, samples["site"]))
    cultivar, names = pd.factorize(samples["cultivar"])
    rated = {name: samples[name].to_numpy(dtype=float) for name in RATINGS}
    for name, ratings in rated.items():
        known = np.isfinite(ratings)
        if known.sum() < SOME:
            continue
        found = _in_every_season(ratings, cultivar)
        if found:
            _tell(int(samples.index[known][0]), name, f"agrees with {found} rather than its own", findings)
            continue
        for one in np.unique(season):
            here = season == one
            found = (
                _in_one_season(name, rated, cultivar, here, len(names))
                if (known & here).sum() >= SOME
                else ""
            )
            if found:
                row = int(samples.index[known & here][0])
                _tell(row, name, f"in {one} agrees with {found} rather than its own", findings)


def _ends(ratings: pd.Series, name: str, scale: Scale, findings: Findings) -> None:
    if ratings.empty:
        return
    low, high = float(ratings.min()), float(ratings.max())
    inside = len(ratings) >= MANY and low > 0 and high < 10
    one_half = len(ratings) >= SOME and (high <= UPPER if scale.best == scale.high else low >= 10 - UPPER)
    if inside or one_half:
        ends = sorted(
            scale.low + (one if scale.best == scale.high else 10 - one) * (scale.high - scale.low) / 10
            for one in (low, high)
        )
        findings.flag(
            None, name, f"{ends[0]:g} to {ends[1]:g}", f"is all that is used of the scale, {scale.low:g} to {scale.high:g}, in {len(ratings):,} ratings",
            "declare the scale that was used, if it was another",
        )  # fmt: skip


def _in_every_season(ratings: np.ndarray, cultivar: np.ndarray) -> str:
    """What cultivars explain better than the ratings of their own rows, in the whole column; "" where nothing."""
    own = _explained(ratings, cultivar)
    for step, where in _ROWS.items():
        moved = _explained(_shifted(ratings, -step), cultivar)
        if moved - own > max(CLEARLY, SURELY * np.sqrt(2 / np.isfinite(ratings).sum())):
            return f"the cultivars of the row {where}"
    return ""


def _explained(ratings: np.ndarray, cultivar: np.ndarray) -> float:
    """The share of the variance that lies between cultivars, corrected for their number."""
    known = np.isfinite(ratings)
    values, owner = ratings[known], np.unique(cultivar[known], return_inverse=True)[1]
    rest = len(values) - owner.max(initial=-1) - 1
    if rest < SOME // 2 or np.ptp(values) == 0:
        return 0.0
    middle = np.bincount(owner, values) / np.bincount(owner)
    return float(1 - np.square(values - middle[owner]).sum() / rest / values.var(ddof=1))


def _in_one_season(
    name: str, rated: Mapping[str, np.ndarray], cultivar: np.ndarray, here: np.ndarray, count: int
) -> str:
    """What the ratings of a season agree with better than with those of their cultivars elsewhere; "" where nothing."""
    usual = {}
    for rating, values in rated.items():
        known = np.isfinite(values) & ~here
        seen = np.bincount(cultivar[known], minlength=count)
        sums = np.bincount(cultivar[known], values[known], minlength=count)
        usual[rating] = np.where(seen > 0, sums / np.maximum(seen, 1), np.nan)[cultivar[here]]
    others = {
        f"the cultivars of the row {where}": _shifted(usual[name], step) for step, where in _ROWS.items()
    }
    others |= {f"the column {rating}": values for rating, values in usual.items() if rating != name}
    own, counted = _agreement(rated[name][here], usual[name])
    for what, expected in others.items():
        found, known_there = _agreement(rated[name][here], expected)
        least = min(counted, known_there)
        if least < SOME or found - own < CLEARLY:
            continue
        surely = SURELY * np.sqrt(2 / (least - 3))
        if np.arctanh(min(found, 0.999)) - np.arctanh(np.clip(own, -0.999, 0.999)) > surely:
            return what
    return ""


def _agreement(ratings: np.ndarray, expected: np.ndarray) -> tuple[float, int]:
    """The correlation of the two, and of how many ratings."""
    both = np.isfinite(ratings) & np.isfinite(expected)
    a, b = ratings[both], expected[both]
    if len(a) < SOME or np.ptp(a) == 0 or np.ptp(b) == 0:
        return 0.0, len(a)
    return float(np.corrcoef(a, b)[0, 1]), len(a)


def _shifted(values: np.ndarray, step: int) -> np.ndarray:
    """Each row with the value of the row above it (step 1) or below it (step -1)."""
    moved = np.roll(values, step)
    moved[0 if step > 0 else -1] = np.nan
    return moved


def _tell(row: int, name: str, rule: str, findings: Findings) -> None:
    findings.flag(row, name, "", rule, "look whether the column slipped by one when it was pasted")
