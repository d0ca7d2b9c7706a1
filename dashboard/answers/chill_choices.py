"""The chill that a cultivar may need, as it is asked for: by unit the bounds on offer, and any number between the least and the most."""

from __future__ import annotations

import math
import re

import numpy as np

from dashboard.answers.catalogue import Catalogue
from dashboard.records.schema import TABLES

# Bounds on the winter chill a cultivar needs, by the unit it is recorded in: its word, its column, and those on offer.
CHILL_UNITS = {
    "h": ("hours", "chill_requirement_h", (300, 450, 600, 750, 900, 1050)),
    "cp": ("portions", "chill_requirement_cp", (20, 30, 40, 50, 60, 70)),
}
_BOUND = re.compile(r"(\d{1,5})(h|cp)")
CHILL = tuple(f"{most}{unit}" for unit, (*_, offered) in CHILL_UNITS.items() for most in offered)


def chill_bound(bound: str) -> tuple[str, str, int]:
    """Of "650h", any whole number in one of the units: ``650 hours``, the column it is held against, and 650; KeyError for another."""
    most = bound.rstrip("hcp")
    word, column, _ = CHILL_UNITS[bound[len(most) :] if most.isdecimal() else bound]
    return f"{int(most)} {word}", column, int(most)


def chill_needed(catalogue: Catalogue, bound: str) -> np.ndarray:
    """In the unit of the bound; NaN where that is not recorded: hours and portions do not turn into each other."""
    return catalogue.cultivars[chill_bound(bound)[1]].to_numpy(dtype=float)


def chill_needs(catalogue: Catalogue) -> dict[str, tuple[str, int, int]]:
    """By each unit that any need is recorded in its word, and the least and the most that a cultivar may need of it: what is plausible,
    and whatever stands in these records beside that."""
    found = {}
    for unit, (word, column, _) in CHILL_UNITS.items():
        needs, plausible = catalogue.cultivars[column].dropna(), TABLES["cultivars"].by_name[column].flag
        if len(needs) and plausible is not None:
            found[unit] = word, math.floor(min(needs.min(), plausible[0])), math.ceil(max(needs.max(), plausible[1]))  # fmt: skip
    return found


def chill_asked(catalogue: Catalogue, bound: str) -> bool:
    """Whether it is a number that may be needed, of a unit that any need is recorded in: "650h"."""
    told = _BOUND.fullmatch(bound)
    _, least, most = chill_needs(catalogue).get(told[2] if told else "", ("", 1, 0))
    return told is not None and least <= int(told[1]) <= most


def chill_place(_catalogue: Catalogue, bound: str) -> tuple[int, int]:
    word, _, most = chill_bound(bound)
    return [unit for unit, *_ in CHILL_UNITS.values()].index(word.split()[1]), most


def chill_bounds(catalogue: Catalogue) -> tuple[str, ...]:
    """Those that part the recorded."""
    needed = {bound: chill_needed(catalogue, bound) for bound in CHILL}
    return tuple(
        bound for bound in CHILL
        if (needed[bound] <= chill_bound(bound)[2]).any() and (needed[bound] > chill_bound(bound)[2]).any()
    )  # fmt: skip
