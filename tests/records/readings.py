"""Some seasons of a small trial as frames, in which nothing is wrong, to be damaged one thing at a time."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pandas as pd

from dashboard.records.findings import Findings
from dashboard.records.sheets import sheet_of

CULTIVARS, FRUIT, VISITS = 8, 6, 6
SITES = pd.DataFrame({"site": ["low", "high"], "latitude_deg": [45.0, 45.2]})


def trial(seed: int = 0) -> tuple[pd.DataFrame, pd.DataFrame, pd.DataFrame]:
    """Fruit, samples and cultivars of three seasons at two sites, each visited six times; the first two cultivars are checks.

    Sites and seasons move all cultivars, fruit and samples differ; sugar is read in tenths, firmness in tenths of a pound.
    """
    chance = np.random.default_rng(seed)
    size, roundness = chance.normal(65, 4, CULTIVARS), chance.normal(0.97, 0.04, CULTIVARS)
    firm, sugar = np.exp(chance.normal(np.log(36), 0.25, CULTIVARS)), chance.normal(12, 1.3, CULTIVARS)
    samples, fruit = [], []
    for season in (2022, 2023, 2024):
        for site in SITES["site"]:
            moved = chance.normal(0, (0.1, 0.7))
            for visit in range(VISITS):
                day = pd.Timestamp(season, 7, 1) + pd.Timedelta(days=7 * visit)
                for one in range(CULTIVARS):
                    name = f"S{len(samples):03d}"
                    samples.append((name, f"C{one}", site, day, "day"))
                    hard = firm[one] * np.exp(moved[0] + chance.normal(0, 0.15))
                    sweet = sugar[one] + moved[1] + chance.normal(0, 0.6)
                    for number in range(1, FRUIT + 1):
                        across = size[one] + chance.normal(0, 2)
                        pounds = np.round(hard * np.exp(chance.normal(0, 0.15, 2)) / 4.4482216, 1)
                        fruit.append((name, number, across * roundness[one] * (1 + chance.normal(0, 0.01)), across, *pounds * 4.4482216, round(sweet + chance.normal(0, 0.6), 1)))  # fmt: skip
    columns = ["sample", "fruit", "suture_mm", "cross_mm", "firmness_1_n", "firmness_2_n", "ssc_brix"]
    return (
        pd.DataFrame(fruit, columns=columns),
        pd.DataFrame(samples, columns=["sample", "cultivar", "site", "date", "date_precision"]),
        pd.DataFrame({"cultivar": [f"C{one}" for one in range(CULTIVARS)], "check": [one < 2 for one in range(CULTIVARS)]}),
    )  # fmt: skip


def of(fruit: pd.DataFrame, samples: pd.DataFrame, site: str, season: int, visits: range = range(VISITS)) -> np.ndarray:  # fmt: skip
    """(fruit,) bool: of which site, season and visits."""
    days = {pd.Timestamp(season, 7, 1) + pd.Timedelta(days=7 * visit) for visit in visits}
    here = samples.loc[((samples["site"] == site) & samples["date"].isin(days)).to_numpy(), "sample"]
    return fruit["sample"].isin(here).to_numpy()


def told(detector: Callable[..., None], fruit: pd.DataFrame, *frames: pd.DataFrame) -> list:
    """What a detector says of the fruit."""
    findings = Findings(sheet_of("fruit", "fruit.csv", "", [["sample"], ["S000"]], [1, 2]))
    detector(fruit, *frames, findings)
    return findings.problems
