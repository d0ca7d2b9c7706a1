"""Two cultivars set against each other, a sentence a trait, short enough for the back row; where it is not sure, that is said."""

from __future__ import annotations

import math

from dashboard.answers.question import Question
from dashboard.answers.side_by_side import SideBySide, Told, side_by_side
from dashboard.terms.traits import HEADLINE, TRAITS
from dashboard.wording.figures import called

MORE = dict(zip(HEADLINE, ("is larger by", "is firmer by", "is sweeter by"), strict=True))
MOST_SURE = 99  # of 100: nothing here is certain


def pair(asked: Question) -> tuple[str, str] | None:
    """The first two side by side; else who is spoken of and the next in the ranking; None where there are no two."""
    if len(asked.beside) >= 2:
        return asked.beside[0], asked.beside[1]
    spot, ranked = asked.spotlight, [str(name) for name in asked.ranking.index]
    if spot is None:
        return None
    after = ranked[ranked.index(spot.name) + 1 :] if spot.name in ranked else ranked
    other = next((name for name in [*after, *ranked] if name != spot.name), None)
    return (spot.name, other) if other else None


def against(asked: Question, names: tuple[str, str]) -> list[str]:
    """Who, and over what; then the surest difference in size, firmness or sugar; every one of the three is told, or why not."""
    found = side_by_side(asked.catalogue, names, asked.basis, asked.season_kind)
    told = sorted(
        (one for one in found.differences if one.trait in HEADLINE),
        key=lambda one: (one.chance, HEADLINE.index(one.trait)),
    )
    meant = [meaning for meaning, traits in found.meanings.items() if set(traits) & set(HEADLINE)]
    head = ", ".join([" and ".join(called(name) for name in names), *meant])
    return [head, *(sentence(one, asked.units) for one in told), *_refused(found)]


def sentence(told: Told, units: str) -> str:
    """``Sibbrel is larger by 0.35 in; 98 in 100 sure.``"""
    trait, first = TRAITS[told.trait], called(told.by.first)
    by = f"{trait.difference(told.by.estimate, units).removeprefix('+')} {trait.unit(units).symbol}".strip()
    if told.sure:
        return f"{first} {MORE[told.trait]} {by}; {sure_of_hundred(told)} in 100 sure."
    low, high = (
        trait.difference(si, units).replace("-", "−").removeprefix("+") for si in (told.by.low, told.by.high)
    )
    return f"{trait.label}: not sure. {first} seems ahead by {by}, but it may be {low} to {high}."


def sure_of_hundred(told: Told) -> int:
    """Rounded down: never surer than the figures are, after looking at every trait of the pair."""
    return min(math.floor(100 * (1 - told.chance)), MOST_SURE)


def _refused(found: SideBySide) -> list[str]:
    return [
        f"{', '.join(TRAITS[trait].label for trait in traits if trait in HEADLINE)}: cannot be told. {why}"
        for why, traits in found.refused.items()
        if set(traits) & set(HEADLINE)
    ]
