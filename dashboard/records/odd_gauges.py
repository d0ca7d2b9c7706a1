"""Samples read with another gauge in turns with the rest: newtons under one heading with pounds-force or kilograms-force.

A season at a site whose middle is off is told as such, and so are days on end. Where every second sample is off no middle and no stretch is.
Then samples of one cultivar lie in two heaps, as far apart as the units, with hardly any between: ripeness alone spreads them evenly. Kilograms
and pounds are too near each other for that. Limits are judgement, tried on the invented trial.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

from dashboard.records.findings import Findings
from dashboard.records.odd_firmness import firm_samples
from dashboard.records.problems import listed, quoted
from dashboard.terms.units import N_PER_KGF, N_PER_LBF

_APART = {"pounds-force": float(np.log(N_PER_LBF)), "kilograms-force": float(np.log(N_PER_KGF))}
FEWEST = 6  # samples of a heap
_FIRM = 0.8  # of samples, counted from the softest: one of those that were read as the heading says
_BETWEEN = 0.3, 0.7  # parts of the way from one heap to the other
_RATIO = 2.0  # samples of the smaller heap for one that lies between
_MOST_TOLD = 3  # seasons at sites, and samples, that are named


def suspect_gauges(
    fruit: pd.DataFrame, samples: pd.DataFrame, sites: pd.DataFrame, findings: Findings
) -> None:
    """Flag, once, samples about 4.4 or 9.8 times as soft as others of their cultivars, picked among them and with few between."""
    known = firm_samples(fruit, samples, sites)
    if len(known) < 2 * FEWEST:
        return
    known = known.assign(under=_under(known))
    found = {unit: _in_turns(known, apart) for unit, apart in _APART.items()}
    unit = max(found, key=lambda one: len(found[one]))
    if len(found[unit]):
        _tell(unit, found[unit], fruit, findings)


def _under(known: pd.DataFrame) -> np.ndarray:
    """(n,) how far the log firmness of each sample lies under a firm one of its cultivar; what first and later picks do to all is taken out."""
    nth = known.groupby(["cultivar", "site", "season"])["date"].rank("dense")
    logs = known["firmness"] - known.groupby(nth)["firmness"].transform(_firm)
    under = logs.groupby(known["cultivar"]).transform(_firm) - logs
    return (under - under[(under < min(_APART.values()) / 2).to_numpy()].median()).to_numpy()


def _firm(logs: pd.Series) -> float:
    return float(logs.quantile(_FIRM, interpolation="higher"))


def _in_turns(known: pd.DataFrame, apart: float) -> pd.DataFrame:
    """The samples of the softer heaps, season by season at a site; of the whole trial where there are enough only together."""
    found = [_softer(there, apart) for _, there in known.groupby(["site", "season"])]
    return pd.concat(found) if any(map(len, found)) else _softer(known, apart)


def _softer(some: pd.DataFrame, apart: float) -> pd.DataFrame:
    """Those of the softer heap; none where there are not two."""
    least, most = (part * apart for part in _BETWEEN)
    under = some["under"]
    heap = (under >= most) & (under < apart + least)
    other, between = (under.abs() < least).sum(), ((under >= least) & (under < most)).sum()
    enough = FEWEST <= heap.sum() <= other * 2 and heap.sum() >= _RATIO * between
    return some[heap.to_numpy()] if enough else some[:0]


def _tell(unit: str, off: pd.DataFrame, fruit: pd.DataFrame, findings: Findings) -> None:
    row = int(fruit.index[fruit["sample"].isin(off["sample"]).to_numpy()][0])
    sizes = off.groupby(["season", "site"]).size().sort_values(ascending=False)
    named = [f"{quoted(str(site))} in {season}" for season, site in sizes.index[:_MOST_TOLD]]
    more = len(sizes) - len(named)
    where = listed([*named, f"{more} more"] if more else named, "and")
    such = ", ".join(quoted(str(name)) for name in off["sample"].iloc[:_MOST_TOLD])
    findings.flag(
        row, "firmness_1, firmness_2", f"{np.exp(_APART[unit]):.1f} times as soft",
        f"is how {len(off):,} samples (such as {such}) stand among the others of their cultivars, with hardly any between ({where})",
        f"look whether a second gauge was read, in {unit} under a heading of newtons",
    )  # fmt: skip
