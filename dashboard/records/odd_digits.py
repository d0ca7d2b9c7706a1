"""Readings that were rounded more coarsely at one site in one season than elsewhere: a favorite last digit.

A gauge that reads in halves everywhere is no fault. Told is a season at a site in which most last digits are 0 or 5, where the others have
them as often as the eight others. Limits without a source are judgement.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

from dashboard.records.findings import Findings
from dashboard.records.problems import quoted
from dashboard.records.seasons import season_and_day, southern
from dashboard.terms.units import MM_PER_INCH, N_PER_KGF, N_PER_LBF

ENOUGH = 80  # readings of a season at a site, and of the others
MOST, ELSEWHERE = 0.6, 0.35  # shares of 0 and 5, that is rounded, and that is not; by chance one in five
_SAME = 1e-6
_UNITS = {
    "suture_mm": {"mm": 1.0, "in": MM_PER_INCH}, "cross_mm": {"mm": 1.0, "in": MM_PER_INCH},
    "firmness_1_n": {"n": 1.0, "lbf": N_PER_LBF, "kgf": N_PER_KGF}, "firmness_2_n": {"n": 1.0, "lbf": N_PER_LBF, "kgf": N_PER_KGF},
    "ssc_brix": {"brix": 1.0},
}  # fmt: skip


def suspect_digits(
    fruit: pd.DataFrame, samples: pd.DataFrame, sites: pd.DataFrame, findings: Findings
) -> None:
    """Flag seasons at a site whose readings of a column end in 0 or 5 far more often than those of the others."""
    season, _ = season_and_day(samples["date"], southern(sites, samples["site"]))
    group = pd.MultiIndex.from_arrays([samples["site"], season])
    owner = pd.Series(pd.factorize(group)[0], index=samples["sample"])
    names = list(dict.fromkeys(group))
    of_fruit = fruit["sample"].map(owner[~owner.index.duplicated()]).to_numpy(dtype=float)
    for column, units in _UNITS.items():
        there = np.isfinite(fruit[column].to_numpy()) & np.isfinite(of_fruit)
        digits = _last_digits(fruit[column].to_numpy()[there], units)
        if digits is None:
            continue
        rounded, at = np.isin(digits, (0, 5)), of_fruit[there].astype(int)
        counts, sums = np.bincount(at, minlength=len(names)), np.bincount(at, rounded, minlength=len(names))
        rest, rest_sums = counts.sum() - counts, sums.sum() - sums
        with np.errstate(invalid="ignore", divide="ignore"):
            here, others = sums / counts, rest_sums / rest
        for one in np.flatnonzero(
            (counts >= ENOUGH) & (rest >= ENOUGH) & (here >= MOST) & (others <= ELSEWHERE)
        ):
            site, year = names[one]
            row = int(fruit.index[there][at == one][0])
            findings.flag(
                row, column, f"{100 * here[one]:.0f} %", f"of {counts[one]:,} readings of {quoted(str(site))} in {year} end in 0 or 5, elsewhere {100 * others[one]:.0f} %",
                "look whether they were rounded as they were read",
            )  # fmt: skip


def _last_digits(values: np.ndarray, units: dict[str, float]) -> np.ndarray | None:
    """The last digit of each as it was written: in the unit and with the decimals that nearly all of them fit; None where none does."""
    if len(values) < 2 * ENOUGH:
        return None
    for decimals in range(4):
        for unit in units.values():
            written = values / unit * 10**decimals
            if (np.abs(written - np.round(written)) < _SAME * 10**decimals).mean() >= 0.98:
                return np.round(written).astype(np.int64) % 10
    return None
