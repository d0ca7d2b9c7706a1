"""What one cultivar is worth, a row a trait: the page and the paper tell it in the same columns."""

from __future__ import annotations

from typing import Any

import pandas as pd

from dashboard.answers.question import Question
from dashboard.estimates.worth import LEANS_FROM
from dashboard.terms.traits import UNKNOWN, Trait, trait_called
from dashboard.wording.column_kinds import plain
from dashboard.wording.figures import counted
from dashboard.wording.how_taken import trait_heading

INTERVAL = plain("interval", "Likely range (90 %)", "number")
VALUES = (
    plain("trait", "Trait"), plain("estimate", "Average", "number"), INTERVAL, plain("reliability", "Reliability", "number"),
    plain("fruit", "Fruit", "number"), plain("samples", "Samples", "number"), plain("seasons", "Seasons"),
)  # fmt: skip


def value_rows(asked: Question) -> list[dict[str, str]]:
    """The cells of ``VALUES`` for every trait of the opened cultivar, and its key; those without a reading say so."""
    return [
        {"id": key, "name": trait.label, **_value(asked, key, trait)}
        for key, trait in ((key, trait_called(key)) for key in asked.values)
    ]


def _value(asked: Question, key: str, trait: Trait) -> dict[str, str]:
    own: Any = asked.values[key].loc[asked.cultivar]
    blank = {column.key: "" for column in VALUES} | {"trait": trait_heading(asked, key)}
    if pd.isna(own["estimate"]):
        return blank | {"estimate": UNKNOWN}
    return blank | {
        "estimate": trait.written(own["estimate"], asked.units), "interval": _span(trait, own, asked.units),
        "reliability": f"{own['reliability']:.2f}" if pd.notna(own["reliability"]) else "–",
        "fruit": f"{int(own['fruit']):,}" if trait.on_fruit else "–", "samples": f"{int(own['samples'])}",
        "seasons": f"{int(own['seasons'])} at {counted(int(own['sites']), 'site')}{_leaning(asked, key)}",
    }  # fmt: skip


def _leaning(asked: Question, key: str) -> str:
    known = asked.catalogue.equal if asked.basis.ripeness == "equal" else asked.catalogue.worth
    leans = key in known and known[key].leaning(asked.cultivar) >= LEANS_FROM
    return "; leans on its relatives" if leans else ""


def _span(trait: Trait, own: Any, system: str) -> str:
    if pd.isna(own["low"]):
        return "not known"
    return f"{trait.written(own['low'], system)} to {trait.written(own['high'], system)}"
