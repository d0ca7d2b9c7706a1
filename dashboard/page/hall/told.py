"""What the hall view says, as plain texts: what was asked, who is spoken of, how sure that is, where a phone finds it."""

from __future__ import annotations

from typing import Any

from dashboard.answers.question import Question
from dashboard.answers.spotlight import Spotlight
from dashboard.charts import fruit as drawn
from dashboard.charts import tradeoff
from dashboard.charts.code import code
from dashboard.market.verdict import QUALIFIES, TAKEN
from dashboard.ripening import day_label
from dashboard.terms.traits import HEADLINE, UNKNOWN, trait_called
from dashboard.visit.network_address import reach
from dashboard.wording.cautions import CAUTIONS, PROTECTED
from dashboard.wording.figures import (
    called,
    chance,
    choices_told,
    evidence,
    market_told,
    pit_told,
    qualify_told,
    records_name,
    sampled,
    score,
)
from dashboard.wording.legend import RING
from dashboard.wording.presenting import OTHER_PICTURE
from dashboard.wording.stands_on import METHOD_TOLD, counts, unsaid
from dashboard.wording.strip import heading, seasons_told

MARKS = {"yellow": ["yellow round", "yellow"], "white": ["white round", "white"], "red": ["red round", "red"],
         UNKNOWN: ["unknown round", "not recorded"]}  # fmt: skip
NOT_IN = "{name} is not in these filters."
TOO_LONG = "This view's address is too long for a code: clear some choices, or send the link."


def question(asked: Question) -> str:
    """Market and filters in one sentence, and how many are left."""
    whose = f"{asked.profile.name}: " if asked.profile else ""
    said = f"{whose}{int(asked.passes.sum()):,} of {sampled(asked.catalogue)} pass"
    picked = ", ".join(choices_told(asked))
    said += f" ({picked})" if picked else " (no filter set)"
    if asked.profile:
        said += f"; {qualify_told(asked, short=True)}"
    return said + "."


def limits(asked: Question) -> str:
    """What the market's limits ask; nothing without a market."""
    return market_told(asked.profile, asked.units)[0] if asked.profile else ""


def headline(asked: Question, shown: str, spot: Spotlight | None) -> tuple[str, str]:
    """Question and limits as far as they describe what is ``shown``, of ``keys.ANSWERED``: the slate, and those side by side, stand there
    whether they pass the filters or not."""
    if shown == "beside":
        basis = ", ".join(choices_told(asked, filters=False))
        return f"{basis[0].upper()}{basis[1:]}." if basis else "", ""
    if not filtered(asked, shown):
        whose = f"{asked.profile.name}: " if asked.profile else ""
        return f"{whose}what is on my slate, in these filters or not.", limits(asked)
    if spot is None or spot.place:
        return question(asked), limits(asked)
    left_out = NOT_IN.format(name=called(spot.name))
    return f"{question(asked)} {left_out}" if not shown else left_out, limits(asked)


def filtered(asked: Question, shown: str) -> bool:
    """Whether the filters choose what is ``shown``: not my slate, nor those side by side."""
    if shown == "season":
        return not asked.shortlist
    return shown != "beside" and (shown != "classes" or asked.weeks_of != "slate")


def legend(asked: Question, after: str) -> str:
    """What is drawn beside the marks, and the pair of traits that comes ``after`` this one."""
    invented = "Invented example. " * asked.catalogue.invented
    said = invented + f"Green ring: {RING}." + " Dashed: mean needed." * bool(asked.bounds)
    return said + OTHER_PICTURE.format(picture_told(after).lower())


def picture_told(pair: str) -> str:
    """The two traits of a picture: ``Size and sugar``."""
    return " and ".join(trait_called(trait).label for trait in tradeoff.pair(pair)).capitalize()


def marks(asked: Question) -> list[list[str]]:
    """The looks and the meaning of each kind of mark that is drawn."""
    drawn_now = asked.catalogue.cultivars[asked.passes]
    colours = set(drawn_now["flesh_colour"])
    flat = [["yellow flat", "flat"]] if "flat" in set(drawn_now["shape_type"]) else []
    return [mark for colour, mark in MARKS.items() if colour in colours] + flat


def spoken_of(asked: Question, spot: Spotlight, figures: bool = True) -> dict[str, Any]:
    """Everything told of the cultivar in the spotlight; ``fruit`` is a picture, the others are plain texts. Without ``figures`` where they
    stand beside it."""
    row = spot.row
    place = f"{spot.place} of {spot.among}" if spot.place else "not in these filters"
    if spot.place and asked.profile and row["verdict"] in TAKEN:
        count = asked.own_count
        inside = count.qualify if row["verdict"] == QUALIFIES else count.qualify + count.may
        place = (
            f"{spot.place} of {inside} that {'qualify' if row['verdict'] == QUALIFIES else 'qualify or may'}"
        )
    picked = "no pick recorded"
    if row["first"] == row["first"]:
        south = asked.catalogue.south
        picked = f"usually {day_label(row['first'], south)} to {day_label(row['last'], south)}"
    return {
        "name": spot.name,
        "place": place,
        "kind": _kind(row),
        "kept": spot.name in asked.shortlist,
        "stands": _stands(asked, row),
        "why": asked.reason(spot.name),
        "picked": picked,
        "seasons": int(row["seasons"]) if row["samples"] > 0 else 0,
        "rests": f"Rests on {evidence(row.to_dict())}" if row["samples"] > 0 else "Not sampled",
        "caution": PROTECTED if _protected(asked, spot.name) else "",
        "scale": "dashed: 2½ in" if asked.units == "us" else "dashed: 63.5 mm",
        "figures": [_figure(key, row, asked.units) for key in HEADLINE * figures],
        "fruit": str(
            drawn.drawing(spot.fruit, asked.units, drawn.span([spot.fruit, spot.largest], asked.units))
        ),
    }


def _protected(asked: Question, name: str) -> bool:
    return bool(asked.catalogue.cultivars.loc[[name], "protected"].eq(True).any())


def _kind(row: Any) -> str:
    words = (
        "flat" if row["shape_type"] == "flat" else "",
        row["flesh_colour"],
        row["fruit_type"],
    )
    said = " ".join(str(word) for word in words if word and word != UNKNOWN)
    return ", ".join(
        part for part in (said, pit_told(row["stone"]), str(row["status"])) if part and part != UNKNOWN
    )


def _stands(asked: Question, row: Any) -> list[list[str]]:
    """Figures before a market, each with what it is."""
    if asked.profile is None:
        return []
    told = [["score, 0 to 100", score(row)], ["chance it qualifies", chance(row["clears"])]]
    if row.get("leads", float("nan")) == row.get("leads", float("nan")):
        told.append([f"among the first {asked.top}", chance(row["leads"])])
    return told


def _figure(key: str, row: Any, system: str) -> dict[str, str]:
    trait = trait_called(key)
    symbol = trait.unit(system).symbol
    value, low, high = row[key], row[f"{key}_low"], row[f"{key}_high"]
    known = value == value
    return {
        "label": trait.label.lower(),
        "value": f"{trait.written(value, system)} {symbol}".strip() if known else "not measured",
        "between": f"{trait.written(low, system)} to {trait.written(high, system)}"
        if known and low == low
        else "",
    }


def evidence_told(asked: Question) -> list[tuple[str, list[str]]]:
    """What every answer rests on, what the records do not say, and the cautions: headings, each with its lines."""
    known = asked.catalogue
    return [
        ("What this rests on", [f"{records_name(known)}.", *counts(known), METHOD_TOLD[0]]),
        ("What the records do not say", unsaid(known)),
        ("Cautions", list(CAUTIONS)),
    ]


def slate(asked: Question) -> str:
    """My slate and how well it fills the season; nothing while it is empty."""
    strip = asked.strip
    return " ".join([f"{heading(asked)}.", *seasons_told(asked, strip)]) if asked.shortlist and strip else ""


def code_told(opened_at: str, view: str) -> dict[str, str]:
    """The code for the ordinary page of this view, its address in words, or why there is none."""
    found = reach(opened_at)
    if not found.base:
        return {"why": found.why}
    address = found.base + view
    picture = code(address)
    return {"picture": str(picture), "address": address} if picture is not None else {"why": TOO_LONG}
