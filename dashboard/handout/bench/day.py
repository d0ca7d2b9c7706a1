"""One site and day on the bench: who may be ripe, what is read of each fruit in which order and unit, and what it may be.

Workbook, paper form and page are made from this and say the same.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from typing import Any

import pandas as pd

from dashboard.answers.catalogue import Catalogue, site_name
from dashboard.handout.ripening import in_walking_order, site_key, standing, walk
from dashboard.records.beyond import READINGS as PAST
from dashboard.records.declaration import Declaration, Scale
from dashboard.records.importing.bench import HEADINGS, JUICE, READINGS
from dashboard.records.odd_readings import ordinary
from dashboard.records.schema import RATINGS, TABLES, Column
from dashboard.records.seasons import season_and_day
from dashboard.records.template import heading
from dashboard.ripening.days import date_label
from dashboard.terms.units import UNITS, Unit

SPARE = 10  # cultivars that may be ripe against expectation
DECIMALS = {"in": 2}  # by unit, of what a caliper or gauge shows; elsewhere one
WORDS = {
    "suture_mm": "Suture", "cross_mm": "Across", "firmness_1_n": "Cheek 1", "firmness_2_n": "Cheek 2", "ssc_brix": "Sugar",
    "shape": "Shape", "fuzz": "Fuzz", "red": "Red", "attractiveness": "Looks", "split_pit_pct": "Split pits", "cracked_tip_pct": "Cracked tips",
    "juice_temp_c": "Juice temp",
}  # fmt: skip


@dataclass(frozen=True)
class Reading:
    """What is read of each fruit; ``possible`` and ``usual`` are its least and most, in its unit."""

    column: Column
    head: str  # its heading on the sheet, which says the unit
    unit: Unit
    decimals: int
    possible: tuple[float, float]
    usual: tuple[float, float]

    @property
    def word(self) -> str:
        return WORDS[self.column.name]

    @property
    def past(self) -> bool:
        """Whether a reading past an end of the instrument is kept as one."""
        return any(self.column.name == column for column, _ in PAST.values())


@dataclass(frozen=True, eq=False)
class Day:
    """``rows``: one a cultivar that may be ripe, as ``walk`` has them and ``pick``, in walking order; ``here``: all that stand there, with
    row and position; ``why``: what is wrong with the day: nothing can be foretold, nothing may be ripe, the trial ends before it; else empty."""

    site: str
    site_name: str
    on: date
    system: str
    rows: pd.DataFrame
    here: pd.DataFrame
    picks: dict[str, int]
    why: str
    readings: tuple[Reading, ...]
    declaration: Declaration
    catalogue: Catalogue

    @property
    def names(self) -> list[str]:
        return self.here["cultivar"].astype(str).tolist()

    @property
    def juice(self) -> tuple[Reading, ...]:
        """The temperature of the juice, once a sample, where the refractometer does not correct for it."""
        return () if self.declaration.temperature_compensated else (_reading(JUICE, self.system),)

    @property
    def headings(self) -> tuple[str, ...]:
        return (*HEADINGS, *(one.head for one in self.juice))

    @property
    def instruments(self) -> list[list[str]]:
        """Readings by the instrument they are taken with, in its order."""
        return [[one.column.name for one in some] for _, some in groupby(self.readings, lambda one: one.column.quantity)]  # fmt: skip

    @property
    def scales(self) -> dict[str, Scale]:
        return {name: self.declaration.ratings[name] for name in RATINGS}

    def usual_fruit(self, name: str) -> pd.DataFrame:
        """By cultivar what its fruit of earlier samples were in size or sugar, in the unit it is read in: middle, and reach, beyond which a
        fruit is far from them."""
        column, unit = {"size": ("size", self.readings[0].unit), "sugar": ("sugar", UNITS["brix"])}[name]
        fruit = self.catalogue.fruit
        if fruit.empty:
            return pd.DataFrame(columns=["middle", "reach"], dtype=float)
        found = ordinary(fruit[column], fruit["cultivar"].astype(str), name)
        return (found[["middle", "reach"]] / unit.factor).dropna()


def day(catalogue: Catalogue, declaration: Declaration, site: str, on: date, system: str = "us") -> Day:
    """What is expected at ``site`` on a day. ValueError, one sentence, for a site that is none."""
    site, sites = site_key(catalogue, site), catalogue.sites["site"].astype(str).tolist()
    if site not in sites:
        raise ValueError(f"There is no site {site!r}; there are {', '.join(sites)}.")
    try:
        rows = walk(catalogue, site, on, by_row=True)[0]
        why = _amiss(catalogue, declaration, site, on, rows.empty)
    except ValueError as fault:
        rows, why = pd.DataFrame(columns=["cultivar"]), str(fault)
    picks = _picks(catalogue, site, on)
    rows = rows.assign(pick=[picks.get(str(name), 0) + 1 for name in rows["cultivar"]])
    return Day(
        site, site_name(catalogue, site), on, system, rows, in_walking_order(standing(catalogue, site, on)), picks, why,
        tuple(_reading(TABLES["fruit"].by_name[name], system) for name in READINGS), declaration, catalogue,
    )  # fmt: skip


def _amiss(catalogue: Catalogue, declaration: Declaration, site: str, on: date, none: bool) -> str:
    """What a day that was not meant looks like, and the option that names another; empty for an ordinary day."""
    picked = catalogue.summaries.loc[catalogue.summaries["site"].astype(str) == site, "date"].max()
    other = f"--date {picked:%Y-%m-%d}" if pd.notna(picked) else "--date"
    said = []
    if none:
        said.append(f"Nothing may be ripe at {site} in the week from {date_label(on)}; for another week give its day, as {other}.")  # fmt: skip
    if declaration.seasons and on > declaration.dates[1]:
        said.append(f"The trial ends with {declaration.seasons[1]}, so import refuses this day; give another, as {other}, or first add {on.year} to its seasons.")  # fmt: skip
    return " ".join(said)


def expected(row: Mapping[Any, Any]) -> str:
    """When a cultivar of the walk should be ripe, or what is to be said in its place."""
    if row.get("expected_first", "–") not in ("", "–"):  # a day that is not known
        return f"{row['expected_first']} – {row['expected_last']}"
    return str(row.get("remark", ""))


def _reading(column: Column, system: str) -> Reading:
    head = heading(column, system)
    unit = column.spellings[head] or UNITS[column.name.rsplit("_", 1)[-1]]
    possible = column.refuse or (0.0, 0.0)
    low, high = (
        (unit.from_si(ends[0]), unit.from_si(ends[1])) for ends in (possible, column.flag or possible)
    )
    return Reading(column, head, unit, DECIMALS.get(unit.suffix, 1), low, high)


def _picks(catalogue: Catalogue, site: str, on: date) -> dict[str, int]:
    """By cultivar the last pick of this season at the site: as it is numbered, or the days of picking counted."""
    known = catalogue.summaries.dropna(subset=["date", "cultivar"])
    known = known[((known["site"].astype(str) == site) & (known["date"] <= pd.Timestamp(on))).to_numpy()]
    south = [catalogue.south]
    this, _ = season_and_day(pd.Series([pd.Timestamp(on)]), pd.Series(south).to_numpy())
    season, _ = season_and_day(known["date"], pd.Series(south * len(known)).to_numpy())
    known = known[season == this[0]]
    found = known.groupby(known["cultivar"].astype(str)).agg(days=("date", "nunique"), pick=("pick", "max"))
    return {str(name): int(count) for name, count in found.max(axis=1).items()}
