"""Where a cultivar stands among all, in the few words that stand beside its dot."""

from __future__ import annotations

from math import ceil, floor

from dashboard.answers.among import Standing
from dashboard.terms.traits import trait_called


def heading(known: int) -> str:
    return f"How it compares with all {known:,} cultivars" if known > 1 else "What it is worth"


def stands(one: Standing) -> str:
    """``top 14 %`` where more is better, ``fewer than 71 %`` where less is, ``more than 40 %`` where neither is; rounded against it."""
    if one.known < 2:
        return "no other to compare"
    if not one.above and not one.below:
        return "the same as all"
    if one.way == "more":
        return f"top {ceil(round(100 * one.top, 6))} %"
    if one.way == "less":
        word = "fewer" if trait_called(one.trait).quantity == "share" else "less"
        part = floor(round(100 * one.fewer_than, 6))
        return f"{word} than {part} %" if part else "among the most"
    part = floor(round(100 * one.more_than, 6))
    return f"more than {part} %" if part else "among the least"


def figures(one: Standing, system: str) -> tuple[str, str]:
    """``2.76``, ``2.65–2.87``; the second says so where no interval is known."""
    trait = trait_called(one.trait)
    value, low, high = (trait.written(si, system) for si in (one.value, one.low, one.high))
    return value, f"{low}–{high}" if one.low == one.low and one.high == one.high else "range not known"


def sentence(one: Standing, system: str) -> str:
    """``Size (in): 2.76, range 2.65–2.87, top 14 %.``"""
    value, around = figures(one, system)
    around = around if around.startswith("range") else f"range {around}"
    return f"{trait_called(one.trait).heading(system)}: {value}, {around}, {stands(one)}."
