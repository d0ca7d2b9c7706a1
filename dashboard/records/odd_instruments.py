"""Days on which an instrument reads all fruit too high or too low: not set to zero, worn, or read in another unit.

Each sample is held against the other samples of its cultivar, and against what the season did to all at its site. What is left is added up
over days on end; where the sum is more than chance would hardly ever make it, that stretch is told. The checks decide where they were picked
in it: what leaves them as they are is no instrument. Limits without a source are judgement, tried on the invented trial.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.records.findings import Findings
from dashboard.records.odd_firmness import unit_slip
from dashboard.records.problems import quoted
from dashboard.records.seasons import season_and_day, southern

OF_CULTIVAR = 3  # samples of a cultivar, from which on its usual reading is known
OF_SEASON, OF_RUN = 12, 4  # samples of a season at a site, and of a stretch of days in it
PART = 0.5  # of the season's samples at most: beyond that the stretch is what is usual
SURELY = 6.0  # standard errors; of 10,000 stretches of days one or two reach 4.8 by chance
CLIPPED = 4.0  # standard deviations that one sample counts for at most
OF_CHECKS = 2  # samples of checks, from which on they decide
AGREE = 1 / 3  # of what is told, that the checks have to show


@dataclass(frozen=True)
class _Read:
    column: str
    least: float  # a stretch nearer to its season is never told
    spread: float  # of a sample about its cultivar and season, at least


_SUGAR = _Read("ssc_brix", 1.2, 0.6)
_FIRMNESS = _Read("firmness_1, firmness_2", float(np.log(1.4)), 0.15)  # logarithms


def suspect_instruments(
    fruit: pd.DataFrame, samples: pd.DataFrame, cultivars: pd.DataFrame, sites: pd.DataFrame, findings: Findings
) -> None:  # fmt: skip
    """Flag stretches of days at a site in which sugar, or firmness, of all cultivars lies off together."""
    season, _ = season_and_day(samples["date"], southern(sites, samples["site"]))
    known = samples.assign(season=season, day=samples["date"].dt.strftime("%Y-%m-%d"))
    known = known[(samples["date_precision"] == "day").to_numpy()]
    checks = set(cultivars.loc[cultivars["check"].to_numpy(dtype=bool), "cultivar"])
    owner = fruit["sample"]
    firmness = (fruit["firmness_1_n"] + fruit["firmness_2_n"]) / 2
    firmness = firmness[(firmness > 0).to_numpy()]
    read = {
        _SUGAR: fruit["ssc_brix"].groupby(owner).mean(),
        _FIRMNESS: np.log(firmness).groupby(owner).mean(),
    }
    for what, values in read.items():
        off = _off(known.assign(value=known["sample"].map(values).astype(float)).dropna(subset="value"))
        spread = max(what.spread, 1.4826 * float(off["off"].abs().median())) if len(off) else what.spread
        for (site, year), there in off.groupby(["site", "season"], sort=True):
            stretch = _stretch(there, spread)
            if stretch is None:
                continue
            middle = float(stretch["off"].median())
            checked = stretch.loc[stretch["cultivar"].isin(checks).to_numpy(), "off"]
            by_checks = len(checked) >= OF_CHECKS
            if abs(middle) < what.least or (by_checks and float(checked.median()) / middle < AGREE):
                continue
            _tell(what, middle, stretch, fruit, str(site), int(str(year)), by_checks, findings)


def _off(samples: pd.DataFrame) -> pd.DataFrame:
    """Samples with ``off``: how far each lies from its cultivar's middle, and from what the season did to all at the site."""
    by_cultivar = samples.groupby("cultivar")["value"]
    samples = samples.assign(off=samples["value"] - by_cultivar.transform("median"))
    samples = samples[(by_cultivar.transform("count") >= OF_CULTIVAR).to_numpy()]
    return samples.assign(off=samples["off"] - samples.groupby(["site", "season"])["off"].transform("median"))


def _stretch(samples: pd.DataFrame, spread: float) -> pd.DataFrame | None:
    """The samples of the days on end that lie off most surely, ``off`` the season's other days; None where that may be chance."""
    if len(samples) < OF_SEASON:
        return None
    clipped = samples["off"].clip(-CLIPPED * spread, CLIPPED * spread)
    days = clipped.groupby(samples["day"]).agg(["sum", "size"])
    sums, counts = (np.r_[0, days[name].to_numpy().cumsum()] for name in ("sum", "size"))
    first, last = np.triu_indices(len(sums), 1)
    count = counts[last] - counts[first]
    may_be = (count >= OF_RUN) & (count <= PART * len(samples))
    surely = np.where(may_be, np.abs(sums[last] - sums[first]) / np.sqrt(count) / spread, 0)
    best = int(surely.argmax())
    if surely[best] < SURELY:
        return None
    within = samples["day"].between(days.index[first[best]], days.index[last[best] - 1])
    usual = samples.loc[~within.to_numpy(), "off"].median()
    return (
        samples[within.to_numpy()]
        .sort_values("day", kind="stable")
        .assign(off=lambda one: one["off"] - usual)
    )


def _tell(
    what: _Read, middle: float, stretch: pd.DataFrame, fruit: pd.DataFrame, site: str, year: int, by_checks: bool, findings: Findings
) -> None:  # fmt: skip
    first, last = stretch["day"].iloc[0], stretch["day"].iloc[-1]
    days = f"on {first}" if first == last else f"from {first} to {last}"
    newest = stretch["sample"].iloc[-1]
    row = int(fruit.index[(fruit["sample"] == newest).to_numpy()][0])
    agree = "; the checks say so, too" if by_checks else ""
    where = f"all fruit {days} at {quoted(site)} ({len(stretch)} samples)"
    if what is _SUGAR:
        findings.flag(
            row, what.column, f"{middle:+.1f} °Brix", f"is how far {where} lies from its cultivars and the season {year}{agree}",
            "look whether the refractometer was set to zero; a wet week may do it, too",
        )  # fmt: skip
        return
    units = unit_slip(middle)
    shown, than = np.exp(abs(middle)), "firm" if middle > 0 else "soft"
    findings.flag(
        row, what.column, f"{shown:.1f} times as {than}", f"is {where}, beside its cultivars and the season {year}{agree}",
        f"look whether {units} were exchanged" if units else "look whether the gauge was set to zero",
    )  # fmt: skip
