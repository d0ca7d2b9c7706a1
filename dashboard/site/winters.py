"""What each winter brings: chill by winter and by date, how far winters lie apart, and how they have moved over the decades."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
import pandas as pd
from scipy import stats

from dashboard.site.chill import chill_hours, utah_units
from dashboard.site.portions import SHEET, portions
from dashboard.site.station import Station

DAYS = 183  # a winter: from 1 October (1 April in the south) on; common practice, no source
FEWEST = 5  # whole winters below which no share of winters is told; ours
HOURS, PORTIONS, UTAH, POSITIVE = "hours", "portions", "utah", "positive_utah"
MEASURES = (HOURS, PORTIONS, UTAH, POSITIVE)


class Trend(NamedTuple):
    """A straight line through the winters: what they gained in ten years, its 95 % interval, and how many there are."""

    per_decade: float
    low: float
    high: float
    winters: int

    @property
    def sure(self) -> bool:
        """Whether the interval leaves out no change at all."""
        return self.low > 0 or self.high < 0


@dataclass(frozen=True, eq=False)
class Winters:
    """The whole winters of a station, named by the year of their spring."""

    station: Station
    variant: str = SHEET

    @cached_property
    def _cut(self) -> tuple[np.ndarray, np.ndarray, list[tuple[int, str]]]:
        """Years, the place of each winter's first day, and which winters are left out, and why."""
        days, south = self.station.days, self.station.south
        years, places, left_out = [], [], []
        if len(days):
            known = ~(np.isnan(self.station.tmin) | np.isnan(self.station.tmax))
            for year in range(days[0].year - 1, days[-1].year + 1):
                opens = pd.Timestamp(year, 4 if south else 10, 1)
                at = (opens - days[0]).days
                held = known[max(at, 0) : max(at + DAYS, 0)].sum()
                if held == DAYS:
                    years.append(year + (not south))
                    places.append(at)
                elif held:
                    left_out.append((year + (not south), f"{DAYS - held} of its {DAYS} days are missing"))
        return np.array(years, dtype=int), np.array(places, dtype=int), left_out

    @property
    def years(self) -> np.ndarray:
        """(winters,) the year of each one's spring."""
        return self._cut[0]

    @property
    def left_out(self) -> list[tuple[int, str]]:
        return self._cut[2]

    @property
    def refused(self) -> str:
        """Why no winter is told; "" where they are."""
        if self.station.refused:
            return self.station.refused
        count = len(self.years)
        if count >= FEWEST:
            return ""
        return f"{self.station.name} has {count} whole {'winter' if count == 1 else 'winters'} on record; {FEWEST} are needed."

    @cached_property
    def by_day(self) -> dict[str, np.ndarray]:
        """By measure (winters, days) what has come together by the end of each day from the winter's first on."""
        rows = self._cut[1][:, None] + np.arange(DAYS)
        hours = self.station.hours[rows]
        flat = hours.reshape(len(rows), -1)
        each = {
            HOURS: chill_hours(flat),
            PORTIONS: portions(flat, self.variant),
            UTAH: utah_units(flat),
            POSITIVE: utah_units(flat, positive=True),
        }
        return {name: one.reshape(hours.shape).sum(axis=2).cumsum(axis=1) for name, one in each.items()}

    @cached_property
    def supply(self) -> pd.DataFrame:
        """One row a winter by year: what each measure came to by its last day. Utah units count from the winter's lowest sum on, as is
        usual: what a warm autumn takes away was not there yet."""
        last = {name: days[:, -1] for name, days in self.by_day.items()}
        begun = np.minimum(self.by_day[UTAH].min(axis=1), 0) if len(self.years) else np.array([])
        return pd.DataFrame(last | {UTAH: last[UTAH] - begun}, index=pd.Index(self.years, name="year"))

    @cached_property
    def dates(self) -> pd.DatetimeIndex:
        """(days,) the days of a winter, in years that stand for any."""
        return pd.date_range("2001-04-01" if self.station.south else "2000-10-01", periods=DAYS)

    def met_on(self, measure: str, need: np.ndarray) -> np.ndarray:
        """(winters, needs) the day of the winter, from 0, by whose end a need was met; NaN where it was not."""
        sums = self.by_day[measure]
        sums = np.maximum.accumulate(sums, axis=1)
        found = (
            np.stack([np.searchsorted(one, need) for one in sums]).astype(float)
            if len(sums)
            else np.empty((0, len(need)))
        )
        found[found >= DAYS] = np.nan
        return np.where(np.isnan(need), np.nan, found)

    def trend(self, measure: str) -> Trend | None:
        """How a measure has moved; None with too few winters. It says what was, not what will be."""
        values = self.supply[measure].to_numpy()
        if len(values) < 2 * FEWEST:
            return None
        line = stats.linregress(self.years, values)
        half = stats.t.ppf(0.975, len(values) - 2) * line.stderr
        return Trend(10 * line.slope, 10 * (line.slope - half), 10 * (line.slope + half), len(values))
