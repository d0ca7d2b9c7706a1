"""Simulated bloom with a known truth on invented weather.

    day = day of the cultivar's heat from 15 February + season + (season, site) + rest

all normal, days; the spreads are assumptions of this simulation.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.site.clock import Clock, Springs
from dashboard.site.heat import CURVED
from dashboard.site.station import station
from tests.site.places import weather

CLOCK = Clock(137, CURVED)
SD = {"heat": 0.12, "season": 1.0, "local": 0.5, "rest": 1.2}


@dataclass(frozen=True, eq=False)
class Truth:
    cultivars: pd.DataFrame
    springs: dict[str, Springs]
    days: dict[tuple[str, int], np.ndarray]  # by site and year (cultivars,) the true day, rest included

    def records(self, years: list[int], rng: np.random.Generator, seen: float = 0.3) -> pd.DataFrame:
        """Bloom noted of some cultivars in some years: cultivar, site, year, full_bloom."""
        rows = []
        for (site, year), days in self.days.items():
            if year in years:
                for at in np.flatnonzero(rng.random(len(days)) < seen):
                    on = pd.Timestamp(year, 1, 1) + pd.Timedelta(days=int(np.rint(days[at])) - 1)
                    rows.append((self.cultivars.index[at], site, float(year), on))
        return pd.DataFrame(rows, columns=["cultivar", "site", "year", "full_bloom"])


def truth(cultivars: int, seed: int) -> Truth:
    rng = np.random.default_rng(seed)
    sites = {"hill": 11.0, "river": 12.5, "valley": 13.0}
    springs = {
        site: Springs(station(weather(mean=mean, swing=12.0, seed=seed), site, 39.0))
        for site, mean in sites.items()
    }
    needs = rng.normal(50, 8, cultivars).round()
    names = [f"C{at:03d}" for at in range(cultivars)]
    table = pd.DataFrame(
        {"chill_requirement_cp": needs, "chill_requirement_h": np.nan}, index=pd.Index(names, name="cultivar")
    )
    heat = np.exp(np.log(3000) + 0.006 * (needs - 50) + rng.normal(0, SD["heat"], cultivars))
    days, seasons = {}, {}
    for site, one in springs.items():
        for year in one.years:
            season = seasons.setdefault(year, rng.normal(0, SD["season"]))
            at = one.day_of(year, CLOCK, needs, heat) + season + rng.normal(0, SD["local"])
            days[site, year] = at + rng.normal(0, SD["rest"], cultivars)
    return Truth(table, springs, days)
