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
NOTHING = 0.1  # bare days a season; who saves less than this adds nothing


@dataclass(frozen=True, eq=False)
class ClassWeeks:
    """``classes`` in words, ``starts`` first days of the weeks; by class and week ``count`` being picked on its average day
    and ``chance`` that at least ``least`` are, on its worst day: a week with a day in a gap is not covered."""

    classes: tuple[str, ...]
    starts: tuple[float, ...]
    covers: dict[str, Cover]
    pool: dict[str, tuple[str, ...]]  # who could fill a week of the class, in the set or not

    @cached_property
    def count(self) -> np.ndarray:
        return self._days("expected").mean(axis=2)

    @cached_property
    def chance(self) -> np.ndarray:
        return self._days("chance").min(axis=2)

    @cached_property
    def spare(self) -> dict[str, list[str]]:
        """By class, cultivars of the set without which it would lie bare no longer."""
        found = {}
        for kind, cover in self.covers.items():
            losses = cover.losses
            found[kind] = sorted(losses.index[losses < NOTHING])
        return found

    def candidates(self, kind: str, start: float) -> pd.Series:
        """Cultivars of the pool of a class by the chance that they are being picked on an average day of a week, best first."""
        cover = self.covers[kind]
        week = Cover(cover.draws, self.pool[kind], (start, start + WEEK - 1))
        every_day = np.ones((len(cover.draws.first), WEEK), dtype=bool)
        chance = week.picked_on(week.names, every_day) / WEEK
        return chance[chance >= NEAR].sort_values(ascending=False, kind="stable")

    def _days(self, what: str) -> np.ndarray:
        """(classes, weeks, days)"""
        days = np.array([getattr(self.covers[kind], what) for kind in self.classes])
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
) -> ClassWeeks | None:
    """The classes of all cultivars with a pick on record; ``names`` are those that count, ``pool`` those that could fill a
    week. None without a ripening model."""
    ripe = catalogue.ripening
    if ripe.refused:
        return None
    kinds = class_of(catalogue)[ripe.known]
    first, last = season_of(windows_at(catalogue, site, season_kind))
    start = float(np.floor(first))
    starts = tuple(start + WEEK * number for number in range(int(np.ceil((last - start + 1) / WEEK))))
    span = (start, starts[-1] + WEEK - 1)
    found = draws(ripe, ripe.known_site(site), season_kind)
    inside, could = set(names), set(pool)
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
