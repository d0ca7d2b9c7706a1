"""What the page stands on: the records, what was wrong with them, how the figures were made, and the cautions."""

from __future__ import annotations

from collections.abc import Iterable

import pandas as pd
import panel as pn
from markupsafe import Markup

from dashboard.answers.catalogue import Catalogue
from dashboard.charts import variation
from dashboard.estimates.variation import WORDS, sources
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.elements import Prose
from dashboard.page.parts.pressable import Fold
from dashboard.page.parts.twin import twin
from dashboard.page.tabs.check import found
from dashboard.terms.traits import trait_called
from dashboard.visit.state import State
from dashboard.wording.cautions import CAUTIONS
from dashboard.wording.stands_on import METHOD_TOLD, held


def records(state: State) -> Column:
    catalogue = state.question.catalogue
    shares = variation_rows(catalogue)

    def varied() -> list:
        if not len(shares):
            return [variation_told(catalogue)]
        picture = pn.pane.HoloViews(
            variation.variation(shares), linked_axes=False, sizing_mode="stretch_width"
        )
        of = twin(state, "Where the variation comes from", lambda _asked, _page: variation_view(shares), tab="records")  # fmt: skip
        return [variation_legend(shares), picture, of, variation_told(catalogue)]

    return Column(
        Prose(told(catalogue)),
        *found(state),
        Fold("How the figures were made", Prose(METHOD)),
        Fold("Where the variation comes from", make=varied),
        sizing_mode="stretch_width",
    )


def told(catalogue: Catalogue) -> Markup:
    """What the records hold, a line each, what is wrong with a market, and the cautions."""
    said = Markup("<h2>What this page stands on</h2>") + _list(held(catalogue))
    for fault in catalogue.market_problems:
        said += Markup('<p class="notice">{}</p>').format(fault)
    return said + Markup("<h3>Cautions</h3>") + _list(CAUTIONS)


def _list(lines: Iterable[str]) -> Markup:
    return Markup("<ul>{}</ul>").format(Markup("").join(Markup("<li>{}</li>").format(line) for line in lines))


METHOD = _list(METHOD_TOLD)


def variation_rows(catalogue: Catalogue) -> pd.DataFrame:
    """Every source of every trait with a model, its share as a stretch from start to end."""
    rows = []
    for key, worth in catalogue.worth.items():
        found, start = sources(worth), 0.0
        for part, told in found.iterrows():
            end = start + float(told["share"])
            rows.append((trait_called(key).label, told["source"], list(WORDS).index(str(part)), start, end))
            start = end
    return pd.DataFrame(rows, columns=["trait", "source", "place", "start", "end"])


def variation_view(rows: pd.DataFrame) -> dict:
    """The picture as a table: what of each trait's variation comes from each source."""
    parts = list(dict.fromkeys(rows.sort_values("place")["place"]))
    share = {(r["trait"], r["place"]): r["end"] - r["start"] for r in rows.to_dict("records")}
    return {
        "title": "Of a trait's variation, how much comes from where",
        "columns": [
            {"key": "trait", "label": "Trait", "kind": "head"},
            *({"key": str(part), "label": list(WORDS.values())[part], "kind": "number"} for part in parts),
        ],
        "rows": [
            {"id": trait, "name": "", "cells": [trait, *(f"{100 * share[trait, part]:.0f} %" if (trait, part) in share else "–" for part in parts)]}
            for trait in dict.fromkeys(rows["trait"])
        ],
    }  # fmt: skip


def variation_legend(rows: pd.DataFrame) -> Prose:
    said = Markup("")
    if len(rows):
        keys = Markup("").join(
            Markup('<span class="item"><span style="display: inline-block; width: 13px; height: 13px; background: {}"></span>{}</span>')
            .format(variation.SHADES[place], words) for place, words in enumerate(WORDS.values()) if place in set(rows["place"])
        )  # fmt: skip
        said += Markup('<div class="legend">{}</div>').format(keys)
    return Prose(said)


def variation_told(catalogue: Catalogue) -> Prose:
    """The picture in words, and what the records could not tell."""
    lines: dict[str, list[str]] = {}
    for key, worth in catalogue.worth.items():
        for sentence in (sources(worth).attrs["sentence"], *worth.plan.sentences):
            lines.setdefault(sentence, []).append(trait_called(key).label)
    told = [
        Markup("<li><b>{}</b>: {}</li>").format(", ".join(traits), sentence)
        for sentence, traits in lines.items()
        if sentence
    ]
    return Prose(Markup("<ul>{}</ul>").format(Markup("").join(told)))
