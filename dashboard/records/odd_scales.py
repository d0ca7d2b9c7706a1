"""Ratings of some days or of one person that never leave the lower part of a scale that the others use to its end: 1 to 5 among 1 to 9.

A part is told where chance would hardly keep it there. A cultivar that others rated as well is expected to pass the end as often as there; one
that nobody else rated, as often as all others do, and however often it was rated it counts little. All limits are judgement.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.records.declaration import Scale
from dashboard.records.findings import Findings
from dashboard.records.problems import quoted
from dashboard.records.schema import RATINGS
from dashboard.records.seasons import season_and_day, southern

ENDS = (3.0, 5.0, 10.0)  # of scales that are often used
_PARTS = (0.1, 0.5)  # of the scale of the trial, onto which such a scale may have been brought
FEWEST = 10  # ratings of a part, and of the others
CHANCE = 1e-4  # that a part stays below by chance, as ratings of one cultivar are alike
_SAME = 1e-6  # what was brought onto another scale comes back with an error so small
_ALONE = 2  # ratings that a cultivar counts for at most where nobody else rated it
_FIRM = 2  # ratings that the share of all others counts for beside those of a cultivar
ADVICE = "look whether they were rated on a shorter scale; if so, write them on the one declared"


@dataclass(frozen=True, eq=False)
class Below:
    """``part`` (n,) bool of the ratings, ``end`` what its ``count`` never pass; ``share`` of the others do, up to ``top``."""

    part: np.ndarray
    end: float
    count: int
    share: float
    top: float

    @property
    def rule(self) -> str:
        return f"never pass {self.end:g}; of the others {100 * self.share:.0f} % do, up to {self.top:g}"


def below(
    ratings: np.ndarray,
    cultivar: np.ndarray,
    part: np.ndarray,
    ends: Sequence[float] = ENDS,
    chance: float = CHANCE,
) -> Below | None:
    """What the ratings of a ``part`` (n, bool), as they are written, never pass though the others do; None where that may be chance."""
    ours, others = ratings[part], ratings[~part]
    if min(len(ours), len(others)) < FEWEST:
        return None
    end = next((one for one in ends if ours.max() <= one + _SAME < others.max()), None)
    if end is None:
        return None
    above = others > end + _SAME
    passes = pd.Series(above).groupby(cultivar[~part]).agg(["sum", "size"])
    every = float(above.mean())
    own = pd.Series(cultivar[part]).value_counts()
    rated = passes.reindex(own.index).fillna(0)
    expected = (rated["sum"] + _FIRM * every) / (rated["size"] + _FIRM)
    counted = own.where((rated["size"] > 0).to_numpy(), own.clip(upper=_ALONE))
    by_chance = float((counted * np.log1p(-np.minimum(expected, 0.99))).sum())
    return Below(part, end, len(ours), every, float(others.max())) if by_chance < np.log(chance) else None


def suspect_scales(
    samples: pd.DataFrame, sites: pd.DataFrame, scales: Mapping[str, Scale], findings: Findings
) -> None:
    """Flag the longest stretch of days of each season and site whose ratings never pass such an end, where the others do."""
    season, _ = season_and_day(samples["date"], southern(sites, samples["site"]))
    order = np.lexsort((samples["date"].to_numpy(), season, samples["site"].to_numpy(dtype=str)))
    ordered = samples.iloc[order].assign(season=np.asarray(season)[order])
    for name in RATINGS:
        scale = scales[name]
        rated = ordered[ordered[name].notna().to_numpy()]
        mapped = rated[name].to_numpy(dtype=float) / 10 * (scale.high - scale.low)
        written = scale.low + mapped if scale.best == scale.high else scale.high - mapped
        cultivar = rated["cultivar"].to_numpy(dtype=object)
        ends = sorted({*ENDS, *(scale.low + part * (scale.high - scale.low) for part in _PARTS)})
        group = rated.groupby(["site", "season"], sort=True).ngroup().to_numpy()
        for number in range(group.max(initial=-1) + 1):
            rows = np.flatnonzero(group == number)
            every = (
                below(written, cultivar, part, ends)
                for part in _stretches(written, rows, rated["date"].to_numpy(), ends)
            )
            found = next((one for one in every if one), None)
            if found is None:
                continue
            there = rated[found.part]
            days = f"{there['date'].iloc[0]:%Y-%m-%d} to {there['date'].iloc[-1]:%Y-%m-%d}"
            rule = f"ratings of {quoted(str(there['site'].iloc[0]))} from {days} {found.rule}"
            findings.flag(int(there.index[0]), name, f"{found.count:,}", rule, ADVICE)


def _stretches(
    written: np.ndarray, rows: np.ndarray, days: np.ndarray, ends: Sequence[float]
) -> list[np.ndarray]:
    """By end the longest stretch of whole days, in order, on which no rating passes it; as (n,) bool."""
    found = []
    day = np.unique(days[rows], return_inverse=True)[1]
    highest, count = np.full(day.max() + 1, -np.inf), np.bincount(day)
    np.maximum.at(highest, day, written[rows])
    for end in ends:
        above = highest > end + _SAME
        run = np.cumsum(above)  # days between two that pass it have the same number
        length = np.bincount(run, np.where(above, 0, count))
        part = np.zeros(len(written), dtype=bool)
        part[rows[((run == length.argmax()) & ~above)[day]]] = True
        found.append(part)
    return found
