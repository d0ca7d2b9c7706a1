"""A difference between two cultivars in one trait, as a sentence: who has more, by how much, and how sure that is."""

from __future__ import annotations

from dashboard.answers.side_by_side import Told
from dashboard.terms.traits import trait_called

# How the one with more of a trait is said to be beside the other; a trait that is not here is "higher in" its label.
MORE = {
    "size": "is larger than",
    "firmness": "is firmer at picking than",
    "sugar": "has more sugar than",
    "cheek_difference": "differs more from cheek to cheek than",
    "roundness": "is deeper from suture to back, for its width, than",
    "red": "has more red skin than",
    "attractiveness": "is rated more attractive than",
    "shape": "is rated better in shape than",
    "fuzz": "is rated less fuzzy than",
    "split_pit": "has more split pits than",
    "cracked_tip": "has more cracked tips than",
}
POINTS = {"rating": "points of 10", "share": "of 100 fruit"}


def sentence(told: Told, units: str) -> str:
    """``Briskwell is larger than Candover by 0.28 in (0.11 to 0.45); chance of being mistaken about 3 in 1,000.``"""
    by, span = figures(told, units)
    more = MORE.get(told.trait, f"is higher in {trait_called(told.trait).label.lower()} than")
    return f"{told.by.first} {more} {told.by.second} by {by} ({span}); chance of being mistaken {chance(told.chance)}."


def figures(told: Told, units: str) -> tuple[str, str]:
    """The difference with its unit, and between what it lies."""
    trait = trait_called(told.trait)
    by, low, high = (
        trait.difference(si, units).replace("-", "−").removeprefix("+")
        for si in (told.by.estimate, told.by.low, told.by.high)
    )
    return f"{by} {POINTS.get(trait.quantity, trait.unit(units).symbol)}".strip(), f"{low} to {high}"


def chance(of: float) -> str:
    """``about 3 in 100``; never none: nothing here is certain."""
    if of < 0.001:
        return "under 1 in 1,000"
    return f"about {1000 * of:.0f} in 1,000" if of < 0.01 else f"about {100 * of:.0f} in 100"


def unsure(told: Told, units: str) -> str:
    """``Size: 0.10 in more in Briskwell (−0.05 to 0.25).``"""
    by, span = figures(told, units)
    return f"{trait_called(told.trait).label}: {by} more in {told.by.first} ({span})."
