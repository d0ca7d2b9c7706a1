"""What is true of every invented cultivar, and how far one sample may stand from it.

A sample of cultivar c at site s in season y, pick k, stands at
``mean + c + cs + cy + ys + csy + pick * (k - usual pick) + sample``, and each fruit at that plus its own part.
The standard deviations are assumptions about ordinary trial records, not measurements of real trees.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd

INCH, POUND_FORCE = 25.4, 4.4482216152605
USUAL_PICK = 2.0
TERMS = (
    "cultivar",
    "cultivar:site",
    "cultivar:season",
    "site:season",
    "cultivar:site:season",
    "sample",
    "fruit",
)


@dataclass(frozen=True)
class Spread:
    """Mean, SD of every term in the order of ``TERMS``, change per pick and per year of entry; SI."""

    mean: float
    sds: tuple[float, ...]
    pick: float
    per_year: float

    def times(self, factor: float) -> Spread:
        sds = tuple(sd * factor for sd in self.sds)
        return Spread(self.mean * factor, sds, self.pick * factor, self.per_year * factor)

    def sd(self, term: str) -> float:
        return self.sds[TERMS.index(term)]


_RATING = (0.9, 0.25, 0.45, 0.5, 0.3, 0.8, 0.0)
SPREADS = {
    "size": Spread(2.55, (0.20, 0.06, 0.08, 0.12, 0.07, 0.06, 0.17), -0.04, 0.008).times(INCH),
    "firmness": Spread(9.0, (1.6, 0.4, 0.8, 1.0, 0.7, 1.3, 2.0), -0.30, 0.05).times(POUND_FORCE),
    "sugar": Spread(12.0, (1.0, 0.30, 0.50, 0.80, 0.40, 0.50, 1.2), 0.20, 0.02),
    "roundness": Spread(0.985, (0.025, 0.005, 0.008, 0.006, 0.006, 0.008, 0.022), 0.0, 0.0),
    "red": Spread(6.8, _RATING, 0.10, 0.04),
    "attractiveness": Spread(6.2, _RATING, 0.0, 0.02),
    "shape": Spread(6.6, _RATING, 0.0, 0.02),
    "fuzz": Spread(5.6, _RATING, 0.0, 0.01),
}
# How the shared ripeness of a sample, and of a fruit within it, weighs in a trait's own SD: riper fruit is
# softer, larger, sweeter, redder.
SAMPLE_RIPENESS = {"firmness": -0.90, "size": 0.45, "sugar": 0.50, "red": 0.40, "attractiveness": 0.20}
FRUIT_RIPENESS = {"firmness": -0.85, "size": 0.40, "sugar": 0.50, "roundness": 0.0}

# Densities of the middle of the picking window (share, day of year, SD); 15 July is day 196.
_RIPENING = ((0.11, 160, 6), (0.25, 181, 9), (0.41, 206, 12), (0.16, 228, 9), (0.07, 243, 6))
_EARLIEST, _LATEST = 151.0, 252.0
# Weeks in which a class of fruit has next to nothing, and what is there is poor (class, from, to).
THIN_WEEKS = (
    (("peach", "yellow"), 219.0, 227.0),
    (("peach", "yellow"), 162.0, 168.0),
    (("peach", "white"), 193.0, 205.0),
    (("peach", "white"), 236.0, 252.0),
    (("nectarine", "yellow"), 171.0, 182.0),
    (("nectarine", "yellow"), 226.0, 234.0),
    (("nectarine", "white"), 151.0, 170.0),
    (("nectarine", "white"), 208.0, 220.0),
    (("nectarine", "white"), 236.0, 252.0),
)


def scaled(values: np.ndarray, sd: float) -> np.ndarray:
    """``values`` moved and stretched to mean 0 and exactly this SD."""
    return (values - values.mean()) / values.std() * sd


def thin_weeks(cultivars: pd.DataFrame, days: np.ndarray) -> np.ndarray:
    """Whether each cultivar's day lies in a thin week of its own class."""
    inside = np.zeros(len(cultivars), bool)
    for (fruit_type, flesh), start, end in THIN_WEEKS:
        of_class = (cultivars["fruit_type"] == fruit_type) & (cultivars["flesh_colour"] == flesh)
        inside |= of_class.to_numpy() & (days >= start) & (days <= end)
    flat = (cultivars["shape_type"] == "flat").to_numpy()
    return inside | (flat & ((days < 174) | (days > 228)))


def ripening_days(rng: np.random.Generator, cultivars: pd.DataFrame) -> np.ndarray:
    """True middle of picking, day of year, at the station in an ordinary season: one a cultivar."""
    shares, centres, sds = (np.array(part) for part in zip(*_RIPENING, strict=True))
    days = np.full(len(cultivars), np.nan)
    while (open_rows := np.isnan(days)).any():
        peak = rng.choice(len(shares), size=len(days), p=shares)
        drawn = rng.normal(centres[peak], sds[peak])
        kept = (drawn >= _EARLIEST) & (drawn <= _LATEST)
        kept &= ~thin_weeks(cultivars, drawn) | (rng.random(len(days)) < 0.06)
        days = np.where(open_rows & kept, drawn, days)
    return days


def true_values(rng: np.random.Generator, cultivars: pd.DataFrame, days: np.ndarray, entry: np.ndarray):
    """True value of every trait (SI, %), one row a cultivar: the mean over sites and seasons at the usual pick.

    Late cultivars are larger and sweeter than early ones; flat ones and nectarines are smaller; white low-acid
    ones a little sweeter; non-melting and stony hard ones firmer; early and flat ones have more split pits.
    """
    count = len(cultivars)
    late = (days - days.mean()) / days.std()
    thin = thin_weeks(cultivars, days)
    is_in = {
        option: (cultivars[column] == option).to_numpy().astype(float)
        for column in ("fruit_type", "flesh_colour", "acidity_class", "shape_type", "flesh_texture")
        for option in cultivars[column].unique()
    }

    def of(option: str) -> np.ndarray:
        return is_in.get(option, np.zeros(count))

    own = {key: rng.normal(size=count) for key in SPREADS}
    mild = of("white") * of("low")
    part = {
        "size": 0.42 * late - 0.9 * of("flat") - 0.35 * of("nectarine") - 0.6 * thin + 0.80 * own["size"],
        "firmness": 0.9 * of("non-melting") + 1.7 * of("stony hard") + 0.1 * late + 0.75 * own["firmness"],
        "sugar": 0.45 * late
        + 0.55 * mild
        + 0.3 * of("flat")
        - 0.4 * thin
        - 0.1 * own["size"]
        + 0.8 * own["sugar"],
        "roundness": own["roundness"],
        "red": 0.35 * of("nectarine") - 0.5 * of("non-melting") - 0.1 * late + 0.9 * own["red"],
        "shape": -0.3 * of("flat") + own["shape"],
        "fuzz": own["fuzz"],
    }
    part = {key: scaled(values, 1.0) for key, values in part.items()}
    part["attractiveness"] = (
        0.40 * part["size"]
        + 0.40 * part["red"]
        + 0.40 * part["shape"]
        - 0.4 * thin
        + 0.5 * own["attractiveness"]
    )
    since = entry - np.median(entry)
    values = {
        key: spread.mean + scaled(part[key], spread.sd("cultivar")) + spread.per_year * since
        for key, spread in SPREADS.items()
    }
    values["fuzz"] = np.where(of("nectarine") == 1, 10.0, values["fuzz"])  # nothing to rub off
    values["cheek_difference"] = np.clip(rng.lognormal(np.log(0.95), 0.28, count), 0.4, 2.0) * POUND_FORCE
    early = np.clip((192 - days) / 20, 0, None)
    split = -3.3 + 1.1 * early + 0.9 * of("flat") + rng.normal(0, 0.6, count)
    cracked = np.where(of("flat") == 1, -1.7, -4.3) + rng.normal(0, 0.5, count)
    values["split_pit"] = 100 / (1 + np.exp(-split))
    values["cracked_tip"] = 100 / (1 + np.exp(-cracked))
    return pd.DataFrame(values)
