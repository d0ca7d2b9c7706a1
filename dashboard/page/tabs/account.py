"""One cultivar before a market: what it may expect, what each wish costs it, what the limits it misses would take; and who could
stand in for it."""

from __future__ import annotations

from dataclasses import replace

from markupsafe import Markup

from dashboard.answers.question import Question
from dashboard.answers.stand_ins import SURE, Change
from dashboard.charts import listing
from dashboard.market import Market
from dashboard.page.parts.elements import paragraphs
from dashboard.terms.traits import CLASSES, trait_called
from dashboard.wording import account as reckoning
from dashboard.wording.column_kinds import plain
from dashboard.wording.columns import COLUMNS
from dashboard.wording.differences import POINTS
from dashboard.wording.facts import days_apart
from dashboard.wording.figures import counted, evidence

# What a stand-in is when it has more of a trait, and when it has less.
CHANGED = {
    "size": ("larger", "smaller"),
    "firmness": ("firmer", "softer"),
    "sugar": ("sweeter", "less sweet"),
    "cheek_difference": ("cheeks differ more", "cheeks differ less"),
    "roundness": ("deeper for its width", "shallower for its width"),
    "red": ("redder", "less red"),
    "attractiveness": ("more attractive", "less attractive"),
    "shape": ("better in shape", "worse in shape"),
    "fuzz": ("less fuzzy", "fuzzier"),
    "split_pit": ("more split pits", "fewer split pits"),
    "cracked_tip": ("more cracked tips", "fewer cracked tips"),
}


def account_told(asked: Question) -> Markup:
    """What the market may expect of the opened cultivar, and what would have to change where it is out."""
    return paragraphs(reckoning.account_told(asked))


def costs_view(asked: Question) -> dict:
    """Each wish of the market, the dearest first."""
    rows = [{"id": str(number), **row} for number, row in enumerate(reckoning.cost_rows(asked))]
    return {
        "title": "What each wish of the market costs it, in points of the score (0 to 100), the dearest first. The score multiplies: "
        "one wish not met at all makes it 0. So the costs do not add up to what is missing.",
        **listing.of_its_own(asked, reckoning.COSTS, rows),
        "empty": reckoning.NO_WISHES,
    }  # fmt: skip


def stand_ins_view(asked: Question) -> dict:
    """Who could stand in for the opened cultivar, what would be gained and what lost."""
    facts = asked.catalogue.cultivars
    table = asked.rows_of(tuple(one.name for one in asked.stand_ins))
    rows = [
        {
            **table.loc[one.name], "name": one.name, "days": days_apart(one.days), "gains": _changes(asked, one.changes, True),
            "loses": _changes(asked, one.changes, False), "unsure": _unsure(asked, one.changes, one.unknown),
        }
        for one in asked.stand_ins
    ]  # fmt: skip
    columns = (
        COLUMNS["keep"], COLUMNS["name"], plain("days", "Ripens"), plain("gains", "Gains", "reason"), plain("loses", "Loses", "reason"),
        plain("unsure", "Differs without better or worse, or not surely", "reason"), *([COLUMNS["reason"]] if asked.profile else []),
        COLUMNS["status"], replace(COLUMNS["rests"], told=lambda _asked, row: evidence(row)),
    )  # fmt: skip
    kind = ", ".join(
        str(facts[field][asked.cultivar])
        for field in ("fruit_type", "flesh_colour", "acidity_class", "shape_type")
    )
    weighed = (
        "what the market weighs" if asked.profile and asked.profile.wishes else "size, firmness and sugar"
    )
    return {
        "title": f"What could stand in for it: the same class ({kind}), ripe within {counted(asked.apart, 'day')}, nearest in {weighed} first. "
        f"Gains and losses are told where the chance of being one is at least {100 * SURE:.0f} %.",
        **listing.of_its_own(asked, columns, rows),
        "empty": "No cultivar of its class ripens that near; allow more days, or take the filter on status off.",
    }  # fmt: skip


def _changes(asked: Question, changes: tuple[Change, ...], better: bool) -> str:
    told = [_by(asked, one) for one in changes if one.better is better and one.sure >= SURE]
    return "; ".join(told) or "–"


def _unsure(asked: Question, changes: tuple[Change, ...], unknown: tuple[str, ...]) -> str:
    told = [_by(asked, one) for one in changes if not one.refused and one.better is None and one.sure >= SURE]
    alike = [trait_called(one.trait).label.lower() for one in changes if not one.refused and one.sure < SURE]
    refused = list(dict.fromkeys(one.refused for one in changes if one.refused))
    told += [f"{CLASSES[field][0].lower()} not recorded" for field in unknown]
    if alike:
        told.append(f"not surely different: {', '.join(alike)}")
    return "; ".join([*told, *refused]) or "–"


def _by(asked: Question, one: Change) -> str:
    return changed(one, asked.profile, asked.units)


def changed(one: Change, market: Market | None, system: str) -> str:
    """``softer by 3.2 lbf, nearer the ideal``."""
    trait = trait_called(one.trait)
    more, less = CHANGED[one.trait]
    unit = POINTS.get(trait.quantity, trait.unit(system).symbol)
    told = (
        f"{more if one.by > 0 else less} by {trait.difference(abs(one.by), system).removeprefix('+')} {unit}"
    )
    aimed = market is not None and any(
        wish.key == one.trait and wish.shape == "target" for wish in market.wishes
    )
    if not aimed or one.better is None:
        return told.strip()
    return f"{told.strip()}, {'nearer the ideal' if one.better else 'farther from the ideal'}"
