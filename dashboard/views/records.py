"""What the page stands on: the records, what was wrong with them, how the figures were made, and the cautions."""

from __future__ import annotations

import panel as pn
from markupsafe import Markup

from dashboard.state import State
from dashboard.traits import TRAITS
from dashboard.views.elements import Prose, RowTable
from dashboard.views.words import counted

PAGE = 20


def records(state: State) -> pn.Column:
    catalogue = state.comparison.catalogue
    problems = list(catalogue.problems)

    def act(what: str, value) -> None:
        if what == "page":
            table.tell(view(problems, int(value)))

    table = RowTable(act)
    table.tell(view(problems, 1))
    words = Prose(told(catalogue))
    return pn.Column(words, table, sizing_mode="stretch_width")


def told(catalogue) -> Markup:
    seasons = sorted(catalogue.summaries["season"].dropna().unique())
    span = f", seasons {int(seasons[0])} to {int(seasons[-1])}" if seasons else ""
    said = Markup("<h2>What this page stands on</h2><p>{}</p>").format(
        f"{catalogue.records_title}: {counted(len(catalogue.cultivars), 'cultivar')}, {counted(len(catalogue.summaries), 'sample')}, "
        f"{counted(len(catalogue.fruit), 'fruit').replace('fruits', 'fruit')} at {counted(len(catalogue.sites), 'site')}{span}. "
        f"Data version {catalogue.version}."
    )
    errors = sum(problem.severity == "error" for problem in catalogue.problems)
    aside = (
        f"{counted(errors, 'place')} could not be used and {'was' if errors == 1 else 'were'} set aside"
        if errors
        else "Nothing was set aside"
    )
    flagged = counted(len(catalogue.problems) - errors, "place")
    said += Markup("<p>{}</p>").format(
        f"{aside}; {flagged} flagged to look at." + (" All are listed below." if catalogue.problems else "")
    )
    for fault in catalogue.market_problems:
        said += Markup('<p class="notice">{}</p>').format(fault)
    said += Markup("<h3>How the figures were made</h3><ul>{}</ul>").format(
        Markup("").join(
            Markup("<li>{}</li>").format(line)
            for line in (
                *catalogue.declared,
                "Estimates are raw averages: the mean of the site-season means. A cultivar seen only in a good year looks better than it is.",
                "The 90 % interval is pooled from how much cultivars vary between sites and seasons; with few seasons it is wide.",
                "Firmness is that of the fruit as picked. Fruit picked firmer is smaller and less sweet than the same fruit some days later: read the three together.",
                "The share of fruit that clears a market's limit is counted on the fruit that were measured.",
            )
        )
    )
    said += Markup("<h3>What the words mean</h3><dl>{}</dl>").format(
        Markup("").join(
            Markup("<div><dt>{}</dt><dd>{}</dd></div>").format(trait.label, trait.meaning)
            for trait in TRAITS.values()
        )
    )
    return said + Markup("<h3>Cautions</h3><ul>{}</ul>").format(
        Markup("").join(
            Markup("<li>{}</li>").format(line)
            for line in (
                "Trial results hold for the sites and seasons they come from.",
                "Chill requirements are estimates, not insurance.",
                "Protected cultivars may not be propagated without a licence.",
                "Follow your local extension service, plant-health rules and licensed advisers.",
            )
        )
    )


def view(problems: list, page: int) -> dict:
    pages = max(1, -(-len(problems) // PAGE))
    page = min(max(1, page), pages)
    return {
        "title": "What was found in the records",
        "columns": [
            {"key": "severity", "label": "What became of it"}, {"key": "place", "label": "Place"}, {"key": "value", "label": "Value"},
            {"key": "rule", "label": "Rule", "kind": "reason"}, {"key": "suggestion", "label": "Suggestion", "kind": "reason"},
        ],
        "rows": [
            {
                "id": str(number), "name": str(number),
                "cells": ["set aside" if p.severity == "error" else "look at it", place(p), str(p.value)[:80], p.rule, p.suggestion],
            }
            for number, p in list(enumerate(problems))[(page - 1) * PAGE : page * PAGE]
        ],
        "page": page, "pages": pages, "total": len(problems), "empty": "Nothing.",
    }  # fmt: skip


def place(problem) -> str:
    parts = [
        str(problem.file),
        f"sheet {problem.sheet}" if problem.sheet else "",
        f"row {problem.row}" if problem.row else "",
        problem.column or "",
    ]
    return ", ".join(part for part in parts if part)
