"""Coined names of cultivars and sites, by a seed; no two of them are near each other."""

from __future__ import annotations

import numpy as np
from rapidfuzz.distance import OSA

_FIRST = [
    "Ax",
    "Brun",
    "Clav",
    "Dorv",
    "Esk",
    "Fulm",
    "Grev",
    "Hask",
    "Ilm",
    "Jurn",
    "Krov",
    "Lund",
    "Morv",
    "Nask",
    "Olm",
    "Prask",
    "Quor",
    "Rusk",
    "Stav",
    "Trum",
    "Ulk",
    "Vorn",
    "Wask",
    "Yelk",
    "Zond",
]
_MIDDLE = ["a", "e", "i", "o", "u"]
_LAST = ["drum", "vesk", "quin", "nok", "lasp", "mirr", "tove", "gand", "sorn", "pell"]
_APART = 4  # letters at least

SITES = ("Lowbank", "Highterrace", "Gravelside", "Millfield")


def cultivars(count: int, seed: int) -> list[str]:
    chance = np.random.default_rng(seed)
    found: list[str] = []
    while len(found) < count:
        name = "".join(str(chance.choice(part)) for part in (_FIRST, _MIDDLE, _LAST))
        if all(OSA.distance(name, other) >= _APART for other in found):
            found.append(name)
    return found
