"""Heat as a clock: how much has come together by each day of a spring at a station, and on which day a sum is reached."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import pandas as pd

from dashboard.site.heat import CURVED, STRAIGHT, degree_hours
from dashboard.site.station import Station
from dashboard.site.winters import DAYS, PORTIONS, Winters

SPRING_DAYS = 275  # of winter and spring together, from the winter's first day
OWN_CHILL = "own chill"  # heat counts from the day on which a cultivar's own need for chill is met


@dataclass(frozen=True)
class Clock:
    """From when on heat counts, and in which form: ``starts`` is months and days after the winter's first ("3 months": 1 January in the
    north), or ``OWN_CHILL``."""

    starts: int | str
    form: str = CURVED

    @property
    def told(self) -> str:
        when = "the day its chill is met" if self.starts == OWN_CHILL else f"day {self.starts} of winter"
        return f"heat from {when}, {self.form} degree hours"


# 92 days after 1 October is 1 January, 123 is 1 February, 151 is 1 March.
CLOCKS = tuple(Clock(starts, form) for starts in (92, 123, 137, OWN_CHILL) for form in (CURVED, STRAIGHT))
CONSTANT = Clock(92)  # what is held against the model: a constant sum of heat from 1 January on


class Springs:
    """The springs of a station that are whole: sums of heat by day, and when chill was met."""

    def __init__(self, station: Station) -> None:
        self.station = station
        self.winters = Winters(station)

    @cached_property
    def places(self) -> dict[int, int]:
        """By year, the place of its winter's first day among the station's days; whole springs only."""
        known = ~np.isnan(self.station.tmin)
        found = {}
        for year in self.winters.years:
            first = pd.Timestamp(int(year) - (not self.station.south), 4 if self.station.south else 10, 1)
            at = (first - self.station.days[0]).days
            if at + SPRING_DAYS <= len(known) and known[at : at + SPRING_DAYS].all():
                found[int(year)] = at
        return found

    @property
    def years(self) -> list[int]:
        return list(self.places)

    @cached_property
    def _summed(self) -> dict[str, np.ndarray]:
        """By form (days,) heat from the station's first day to the end of each; missing days add none."""
        return {
            form: np.nancumsum(degree_hours(self.station.hours, form).sum(axis=1))
            for form in (CURVED, STRAIGHT)
        }

    def first_day(self, year: int) -> int:
        """Day of the year of a winter's first day: negative in the north, where it lies in the year before."""
        return (self.station.days[self.places[year]] - pd.Timestamp(year, 1, 1)).days + 1

    def heat(self, year: int, form: str) -> np.ndarray:
        """(days,) heat by the end of each day from the winter's first on, degree hours."""
        at = self.places[year]
        sums = self._summed[form]
        return sums[at : at + SPRING_DAYS] - (sums[at - 1] if at else 0.0)

    def starts(self, year: int, clock: Clock, need: np.ndarray) -> np.ndarray:
        """(needs,) days after the winter's first from which heat counts; a need not met counts from the winter's end."""
        if clock.starts != OWN_CHILL:
            return np.full(len(need), float(clock.starts))
        row = int(np.flatnonzero(self.winters.years == year)[0])
        met = self._met(need)[row]
        return np.where(np.isnan(met), DAYS - 1, met)

    def _met(self, need: np.ndarray) -> np.ndarray:
        return self.winters.met_on(PORTIONS, need)

    def heat_on(self, year: int, clock: Clock, need: np.ndarray, day: np.ndarray) -> np.ndarray:
        """(needs,) heat from each start to a day of the year; at least one degree hour."""
        sums, first = self.heat(year, clock.form), self.first_day(year)
        axis = np.arange(SPRING_DAYS)
        began = np.interp(self.starts(year, clock, need), axis, sums)
        return np.maximum(np.interp(np.asarray(day, dtype=float) - first, axis, sums) - began, 1.0)

    def day_of(self, year: int, clock: Clock, need: np.ndarray, heat: np.ndarray) -> np.ndarray:
        """(needs,) the day of the year on which each has its heat."""
        sums, first = self.heat(year, clock.form), self.first_day(year)
        axis = np.arange(SPRING_DAYS)
        began = np.interp(self.starts(year, clock, need), axis, sums)
        rising = sums + 1e-6 * axis  # the day of a sum is one, in a cold spell, too
        return np.interp(began + np.asarray(heat, dtype=float), rising, axis) + first

    def pace(self, year: int, clock: Clock, day: np.ndarray) -> np.ndarray:
        """Heat a day, as a mean of the week around each day."""
        sums, first = self.heat(year, clock.form), self.first_day(year)
        axis = np.arange(SPRING_DAYS)
        at = np.asarray(day, dtype=float) - first
        return np.maximum((np.interp(at + 3.5, axis, sums) - np.interp(at - 3.5, axis, sums)) / 7, 1.0)
