"""A few cultivars side by side: every trait, those that somebody brought among them, how their fruit is drawn, when they are picked, and what really differs.

What differs is told over sites, where the errors that two values share are known; Holm's method allows for how many
differences are looked at.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from typing import Any

import numpy as np
import pandas as pd

from dashboard.answers import catalogue as catalogues
from dashboard.answers.catalogue import Basis, Catalogue
from dashboard.estimates import COUNTS
from dashboard.estimates.comparisons import Difference, difference
from dashboard.estimates.many import SURE, holm, mistaken
from dashboard.terms.traits import TRAITS, trait_called

FEWEST, MOST = 2, 6  # what one screen holds: a choice of ours
NAN = float("nan")
REMEMBERED = 128


@dataclass(frozen=True)
class Fruit:
    """A cultivar's usual fruit as it is drawn, cut across. mm; NaN where it was not measured."""

    name: str
    flesh_colour: str
    stone: str
    shape_type: str
    size: float = NAN
    low: float = NAN
    high: float = NAN
    suture: float = NAN  # diameter from the suture to the back
    cross: float = NAN  # diameter from cheek to cheek
    red: float = NAN  # share of the skin that is red, 0 to 1


@dataclass(frozen=True)
class Told:
    """One difference in a trait. ``by.first`` is the higher one; ``chance`` of being mistaken, among all looked at."""

    trait: str
    by: Difference
    chance: float

    @property
    def sure(self) -> bool:
        return self.chance <= SURE


@dataclass(frozen=True)
class Photograph:
    site: str
    date: pd.Timestamp
    file: str  # as the records name it; whether it can be shown is not known yet


@dataclass(frozen=True, eq=False)
class SideBySide:
    names: tuple[str, ...]  # in the order they were asked for, never more than MOST
    left_out: tuple[str, ...]
    values: dict[str, pd.DataFrame]  # by trait, one row a name: estimate, low, high, counts
    counts: pd.DataFrame  # one row a name: what it rests on, in the trait with the most
    fruit: dict[str, Fruit]
    windows: pd.DataFrame  # one row a name
    days_after: pd.Series  # the middle of picking, days after the earliest of them; NaN where it is not known
    differences: tuple[Told, ...]  # of every pair in every trait that can be told, by trait
    refused: dict[str, tuple[str, ...]]  # why a difference is not told: in which traits
    meanings: dict[
        str, tuple[str, ...]
    ]  # what a difference stands for, "over sites and seasons": in which traits
    photographs: dict[str, tuple[Photograph, ...]]  # of each that has any, the newest first

    @property
    def real(self) -> tuple[Told, ...]:
        return tuple(told for told in self.differences if told.sure)

    def surely_higher(self, trait: str, least: bool = False) -> tuple[str, ...]:
        """Who is surely higher (``least``: lower) in a trait than at least one other, in the order asked for."""
        surely = {told.by.second if least else told.by.first for told in self.real if told.trait == trait}
        return tuple(name for name in self.names if name in surely)

    @property
    def alike(self) -> tuple[Told, ...]:
        """Those that cannot be told apart."""
        return tuple(told for told in self.differences if not told.sure)


@lru_cache(maxsize=REMEMBERED)
def offered(*sets: tuple[str, ...]) -> tuple[str, ...]:
    """What to set side by side while nothing was asked: the first of ``sets`` with enough in it."""
    return next((names[:MOST] for names in sets if len(names) >= FEWEST), ())


def side_by_side(
    catalogue: Catalogue, names: Iterable[str], basis: Basis, season_kind: str = "ordinary"
) -> SideBySide:
    """The first six of ``names`` on a basis, in a kind of season; ValueError for a name that is not there."""
    asked = tuple(dict.fromkeys(names))
    shown = asked[:MOST]
    for name in shown:
        if name not in catalogue.cultivars.index:
            raise ValueError(f"{name} is not among the cultivars of these records.")
    rows = list(shown)
    values = {trait: frame.loc[rows] for trait, frame in catalogue.figures[basis].items()}
    windows = catalogues.windows_at(catalogue, basis.site, season_kind).loc[rows]
    differences, refused = _differences(catalogue, shown, basis.ripeness)
    return SideBySide(
        names=shown,
        left_out=asked[MOST:],
        values=values,
        counts=pd.concat([frame[list(COUNTS)] for frame in values.values()]).groupby(level=0).max().loc[rows],
        fruit={name: usual_fruit(catalogue, name, values) for name in shown},
        windows=windows,
        days_after=windows["middle"] - windows["middle"].min(),
        differences=differences,
        refused=refused,
        meanings=_meanings(catalogue, differences),
        photographs=_photographs(catalogue, shown),
    )


def diameters(size: float, roundness: float) -> tuple[float, float]:
    """Suture and cross diameter of a fruit whose mean of both is ``size`` and whose suture over cross is ``roundness``.

    Without a roundness both are the size: the fruit is taken as round.
    """
    if not roundness > 0:
        return size, size
    cross = 2 * size / (1 + roundness)
    return roundness * cross, cross


def usual_fruit(catalogue: Catalogue, name: str, values: dict[str, pd.DataFrame]) -> Fruit:
    """As it is drawn, from its row in each trait's ``values``."""
    facts: Any = catalogue.cultivars.loc[name]
    own: dict[str, Any] = {trait: values[trait].loc[name] for trait in ("size", "roundness", "red")}
    size = own["size"]
    suture, cross = diameters(float(size["estimate"]), float(own["roundness"]["estimate"]))
    return Fruit(
        name=name,
        flesh_colour=str(facts["flesh_colour"]),
        stone=str(facts["stone"]),
        shape_type=str(facts["shape_type"]),
        size=float(size["estimate"]),
        low=float(size["low"]),
        high=float(size["high"]),
        suture=suture,
        cross=cross,
        red=float(np.clip(own["red"]["estimate"] / 10, 0, 1)),
    )


def _differences(
    catalogue: Catalogue, names: tuple[str, ...], ripeness: str
) -> tuple[tuple[Told, ...], dict[str, tuple[str, ...]]]:
    found: list[tuple[str, Difference]] = []
    refused: dict[str, list[str]] = {}
    for trait in (*TRAITS, *catalogue.own_traits):
        worth = (catalogue.equal if ripeness == "equal" else catalogue.worth)[trait]
        there = set(worth.values.index)
        for one, other in combinations(names, 2):
            unseen = [name for name in (one, other) if name not in there]
            by = (
                Difference(
                    one, other, refused=f"{unseen[0]} has no reading of {trait_called(trait).label.lower()}."
                )
                if unseen
                else difference(worth, one, other)
            )
            if by.estimate < 0:
                by = difference(worth, other, one)
            if by.refused:
                refused.setdefault(by.refused, []).append(trait)
            else:
                found.append((trait, by))
    chances = holm(np.array([mistaken(by) for _, by in found]))
    told = tuple(Told(trait, by, float(chance)) for (trait, by), chance in zip(found, chances, strict=True))
    return told, {why: tuple(dict.fromkeys(traits)) for why, traits in refused.items()}


def _meanings(catalogue: Catalogue, differences: tuple[Told, ...]) -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for trait in dict.fromkeys(told.trait for told in differences):
        found.setdefault(catalogue.worth[trait].plan.meaning, []).append(trait)
    return {meaning: tuple(traits) for meaning, traits in found.items()}


def _photographs(catalogue: Catalogue, names: tuple[str, ...]) -> dict[str, tuple[Photograph, ...]]:
    every = catalogue.records_tables.get("photos")
    if every is None:
        return {}
    found: dict[str, list[Photograph]] = {}
    for row in every[every["cultivar"].isin(list(names)).to_numpy(dtype=bool)].itertuples():
        taken: Any = row
        found.setdefault(str(taken.cultivar), []).append(
            Photograph(str(taken.site), taken.date, str(taken.photo))
        )
    return {name: tuple(taken) for name, taken in found.items()}
