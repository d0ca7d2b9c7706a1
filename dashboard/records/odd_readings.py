"""Readings that may be but seldom are: a fruit far outside its own cultivar, cheeks that differ much or read nothing.

All limits are common practice, no source.
"""

from __future__ import annotations

import pandas as pd

from dashboard.records.findings import Findings
from dashboard.records.problems import quoted
from dashboard.records.taken import Taken, undersized
from dashboard.terms.units import N_PER_LBF, UNITS

OUTLYING = 5.0  # robust standard deviations from the cultivar's median
ENOUGH_FRUIT = 20
CHEEKS_N = 4 * N_PER_LBF
OVAL = 0.15  # of their mean, by which two diameters of a fruit seldom differ

# One standard deviation of a normal distribution in median absolute deviations: 1 / Phi^-1(3/4), recomputed.
_SD_PER_MAD = 1.4826

# A cultivar's fruit cannot be told apart more finely than this, so its spread is never taken to be less.
_LEAST_SPREAD = {"size": 1.5, "sugar": 0.5}


def suspect_fruit(fruit: pd.DataFrame, samples: pd.DataFrame, findings: Findings) -> None:
    """Flag fruit far from the rest of their cultivar in size or sugar, cheeks more than 4 lb apart, both cheeks 0, and diameters far apart."""
    nothing = (fruit["firmness_1_n"] == 0) & (fruit["firmness_2_n"] == 0)
    for row in fruit.index[nothing.to_numpy()]:
        findings.flag(
            row, "firmness_1, firmness_2", "0 and 0", "are taken as readings; two cheeks without any firmness are seldom one",
            "leave both cells empty where nothing was measured",
        )  # fmt: skip
    cheeks = (fruit["firmness_1_n"] - fruit["firmness_2_n"]).abs()
    for row in fruit.index[(cheeks > CHEEKS_N + 1e-9).to_numpy()]:
        findings.flag(
            row, "firmness_1, firmness_2", f"{cheeks[row] / N_PER_LBF:.1f} lb", "is much for two cheeks of one fruit (more than 4 lb)",
            "look whether one was misread; uneven fruit may well differ so",
        )  # fmt: skip
    oval = (fruit["suture_mm"] - fruit["cross_mm"]).abs()
    share = oval / ((fruit["suture_mm"] + fruit["cross_mm"]) / 2)
    for row in fruit.index[(share > OVAL + 1e-9).to_numpy()]:
        findings.flag(
            row, "suture, cross", f"{oval[row]:.1f} mm", f"is much between two diameters of one fruit (more than {OVAL:.0%} of their mean)",
            "look whether one was misread or belongs to another fruit",
        )  # fmt: skip
    cultivar = fruit["sample"].map(samples.set_index("sample")["cultivar"])
    measures = {
        "size": ((fruit["suture_mm"] + fruit["cross_mm"]) / 2, "suture, cross", "mm"),
        "sugar": (fruit["ssc_brix"], "ssc_brix", "brix"),
    }
    for measure, (values, column, unit) in measures.items():
        usual = ordinary(values, cultivar, measure).reindex(cultivar).set_axis(fruit.index)
        middle, half = usual["middle"], usual["half"]
        outlying = (values - middle).abs() > usual["reach"]
        symbol = UNITS[unit].symbol
        for row in fruit.index[outlying.to_numpy()]:
            findings.flag(
                row, column, f"{values[row]:.1f} {symbol}", f"is far from the other fruit of {quoted(cultivar[row])} (half of them within {half[row]:.1f} {symbol} of {middle[row]:.1f})",
                "look whether it was misread or belongs to another sample",
            )  # fmt: skip


def ordinary(values: pd.Series, cultivar: pd.Series, measure: str) -> pd.DataFrame:
    """By cultivar what its fruit are: ``middle``, ``half`` (half of them lie so near to it) and ``reach``, beyond which one is far from the
    others, missing where there are too few to tell. ``values``, one a fruit, of "size" (mm) or "sugar" (°Brix)."""
    middle = values.groupby(cultivar).median()
    half = (values - middle.reindex(cultivar).to_numpy(dtype=float)).abs().groupby(cultivar).median()
    reach = OUTLYING * (half * _SD_PER_MAD).clip(lower=_LEAST_SPREAD[measure])
    enough = values.groupby(cultivar).count() >= ENOUGH_FRUIT
    return pd.DataFrame({"middle": middle, "half": half, "reach": reach.where(enough)})


def suspect_small(fruit: pd.DataFrame, taken: Taken, findings: Findings) -> None:
    """Flag fruit smaller than the smallest that was sampled, as declared, once for all."""
    size = (fruit["suture_mm"] + fruit["cross_mm"]) / 2
    rows = fruit.index[undersized(taken, size)]
    if len(rows):
        findings.flag(
            rows[0], "suture, cross", f"{size[rows[0]]:.1f} mm",
            f"is smaller than the smallest that was sampled, {taken.smallest_mm:g} mm as declared, and so are {len(rows) - 1:,} other fruit of {len(fruit):,}; beyond one in fifty, sizes stay as measured",
            "correct smallest_taken_mm, or declare that all fruit were sampled",
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
            sure=True,
        )
