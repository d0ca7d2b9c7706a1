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
_USUAL_N = 40.0  # at picking, about 9 lb (common practice, no source)
_SOFT_N = 10.0
ENOUGH_CULTIVARS = 4  # that stand there and elsewhere
ENOUGH_SAMPLES = 8  # where fewer cultivars are shared, and middles of whole site-seasons are compared
_ORDINARY = np.log(1.35)  # seasons may well be so far apart (common practice, no source)
_SURELY = 2.5  # standard errors beyond that
_SCATTER = (
    0.2  # of a cultivar's log firmness between two seasons, where a few cultivars happen to agree better
)


def suspect_unit(fruit: pd.DataFrame, samples: pd.DataFrame, sites: pd.DataFrame, findings: Findings) -> None:
    """Flag site-seasons in which the cultivars are about 2.2, 4.4 or 9.8 times as firm as elsewhere, or as soft.

    Held against the same cultivars in other site-seasons where four or more are shared, else against all others.
    """
    known = firm_samples(fruit, samples, sites)
    if known.empty:
        return
    sizes = known.groupby(["site", "season"]).size()
    enough = sizes.index[sizes >= ENOUGH_CULTIVARS]
    table = known.pivot_table(
        index="cultivar", columns=["site", "season"], values="firmness", aggfunc="median"
    )[list(enough)]
    if (
        len(enough) == 1
        and sizes[enough[0]] >= ENOUGH_SAMPLES
        and np.exp(known["firmness"].median()) < _SOFT_N
    ):
        _tell(
            known,
            fruit,
            enough[0],
            "is the middle of all firmness read, under 10 N (2.2 lb)",
            "newtons and another unit",
            findings,
        )
    while table.shape[1] > 1:
        times: dict[Any, float] = {group: _times(table, group, sizes) for group in table.columns}
        slips = {group: unit_slip(log) for group, log in times.items() if unit_slip(log)}
        if not slips:
            return
        # Of two that stand against each other either may be the one; fruit at picking tells which.
        middles, most = table.median(), max(abs(times[group]) for group in slips)
        worst = max(
            (group for group in slips if abs(times[group]) > most - _NEAR),
            key=lambda group: abs(middles[group] - np.log(_USUAL_N)),
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


def firm_samples(fruit: pd.DataFrame, samples: pd.DataFrame, sites: pd.DataFrame) -> pd.DataFrame:
    """Samples with firmness, their ``season``, and as ``firmness`` the log of the middle of their fruit, of both cheeks each."""
    read = (fruit["firmness_1_n"] + fruit["firmness_2_n"]) / 2
    read = read[(read > 0).to_numpy()]
    of_sample = np.log(read).groupby(fruit["sample"]).median()
    season, _ = season_and_day(samples["date"], southern(sites, samples["site"]))
    return samples.assign(season=season, firmness=samples["sample"].map(of_sample)).dropna(subset="firmness")


def _times(table: pd.DataFrame, group: Any, sizes: pd.Series) -> float:
    """Log of how many times as firm as elsewhere; 0 where that is not surely more than seasons are apart, or cannot be told."""
    others = table.drop(columns=[group])
    apart = (table[group] - others.median(axis=1)).dropna()
    if len(apart) >= ENOUGH_CULTIVARS:
        middle = float(apart.median())
        surely = _SURELY * max(float(apart.std()), _SCATTER) / np.sqrt(len(apart))
        return middle if abs(middle) - surely > _ORDINARY else 0.0
    large = [one for one in others.columns if sizes[one] >= ENOUGH_SAMPLES]
    if sizes[group] < ENOUGH_SAMPLES or not large:
        return 0.0
    return float(table[group].median() - others[large].median().median())


def unit_slip(log: float) -> str:
    """The units whose factor is nearest; nothing where the two are not far enough apart for any."""
    near, units = min((abs(abs(log) - np.log(factor)), units) for factor, units in _SLIPS)
    return units if near < _NEAR or abs(log) > np.log(_SLIPS[0][0]) else ""


def _tell(
    known: pd.DataFrame, fruit: pd.DataFrame, group: Any, rule: str, units: str, findings: Findings
) -> None:
    there = known[(known["site"] == group[0]) & (known["season"] == group[1])]
    row = int(fruit.index[fruit["sample"].isin(there["sample"]).to_numpy()][0])
    middle = float(np.exp(there["firmness"].median()))
    findings.flag(
        row, "firmness_1, firmness_2", f"{middle / N_PER_LBF:.1f} lb ({middle:.0f} N)",
        f"{rule} ({quoted(str(group[0]))} in {group[1]}, {len(there)} samples)",
        f"look whether {units} were exchanged",
    )  # fmt: skip
