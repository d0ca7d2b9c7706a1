"""The rows of a table of cultivars, each cell a plain text: the ranking and the shortlist write them alike."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import pandas as pd

from dashboard.answers.question import Comparison
from dashboard.charts import style
from dashboard.market.verdict import TAKEN
from dashboard.terms.glossary import meaning
from dashboard.terms.traits import HEADLINE, TRAITS
from dashboard.visit.state import State
from dashboard.wording.figures import chance, evidence, interval, kind, picked, score

WRITTEN = (
    "verdict", "group", "score", "score_low", "score_high", "clears", "leads", "flesh_colour", "shape_type", "fruit_type", "status", "first", "last", "seasons", "sites", "samples",
    *(f"{key}{end}" for key in HEADLINE for end in ("", "_low", "_high")),
)  # fmt: skip


def press(state: State, what: str, value: object) -> None:
    """What a press on a row's name or star does, in every table of cultivars."""
    if what == "open":
        state.open(str(value))
    elif what == "keep":
        state.keep(str(value))


def columns(asked: Comparison, leads: bool = True) -> list[dict]:
    """``leads``: with the chance of being among the first, which is told of those that pass."""
    market: list[dict[str, Any]] = [
        {
            "key": "score", "label": "Score", "kind": "number", "sorts": True,
            "meaning": f"{meaning('score')} In 8 cases of 10 it lies within the brackets.",
        },
        {
            "key": "clears", "label": "Chance it qualifies", "kind": "number", "sorts": True,
            "meaning": meaning("chance that all limits hold"),
        },
        *([{
            "key": "leads", "label": f"Among first {asked.top}", "kind": "number", "sorts": True,
            "meaning": "chance of being one of them: of those that pass your filters and hold every limit, those that score most",
        }] if leads else []),
        {"key": "verdict", "label": "For this market", "kind": "reason", "meaning": meaning("qualifies")},
    ]  # fmt: skip
    # How sure a figure is stands beside it, not where a narrow screen ends.
    rests = {
        "key": "seasons",
        "label": "Rests on",
        "kind": "evidence",
        "sorts": True,
        "meaning": meaning("evidence"),
    }
    return [
        {"key": "keep", "label": "List", "kind": "keep", "meaning": meaning("shortlist")},
        {"key": "mark", "label": "Fruit", "kind": "mark"},
        {"key": "name", "label": "Cultivar", "kind": "name", "sorts": True},
        *([*market[:-1], rests, market[-1]] if asked.profile else []),
        {
            "key": "first",
            "label": "Usually picked",
            "kind": "date",
            "sorts": True,
            "meaning": meaning("ripening window"),
        },
        *(
            {
                "key": key,
                "label": TRAITS[key].heading(asked.units),
                "kind": "number",
                "sorts": True,
                "meaning": TRAITS[key].meaning,
            }
            for key in HEADLINE
        ),
        *([] if asked.profile else [rests]),
    ]


def written_rows(rows: pd.DataFrame) -> Iterator[tuple[Any, dict[str, Any]]]:
    """Name and figures of each row; only the columns the table writes, for speed."""
    columns = {column: rows[column].tolist() for column in WRITTEN}
    for place, name in enumerate(rows.index):
        yield name, {column: values[place] for column, values in columns.items()}


def row(
    asked: Comparison, name: Any, values: Mapping[Any, Any], mark_chosen: bool = True, leads: bool = True
) -> dict:
    south = asked.catalogue.south
    market = []
    if asked.profile:
        told = [score(values), chance(values["clears"]), *([chance(values["leads"])] if leads else [])]
        market = [*told, _rests_on(values), asked.reason(name)]
    look = " ".join(
        word
        for word, on in (
            ("out", asked.profile and values["verdict"] not in TAKEN),
            ("chosen", mark_chosen and name in asked.chosen),
        )
        if on
    )
    cells = [
        "yes" if name in asked.shortlist else "no",
        [style.mark_class(values["flesh_colour"], values["shape_type"]), kind(values)],
        str(name), *market, picked(values, south),
        *(interval(key, values, asked.units) for key in HEADLINE),
        *([] if asked.profile else [_rests_on(values)]),
    ]  # fmt: skip
    return {"id": str(name), "name": str(name), "cells": cells, "look": look}


def _rests_on(values: Mapping[Any, Any]) -> str:
    """The evidence, and whether a cultivar stands apart from most others: then it is ranked with its own group only."""
    return evidence(values) + (", not joined to the others" if values["group"] else "")
