"""The place that trees are to stand at: a station of the records, a place beside it, or one whose weather a visitor brought.

What a station of the records gives is worked out once and remembered for all visitors; what a visitor brought lives with the visit.
"""

from __future__ import annotations

from functools import cached_property, lru_cache
from typing import Any, NamedTuple

import numpy as np
import pandas as pd

from dashboard.answers.catalogue import Catalogue
from dashboard.site.bloom import Bloom, bloom_model, bloom_records
from dashboard.site.clock import Springs
from dashboard.site.elsewhere import by_elevation, by_own_days, moved
from dashboard.site.frost import STAGES, lost_by_stage
from dashboard.site.losses import losses
from dashboard.site.needs import assured, by_unit, enough, short_together
from dashboard.site.station import Station, stations
from dashboard.site.steps import Jump, jump
from dashboard.site.winters import PORTIONS, Winters

CERTAIN = 0.9  # nine winters in ten
FEW_OWN = 5  # whole winters; a place with fewer is told by a station, moved by the days both have
_ABOUT = (
    (-1.64, 0.12),
    (-0.84, 0.24),
    (0.0, 0.28),
    (0.84, 0.24),
    (1.64, 0.12),
)  # where a date may lie, and how likely: five points


class Bloomed(NamedTuple):
    """(springs, cultivars) by year: day of full bloom, half its 90 % interval, and the share of the bloom frost would have taken; the same
    by the stage it stood in, (stages, springs, cultivars) as ``frost.STAGES``."""

    years: list[int]
    day: np.ndarray
    half: np.ndarray
    lost: np.ndarray
    by_stage: np.ndarray


class MySite:
    """What the weather of one place says of every cultivar of a catalogue. ``key`` is the site of the records that it is, "" for another."""

    def __init__(self, catalogue: Catalogue, station: Station, key: str = "") -> None:
        self.catalogue, self.key = catalogue, key
        self.winters = Winters(station)
        self.order: tuple[Any, Any] | None = None  # the last one asked for it, where its weather was brought

    @property
    def station(self) -> Station:
        return self.winters.station

    @property
    def name(self) -> str:
        return self.station.name

    @property
    def refused(self) -> str:
        """Why nothing is told of its winters; "" where they are."""
        return self.winters.refused

    @cached_property
    def enough(self) -> pd.DataFrame:
        """``needs.enough`` of all cultivars, in catalogue order."""
        return enough(self.catalogue.cultivars, self.winters)

    @cached_property
    def by_unit(self) -> dict[str, pd.DataFrame]:
        """``needs.by_unit`` of all cultivars, in catalogue order."""
        return by_unit(self.catalogue.cultivars, self.winters)

    @cached_property
    def assured(self) -> dict[str, float]:
        """By measure, what nine winters in ten brought at least; nothing where refused."""
        return {} if self.refused else assured(self.winters, CERTAIN)

    @cached_property
    def jump(self) -> Jump | None:
        """The year in which its record jumps against the other stations."""
        return jump(
            self.station, [one for key, one in stations_of(self.catalogue).items() if key != self.key]
        )

    def left_of_crops(self, draws: int, seed: int) -> np.ndarray:
        """(draws, cultivars) what the chill and frost of a year on record leave of a full crop, 0 to 1: one year a draw for all of them. ValueError,
        one sentence, where no year is known."""
        if self.bloom_refused:
            raise ValueError(self.bloom_refused)
        return _left(self, draws, seed)

    def short_together(self, names: tuple[str, ...]) -> dict[int, tuple[str, ...]]:
        """``needs.short_together`` of some cultivars."""
        return dict(short_together(self.catalogue.cultivars.loc[list(names)], self.winters))

    @cached_property
    def bloom_refused(self) -> str:
        """Why neither bloom nor frost is told; "" where they are."""
        if self.station.refused:
            return self.station.refused
        if why := bloom_of(self.catalogue).refused:
            return why
        return "" if self._springs.years else f"{self.name} has no whole spring on record."

    @cached_property
    def _springs(self) -> Springs:
        return Springs(self.station)

    @cached_property
    def bloomed(self) -> Bloomed | None:
        """Every cultivar in every spring on record, as if it had stood there; None where ``bloom_refused``. A share lost is the mean over
        where the day may lie."""
        if self.bloom_refused:
            return None
        model, years = bloom_of(self.catalogue), self._springs.years
        day, own, common = model.expected(self._springs, years, self.key)
        half = model.interval(own, common)
        whole = np.sqrt(own**2 + common**2)
        share, by_stage = np.zeros_like(day), np.zeros((len(STAGES), *day.shape))
        for row, year in enumerate(years):
            for off, weight in _ABOUT:
                each = lost_by_stage(self.station, year, np.rint(day[row] + off * whole[row]))
                share[row] += weight * each.max(axis=0)
                by_stage[:, row] += weight * each
        return Bloomed(years, day, half, share, by_stage)


@lru_cache(maxsize=8)
def _left(here: MySite, draws: int, seed: int) -> np.ndarray:
    known, model = here.catalogue.cultivars, bloom_of(here.catalogue)
    left = losses(known.loc[model.cultivars], here.winters, here._springs, model, here.key, draws, np.random.default_rng(seed)).left  # fmt: skip
    told = np.ones((draws, len(known)))
    told[:, known.index.get_indexer(model.cultivars)] = left
    return told


@lru_cache(maxsize=8)
def stations_of(catalogue: Catalogue) -> dict[str, Station]:
    """The stations of the records, by their site's key, those that can be used; none without weather."""
    weather = catalogue.records_tables.get("weather")
    found = {} if weather is None or not len(weather) else stations(weather, catalogue.sites)
    return {key: one for key, one in found.items() if not Winters(one).refused}


@lru_cache(maxsize=8)
def unused_of(catalogue: Catalogue) -> tuple[str, ...]:
    """Why the other stations cannot be used, a sentence each."""
    weather = catalogue.records_tables.get("weather")
    found = {} if weather is None or not len(weather) else stations(weather, catalogue.sites)
    return tuple(why for one in found.values() if (why := Winters(one).refused))


@lru_cache(maxsize=8)
def bloom_of(catalogue: Catalogue) -> Bloom:
    """The bloom model of the records."""
    bloom = catalogue.records_tables.get("bloom")
    springs = {key: Springs(one) for key, one in stations_of(catalogue).items()}
    if bloom is None or not springs:
        return Bloom(
            catalogue.cultivars.index,
            refused="There are no bloom records beside weather, so no bloom is foretold.",
        )
    return bloom_model(bloom_records(bloom, springs), catalogue.cultivars, springs)


@lru_cache(maxsize=64)
def my_site(catalogue: Catalogue, station: str, site: str, higher: int) -> MySite | None:
    """The place asked for: a station, "" for that of the ``site`` that figures stand for or, without one, the first; ``higher`` so many
    meters. None without any station."""
    found = stations_of(catalogue)
    key = station if station in found else site if site in found else next(iter(found), "")
    if not key:
        return None
    here = found[key]
    if not higher:
        return MySite(catalogue, here, key)
    by = by_elevation(found, key, float(higher))
    way = "above" if higher > 0 else "below"
    return MySite(catalogue, moved(here, by, f"{abs(higher)} m {way} {here.name}", here.elevation_m + higher))


def winters_at(catalogue: Catalogue, site: str) -> Winters | None:
    """The winters of a site of the records; None where it has no weather that can be used, and for "" (no site)."""
    return my_site(catalogue, site, site, 0).winters if site in stations_of(catalogue) else None  # type: ignore[union-attr]


def own_site(catalogue: Catalogue, own: Station, beside: Station | None) -> MySite:
    """A place whose weather was brought. With too few winters of its own it is the station ``beside`` it, moved by the days both have."""
    brought = MySite(catalogue, own)
    if not own.refused and len(brought.winters.years) < FEW_OWN and beside is not None:
        by = by_own_days(beside, own)
        if not by.refused:
            return MySite(catalogue, moved(beside, by, own.name, own.elevation_m))
    return brought


def enough_in(catalogue: Catalogue, option: str) -> np.ndarray:
    """(cultivars,) who gets enough chill in so many winters of ten, "9 maravel"; NaN counts as not."""
    least, _, key = option.partition(" ")
    found = my_site(catalogue, key, "", 0)
    if found is None:
        return np.zeros(len(catalogue.cultivars), dtype=bool)
    return found.enough["enough"].to_numpy() >= int(least) / 10 - 1e-9


def need_unknown(catalogue: Catalogue) -> np.ndarray:
    """(cultivars,) whose need for chill is not recorded."""
    columns = catalogue.cultivars[["chill_requirement_h", "chill_requirement_cp"]].astype(float)
    return columns.isna().all(axis=1).to_numpy()


def by_measure(found: MySite) -> str:
    """The measure most of its cultivars are told by; portions of none."""
    told = found.enough["measure"]
    counts = told[told != ""].value_counts()
    return str(counts.index[0]) if len(counts) else PORTIONS
