"""What the marks of the pictures mean, the same on page, paper and slate."""

from __future__ import annotations

from collections.abc import Set

from dashboard.terms.traits import UNKNOWN

RING = "nothing beats it on size, sugar and firmness together"
# Looks as a stylesheet knows them.
MARKS = (
    ("mark yellow round", "yellow flesh"),
    ("mark white round", "white flesh"),
    ("mark red round", "red flesh"),
    ("mark unknown round", "flesh not recorded"),
    ("mark yellow flat", "flat shape"),
    ("ring", RING),
    ("bar", "what the mean has to be for the market's limits; pale: misses, or not known"),
    ("thin", "likely range (90 %)"),
)
BAR = "A bar is the time of picking to be expected"
AROUND = "the thin line is its likely range (90 %)."
STRIP = (
    "On the strip a hatched day or bar may qualify: it counts, but is not sure. A dashed bar covers no day."
)
# The marks of my slate's calendar, by their looks; the first where no buyer was chosen.
CALENDAR_MARKS = {
    "picked": "usual days of picking",
    "full": "qualifies",
    "hatched": "may qualify",
    "hollow": "covers no day",
    "thin": "its days, 9 times in 10",
    "gap": "gap",
}
BAR_FLESH = "Yellow, white with dots, red: its flesh; gray: flesh not recorded."
COUNTS_IN_FULL = "What may qualify counts in full, though it is not sure."
STAND_OUT = "they stand out in every picture and in the table."
TO_CHOOSE = f"Press marks one by one, or draw a box round them with a mouse: {STAND_OUT}"


def legend(flesh_colours: Set[str], sure: bool = True) -> list[tuple[str, str]]:
    """Looks and meanings; a flesh color that no cultivar has is left out. ``sure``: a ring is fuller the surer it is."""
    absent = {
        look
        for look, colour in (("mark red round", "red"), ("mark unknown round", UNKNOWN))
        if colour not in flesh_colours
    }
    return [
        (look, words + "; the fuller, the surer" * (sure and look == "ring"))
        for look, words in MARKS
        if look not in absent
    ]
