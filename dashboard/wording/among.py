"""Where a cultivar stands among all, in the few words that stand beside its dot."""

from __future__ import annotations

from math import floor

from dashboard.answers.among import Standing
from dashboard.terms.traits import trait_called


def heading(known: int) -> str:
    return f"How it compares with all {known:,} cultivars" if known > 1 else "What it is worth"


# How the one with more of a trait, and the one with less, is said to be beside the others.
BESIDE = {
    "size": ("larger", "smaller"),
    "firmness": ("firmer", "softer"),
    "sugar": ("sweeter", "less sweet"),
    "cheek_difference": ("less even", "more even"),
    "roundness": ("deeper", "flatter"),
    "red": ("redder", "less red"),
    "attractiveness": ("better", "worse"),
    "shape": ("better", "worse"),
    "fuzz": ("less fuzzy", "fuzzier"),
    "split_pit": ("more", "fewer"),
    "cracked_tip": ("more", "fewer"),
}
AMOUNT = ("more", "less")  # of one that is named nowhere above, as of a trait of somebody's own


def stands(one: Standing) -> str:
    """``larger than 42 %`` of all, ``fewer than 71 %`` where less is better; a tie counts against it, and the part is rounded down."""
    if one.known < 2:
        return "no other to compare"
    if not one.above and not one.below:
        return "the same as all"
    less = one.way == "less"
    part = floor(round(100 * (one.less_than if less else one.more_than), 6))
    if not part:
        return "among the most" if less else "among the least"
    return f"{BESIDE.get(one.trait, AMOUNT)[less]} than {part} %"


def figures(one: Standing, system: str) -> tuple[str, str]:
    """``2.76``, ``2.65–2.87``; the second says so where no interval is known."""
    trait = trait_called(one.trait)
    value, low, high = (trait.written(si, system) for si in (one.value, one.low, one.high))
    return value, f"{low}–{high}" if one.low == one.low and one.high == one.high else "range not known"


def sentence(one: Standing, system: str) -> str:
    """``Size (in): 2.76, likely range 2.65–2.87, larger than 86 %.``"""
    value, around = figures(one, system)
    around = around if around.startswith("range") else f"likely range {around}"
    return f"{trait_called(one.trait).heading(system)}: {value}, {around}, {stands(one)}."
