"""An invented trial in which nothing is odd, large enough that what is odd can be told: to be damaged one thing at a time."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from tests.records.small import Grid

SITES, SEASONS, CULTIVARS, FRUIT = ("low", "high"), (2022, 2023, 2024), 24, 10
RATED = ("shape", "fuzz", "red", "attractiveness")


def trial() -> dict[str, Grid]:
    """144 samples in the order of their days, each with ten fruit; cultivars differ in all that is rated and measured."""
    chance = np.random.default_rng(20260114)
    ripe = chance.integers(0, 60, CULTIVARS)
    rated = chance.uniform(2, 9, (CULTIVARS, len(RATED)))
    usual = np.column_stack(
        [chance.normal(66, 3, CULTIVARS), chance.normal(42, 6, CULTIVARS), chance.normal(12, 1, CULTIVARS)]
    )
    picked = [
        (date(season, 6, 10) + timedelta(days=int(ripe[cultivar]) + int(chance.integers(0, 7))), site, cultivar)
        for season in SEASONS for site in SITES for cultivar in range(CULTIVARS)
    ]  # fmt: skip
    samples: Grid = [["sample", "cultivar", "site", "date", "pick", *RATED, "split_pit_pct"]]
    fruit: Grid = [["sample", "fruit", "suture_mm", "cross_mm", "firmness_1_n", "firmness_2_n", "ssc_brix"]]
    for number, (day, site, cultivar) in enumerate(sorted(picked), 1):
        ratings = np.clip(np.round(rated[cultivar] + chance.normal(0, 0.7, len(RATED))), 0, 10)
        samples.append([f"S{number:03d}", f"C{cultivar:02d}", site, day.isoformat(), "1", *(f"{one:.0f}" for one in ratings), f"{chance.integers(0, 4) * 10}"])  # fmt: skip
        for one in range(1, FRUIT + 1):
            size, firmness, sugar = usual[cultivar] + chance.normal(0, (2, 4, 0.6))
            near = chance.normal(0, (1, 1, 1.5, 1.5))
            cells = (size + near[0], size + near[1], firmness + near[2], firmness + near[3], sugar)
            fruit.append([f"S{number:03d}", str(one), *(f"{cell:.1f}" for cell in cells)])
    return {
        "cultivars": [["cultivar", "check"], *([f"C{number:02d}", "yes" if number < 2 else "no"] for number in range(CULTIVARS))],
        "sites": [["site", "latitude_deg"], ["low", "39.5"], ["high", "39.7"]],
        "samples": samples,
        "fruit": fruit,
    }  # fmt: skip


def of_sample(grids: dict[str, Grid], sample: str) -> list[list[str]]:
    """Its rows of fruit."""
    return [cells for cells in grids["fruit"] if cells[0] == sample]
