"""Firmness of a season at a site that is off by the factor between two units: pounds-force, kilograms-force, newtons."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd

from dashboard.records.findings import Findings
from dashboard.records.problems import quoted
from dashboard.records.seasons import season_and_day, southern
from dashboard.terms.units import N_PER_KGF, N_PER_LBF

# How many times as firm fruit read, and between which units that is the factor.
_SLIPS = (
    (N_PER_KGF / N_PER_LBF, "kilograms-force and pounds-force"),
    (N_PER_LBF, "newtons and pounds-force"),
    (N_PER_KGF, "newtons and kilograms-force"),
)
_NEAR = np.log(
    1.25
)  # season and site alone seldom move all cultivars so far together (common practice, no source)
_USUAL_N = 40.0  # at picking, about 9 lbf (common practice, no source)
_SOFT_N = 10.0
ENOUGH_CULTIVARS = 5
ENOUGH_SAMPLES = 8


def suspect_unit(fruit: pd.DataFrame, samples: pd.DataFrame, sites: pd.DataFrame, findings: Findings) -> None:
    """Flag site-seasons in which the cultivars are about 2.2, 4.4 or 9.8 times as firm as elsewhere, or as soft.

    Held against the same cultivars in other site-seasons where five or more are shared, else against all others.
    """
    read = (fruit["firmness_1_n"] + fruit["firmness_2_n"]) / 2
    read = read[(read > 0).to_numpy()]
    if read.empty:
        return
    of_sample = np.log(read).groupby(fruit["sample"]).median()
    season, _ = season_and_day(samples["date"], southern(sites, samples["site"]))
    known = samples.assign(season=season, firmness=samples["sample"].map(of_sample)).dropna(subset="firmness")
    groups = known.groupby(["site", "season"])["firmness"]
    enough = groups.size()[groups.size() >= ENOUGH_SAMPLES].index
    table = known.pivot_table(
        index="cultivar", columns=["site", "season"], values="firmness", aggfunc="median"
    )[list(enough)]
    if len(enough) == 1 and np.exp(known["firmness"].median()) < _SOFT_N:
        _tell(
            known,
            fruit,
            enough[0],
            "is the middle of all firmness read, under 10 N (2.2 lbf)",
            "newtons and another unit",
            findings,
        )
    while table.shape[1] > 1:
        times: dict[Any, float] = {group: _times(table, group) for group in table.columns}
        slips = {group: _slip(log) for group, log in times.items() if _slip(log)}
        if not slips:
            return
        middles = table.median()
        worst = max(
            slips, key=lambda group: (round(abs(times[group]), 6), abs(middles[group] - np.log(_USUAL_N)))
        )
        shown = np.exp(abs(times[worst]))
        than = "firm" if times[worst] > 0 else "soft"
        _tell(
            known,
            fruit,
            worst,
            f"is the middle firmness there, about {shown:.1f} times as {than} as the cultivars are elsewhere",
            slips[worst],
            findings,
        )
        table = table.drop(columns=[worst])


def _times(table: pd.DataFrame, group: Any) -> float:
    """Log of how many times as firm as elsewhere."""
    others = table.drop(columns=[group])
    apart = (table[group] - others.median(axis=1)).dropna()
    return float(
        apart.median() if len(apart) >= ENOUGH_CULTIVARS else table[group].median() - others.median().median()
    )


def _slip(log: float) -> str:
    near = [(abs(abs(log) - np.log(factor)), units) for factor, units in _SLIPS]
    off, units = min(near)
    return units if off < _NEAR else ""


def _tell(
    known: pd.DataFrame, fruit: pd.DataFrame, group: Any, rule: str, units: str, findings: Findings
) -> None:
    there = known[(known["site"] == group[0]) & (known["season"] == group[1])]
    row = int(fruit.index[fruit["sample"].isin(there["sample"]).to_numpy()][0])
    middle = float(np.exp(there["firmness"].median()))
    findings.flag(
        row, "firmness_1, firmness_2", f"{middle / N_PER_LBF:.1f} lbf ({middle:.0f} N)",
        f"{rule} ({quoted(str(group[0]))} in {group[1]}, {len(there)} samples)",
        f"look whether {units} were exchanged",
    )  # fmt: skip
