"""Everything known about one cultivar: its class, where it stands, when it is picked, what it rests on."""

from __future__ import annotations

from typing import Any

import pandas as pd
import panel as pn
import panel_material_ui as pmui
from markupsafe import Markup

from dashboard.charts import calendar, standing
from dashboard.comparison import Comparison
from dashboard.state import State
from dashboard.traits import TRAITS
from dashboard.views import live
from dashboard.views.elements import Prose, RowTable
from dashboard.views.facts import facts, site_name
from dashboard.views.words import counted

PAGE = 12
PICK = "Choose a cultivar"


def cultivar(state: State) -> pn.Column:
    catalogue = state.comparison.catalogue
    here = {"page": 1}
    chooser = pmui.AutocompleteInput(
        label="Cultivar (type part of its name)", options=[str(n) for n in catalogue.cultivars.index], value=state.cultivar,
        case_sensitive=False, search_strategy="includes", min_characters=1, width=320,
    )  # fmt: skip
    chooser.param.watch(
        lambda event: state.choose(cultivar=event.new) if event.new in state.known["cultivar"] else None,
        "value",
    )
    keep = live.button("", lambda: state.keep(state.cultivar), variant="outlined")
    words = Prose()
    stands = pn.pane.HoloViews(None, linked_axes=False, sizing_mode="stretch_width", min_width=300)
    picked = pn.pane.HoloViews(None, linked_axes=False, sizing_mode="stretch_width", min_width=300)
    values = RowTable(lambda *_: None)
    samples = RowTable(lambda what, value: turn(what, value))

    def turn(what: str, value) -> None:
        if what == "page":
            here["page"] = int(value)
            samples.tell(samples_view(state.comparison, here["page"]))

    def show(dossier, units: str) -> None:
        here["page"] = 1
        known = dossier is not None
        for part in (stands, picked, values, samples, keep):
            part.visible = known
        nothing = Markup("<p>{}</p>").format(
            "Type a name above, or press a name in the table of the first tab."
        )
        words.say(told(state.comparison) if known else nothing)
        if not known:
            return
        chooser.value = state.cultivar
        rows = standing.standings(catalogue.values, state.cultivar, units)
        stands.visible = len(rows) > 0
        if len(rows):
            stands.object = standing.standing(rows)
        own = catalogue.picks[catalogue.picks["cultivar"] == state.cultivar]
        own = own.assign(site=[site_name(catalogue, site) for site in own["site"]])
        picked.visible = len(own) > 0
        if len(own):
            picked.object = standing.seasons(own, calendar.extent(catalogue.windows), catalogue.south)
        values.tell(values_view(state.comparison))
        samples.tell(samples_view(state.comparison, 1))

    def kept(shortlist: tuple, name: str) -> None:
        keep.label = "Take off the shortlist" if name in shortlist else "Put on the shortlist"

    live.follow(state, show, "dossier", "units", tab="cultivar")
    live.follow(state, kept, "shortlist", "cultivar", tab="cultivar")
    heading = lambda text: Prose(Markup("<h3>{}</h3>").format(text))  # noqa: E731
    return pn.Column(
        pn.FlexBox(chooser, keep, align_items="center"),
        words,
        pn.FlexBox(
            pn.Column(
                heading("Where it stands among all cultivars"),
                stands,
                min_width=300,
                styles={"flex": "1 1 420px"},
            ),
            pn.Column(heading("When it was picked"), picked, min_width=300, styles={"flex": "1 1 420px"}),
            sizing_mode="stretch_width",
        ),
        values,
        samples,
        sizing_mode="stretch_width",
    )


def told(asked: Comparison) -> Markup:
    """The cultivar's facts, its fit to the market in one sentence, and the cautions that belong to it."""
    dossier = asked.dossier
    assert dossier is not None
    said = Markup("<h2>{}</h2>").format(asked.cultivar)
    if asked.market:
        name = asked.catalogue.markets[asked.market].name
        said += Markup("<p><b>{}:</b> {}</p>").format(name, asked.reason(asked.cultivar))
    lines = facts(asked.catalogue, dossier, asked.units)
    said += Markup("<dl>{}</dl>").format(
        Markup("").join(Markup("<div><dt>{}</dt><dd>{}</dd></div>").format(*line) for line in lines)
    )
    if dossier["facts"]["protected"]:
        said += Markup(
            "<p>Protected: it may not be propagated without a licence from the owner of the right.</p>"
        )
    return said


def values_view(asked: Comparison) -> dict:
    """Every trait with interval and evidence."""
    rows = []
    for key, trait in TRAITS.items():
        frame = asked.catalogue.values[key]
        own: Any = frame.loc[asked.cultivar]
        if pd.isna(own["estimate"]):
            rows.append(
                {
                    "id": key,
                    "name": trait.label,
                    "cells": [trait.heading(asked.units), "not recorded", "", "", "", ""],
                }
            )
            continue
        span = (
            f"{trait.written(own['low'], asked.units)} to {trait.written(own['high'], asked.units)}"
            if pd.notna(own["low"])
            else "not known"
        )
        cells = [
            trait.heading(asked.units), trait.written(own["estimate"], asked.units), span,
            f"{int(own['fruit']):,}" if trait.on_fruit else "–", f"{int(own['samples'])}", f"{int(own['seasons'])} at {counted(int(own['sites']), 'site')}",
        ]  # fmt: skip
        rows.append({"id": key, "name": trait.label, "cells": cells})
    method = next(iter(asked.catalogue.values.values()))["method"]
    return {
        "title": f"What it was worth, as {method.iloc[0] if len(method) else 'raw averages'} at picking, and what that rests on",
        "columns": [
            {"key": "trait", "label": "Trait"}, {"key": "estimate", "label": "Estimate", "kind": "number"},
            {"key": "interval", "label": "90 % interval", "kind": "number"}, {"key": "fruit", "label": "Fruit", "kind": "number"},
            {"key": "samples", "label": "Samples", "kind": "number"}, {"key": "seasons", "label": "Seasons"},
        ],
        "rows": rows,
    }  # fmt: skip


def samples_view(asked: Comparison, page: int) -> dict:
    """Every sample, newest first, down to how many fruit it had."""
    assert asked.dossier is not None
    rows = asked.dossier["samples"].sort_values(["date", "site"], ascending=[False, True], kind="stable")
    pages = max(1, -(-len(rows) // PAGE))
    page = min(max(1, page), pages)
    shown = ("size", "firmness", "cheek_difference", "sugar", "red", "attractiveness", "split_pit")
    part = rows.iloc[(page - 1) * PAGE : page * PAGE]
    return {
        "title": f"Its {counted(len(rows), 'sample')}, newest first",
        "columns": [
            {"key": "date", "label": "Picked", "kind": "date"}, {"key": "site", "label": "Site"}, {"key": "pick", "label": "Pick", "kind": "number"},
            {"key": "fruit", "label": "Fruit", "kind": "number"},
            *({"key": key, "label": TRAITS[key].heading(asked.units), "kind": "number"} for key in shown),
        ],
        "rows": [
            {
                "id": str(number), "name": str(number),
                "cells": [
                    f"{r['date']:%d %b %Y}" if pd.notna(r["date"]) else "–", site_name(asked.catalogue, r["site"]), f"{r['pick']:.0f}" if pd.notna(r["pick"]) else "–",
                    f"{r['fruit']:.0f}", *(TRAITS[key].written(r[key], asked.units) for key in shown),
                ],
            }
            for number, r in part.iterrows()
        ],
        "page": page, "pages": pages, "total": len(rows), "empty": "No samples of this cultivar are recorded.",
    }  # fmt: skip
