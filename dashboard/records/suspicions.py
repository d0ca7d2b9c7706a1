"""Values that may be but seldom are: loaded as they stand, and told.

All three limits are common practice, no source: a fruit far outside its own cultivar, two cheeks that differ
much, a picking day far from the cultivar's others.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

from dashboard.records.findings import Findings
from dashboard.records.seasons import season_and_day, southern
from dashboard.units import N_PER_LBF, UNITS

OUTLYING = 5.0  # robust standard deviations from the cultivar's median
ENOUGH_FRUIT = 20
CHEEKS_N = 4 * N_PER_LBF
SEASON_DAYS = 45
ENOUGH_SAMPLES = 4

# One standard deviation of a normal distribution in median absolute deviations: 1 / Phi^-1(3/4), recomputed.
_SD_PER_MAD = 1.4826

# A cultivar's fruit cannot be told apart more finely than this, so its spread is never taken to be less.
_LEAST_SPREAD = {"size": 1.5, "sugar": 0.5}


def suspect_fruit(fruit: pd.DataFrame, samples: pd.DataFrame, findings: Findings) -> None:
    """Flag fruit far from the rest of their cultivar in size or sugar, and cheeks more than 4 lbf apart."""
    cheeks = (fruit["firmness_1_n"] - fruit["firmness_2_n"]).abs()
    for row in fruit.index[(cheeks > CHEEKS_N + 1e-9).to_numpy()]:
        findings.flag(
            row, "firmness_1, firmness_2", f"{cheeks[row] / N_PER_LBF:.1f} lbf", "is much for two cheeks of one fruit (more than 4 lbf)",
            "look whether one was misread; uneven fruit may well differ so",
        )  # fmt: skip
    cultivar = fruit["sample"].map(samples.set_index("sample")["cultivar"])
    measures = {
        "size": ((fruit["suture_mm"] + fruit["cross_mm"]) / 2, "suture, cross", "mm"),
        "sugar": (fruit["ssc_brix"], "ssc_brix", "brix"),
    }
    for measure, (values, column, unit) in measures.items():
        grouped = values.groupby(cultivar)
        middle = grouped.transform("median")
        spread = (values - middle).abs().groupby(cultivar).transform("median") * _SD_PER_MAD
        far: pd.Series = (values - middle).abs() / np.maximum(spread, _LEAST_SPREAD[measure])
        outlying = (far > OUTLYING) & (grouped.transform("count") >= ENOUGH_FRUIT)
        symbol = UNITS[unit].symbol
        for row in fruit.index[outlying.to_numpy()]:
            findings.flag(
                row, column, f"{values[row]:.1f} {symbol}", f"is far from the other fruit of {cultivar[row]} (half of them within {spread[row] / _SD_PER_MAD:.1f} {symbol} of {middle[row]:.1f})",
                "look whether it was misread or belongs to another sample",
            )  # fmt: skip


def suspect_dates(samples: pd.DataFrame, sites: pd.DataFrame, findings: Findings) -> None:
    """Flag samples picked more than 45 days from the median day of their cultivar."""
    _, day = season_and_day(samples["date"], southern(sites, samples["site"]))
    days = pd.Series(day, index=samples.index)
    grouped = days.groupby(samples["cultivar"])
    middle = grouped.transform("median")
    off = (days - middle).where(grouped.transform("count") >= ENOUGH_SAMPLES)
    for row in samples.index[(off.abs() > SEASON_DAYS).to_numpy()]:
        when = "before" if off[row] < 0 else "after"
        findings.flag(
            row, "date", str(samples.at[row, "date"])[:10], f"is {abs(off[row]):.0f} days {when} the usual day of {samples['cultivar'][row]}",
            "look whether the month or the cultivar was miswritten",
        )  # fmt: skip


def suspect_weather(weather: pd.DataFrame, findings: Findings) -> None:
    """Flag days whose lowest temperature is above the highest."""
    for row in weather.index[(weather["tmin_c"] > weather["tmax_c"]).to_numpy()]:
        findings.flag(
            row,
            "tmin, tmax",
            f"{weather['tmin_c'][row]:.1f} °C",
            "is above the highest of the day",
            "look whether the two were exchanged",
        )


def suspect_bloom(bloom: pd.DataFrame, findings: Findings) -> None:
    """Flag full bloom whose day lies in another year than the row says."""
    for row in bloom.index[
        (bloom["full_bloom"].dt.year != bloom["year"]).to_numpy() & bloom["full_bloom"].notna().to_numpy()
    ]:
        findings.flag(
            row,
            "full_bloom",
            str(bloom.at[row, "full_bloom"])[:10],
            f"is not in {bloom['year'][row]:.0f}, the year of its row",
            "correct one of the two",
        )
