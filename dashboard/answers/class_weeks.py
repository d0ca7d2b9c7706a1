"""Each class of fruit by week: how many of a set are being picked, and how surely enough are."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
import pandas as pd

from dashboard.answers.catalogue import Catalogue, windows_at
from dashboard.ripening import season_of
from dashboard.ripening.cover import WEEK, Cover, draws
from dashboard.terms.traits import UNKNOWN

NEAR = 0.05  # a smaller chance of being picked in a week is no candidate for it


@dataclass(frozen=True, eq=False)
class ClassWeeks:
    """``classes`` in words, ``starts`` first days of the weeks; by class and week ``count`` being picked on its average day, ``chance``
    that at least ``least`` are, on its worst day: a week with a day in a gap is not covered. ``grown``: whether anybody of the pool may
    be ripe then at all. The last week ends with the days asked for."""

    classes: tuple[str, ...]
    starts: tuple[float, ...]
    covers: dict[str, Cover]
    pool: dict[str, tuple[str, ...]]  # who could fill a week of the class, in the set or not

    @cached_property
    def count(self) -> np.ndarray:
        return np.nanmean(self._days("expected", self.covers), axis=2)

    @cached_property
    def chance(self) -> np.ndarray:
        return np.nanmin(self._days("chance", self.covers), axis=2)

    @cached_property
    def grown(self) -> np.ndarray:
        anyone = {
            kind: cover if cover.least == 1 and set(cover.names) >= set(self.pool[kind]) else Cover(cover.draws, self.pool[kind], cover.span)
            for kind, cover in self.covers.items()
        }  # fmt: skip
        return np.nanmax(self._days("chance", anyone), axis=2) >= NEAR

    def candidates(self, kind: str, start: float) -> pd.Series:
        """Cultivars of the pool of a class by the chance that they are being picked on an average day of a week, best first."""
        cover = self.covers[kind]
        week = Cover(cover.draws, self.pool[kind], (start, start + WEEK - 1))
        every_day = np.ones((len(cover.draws.first), WEEK), dtype=bool)
        chance = week.picked_on(week.names, every_day) / WEEK
        return chance[chance >= NEAR].sort_values(ascending=False, kind="stable")

    def _days(self, what: str, covers: dict[str, Cover]) -> np.ndarray:
        """(classes, weeks, days); NaN after the last day asked for."""
        days = np.full((len(self.classes), len(self.starts) * WEEK), np.nan)
        for row, kind in enumerate(self.classes):
            told = getattr(covers[kind], what)
            days[row, : len(told)] = told
        return days.reshape(len(self.classes), len(self.starts), WEEK)


@lru_cache(maxsize=64)
def class_weeks(
    catalogue: Catalogue,
    names: tuple[str, ...],
    pool: tuple[str, ...],
    site: str,
    season_kind: str,
    least: int,
    certainty: int,
    days: tuple[float, float] | None = None,
) -> ClassWeeks | None:
    """The classes and weeks asked for: of the cultivars with a pick on record that count, ``names``, or could fill a week, ``pool``; over
    first and last of ``days`` or, without them, the whole season. None without a ripening model."""
    ripe = catalogue.ripening
    if ripe.refused:
        return None
    inside, could = set(names), set(pool)
    kinds = class_of(catalogue)[ripe.known]
    kinds = kinds[kinds.index.isin(inside | could)]
    first, last = days or season_of(windows_at(catalogue, site, season_kind))
    span = (float(np.floor(first)), float(np.ceil(last)))
    starts = tuple(float(day) for day in np.arange(span[0], span[1] + 1, WEEK))
    found = draws(ripe, ripe.known_site(site), season_kind)
    order = kinds.value_counts()
    classes = tuple(sorted(order.index, key=lambda kind: (-order[kind], kind)))
    members = {kind: tuple(kinds.index[kinds == kind]) for kind in classes}
    covers = {
        kind: Cover(found, tuple(name for name in members[kind] if name in inside), span, least, certainty)
        for kind in classes
    }
    fillers = {kind: tuple(name for name in members[kind] if name in could) for kind in classes}
    return ClassWeeks(classes, starts, covers, fillers)


def class_of(catalogue: Catalogue) -> pd.Series:
    """The trade class of each cultivar in words, "flat white nectarine, low acidity"; what is not recorded is left out."""
    known = catalogue.cultivars
    told = []
    for shape, flesh, fruit, acidity in zip(
        *(known[name].astype(str) for name in ("shape_type", "flesh_colour", "fruit_type", "acidity_class")),
        strict=True,
    ):
        words = [
            word for word in ("flat" if shape == "flat" else "", flesh, fruit) if word and word != UNKNOWN
        ]
        kind = " ".join(words) if fruit != UNKNOWN else " ".join([*words, "fruit"])
        kind += ", low acidity" if acidity == "low" else ""
        told.append(kind + (", flesh not recorded" if flesh == UNKNOWN else ""))
    return pd.Series(told, index=known.index)
