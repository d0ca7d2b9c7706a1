"""For nurseries: each class of fruit by week, how well it is covered, and what would fill a thin week."""

from __future__ import annotations

import io
from functools import lru_cache

import panel as pn
import panel_material_ui as pmui
from markupsafe import Markup

from dashboard.charts import weeks
from dashboard.charts.drawing import Drawing
from dashboard.charts.held import Held
from dashboard.comparison import Comparison
from dashboard.handout.tables import weeks_csv
from dashboard.ripening import day_label
from dashboard.state import State
from dashboard.views import live
from dashboard.views.elements import Prose, RowTable
from dashboard.views.words import listed
from dashboard.weeks import ClassWeeks

MOST = 12
NARROWEST = 640  # pixels: the boxes stay wide enough for a thumb
TOLD = Markup(
    "<h2>Each class of fruit, week by week</h2><p>The number in a box is how many cultivars of that class that pass your filters "
    "and clear the market are being picked on an average day of that week; the darker, the surer that enough are. Red: fewer than "
    "80 of 100 seasons; grey: none of that class counts at all. Press a box, or choose a class and week below, to see what could fill it.</p>"
)


def classes(state: State) -> pn.Column:
    grid = state.comparison.class_weeks
    if grid is None:
        return pn.Column(Prose(Markup("<p>{}</p>").format(state.comparison.catalogue.ripening.refused)))
    catalogue = state.comparison.catalogue
    held = Held(_drawing(grid.classes, grid.starts, catalogue.south))
    held.figures[0].styles = {"min-width": f"{NARROWEST}px"}
    here = {"cell": 0}
    names = [f"{kind}: {_week(start, catalogue.south)}" for kind in grid.classes for start in grid.starts]
    which = pmui.Select(
        label="Class and week",
        options={name: place for place, name in enumerate(names)},
        value=0,
        sizing_mode="stretch_width",
        max_width=420,
    )
    fills = RowTable(lambda what, value: _press(state, what, value))
    spare = Prose()

    def pick(place: int) -> None:
        here["cell"] = place
        which.value = place
        fill()

    def fill(*_parts) -> None:
        fills.tell(candidates_view(state.comparison, here["cell"]))

    def draw(found: ClassWeeks) -> None:
        weeks.fill(held, found)
        spare.say(_spare(found))
        fill()

    held.on_choose("weeks", live.at_once(lambda rows: pick(rows[0]) if rows else None))
    which.param.watch(
        live.at_once(lambda event: pick(event.new) if event.new != here["cell"] else None), "value"
    )
    live.follow(state, draw, "class_weeks", tab="classes")
    live.follow(state, fill, "shortlist", tab="classes")
    export = pmui.FileDownload(
        callback=lambda: io.BytesIO(weeks_csv(state.comparison)), filename="orchard-slate-weeks.csv", label="These weeks as .csv", variant="outlined"
    )  # fmt: skip
    return pn.Column(
        Prose(TOLD),
        pn.Column(
            *held.figures,
            sizing_mode="stretch_width",
            styles={"overflow-x": "auto"},
            css_classes=["sideways"],
        ),
        which,
        fills,
        spare,
        export,
        sizing_mode="stretch_width",
    )


@lru_cache(maxsize=8)
def _drawing(kinds: tuple[str, ...], starts: tuple[float, ...], south: bool) -> Drawing:
    return weeks.drawing(kinds, starts, south)


def candidates_view(asked: Comparison, cell: int) -> dict:
    """Cultivars of a class likely to be picked in a week: those that stand in the set, then those that would fill it."""
    grid = asked.class_weeks
    assert grid is not None
    kind, start = grid.classes[cell // len(grid.starts)], grid.starts[cell % len(grid.starts)]
    found = grid.candidates(kind, start).head(MOST)
    known = asked.catalogue.cultivars
    rows = [
        {
            "id": str(name), "name": str(name),
            "cells": [
                "yes" if name in asked.shortlist else "no", str(name), f"{100 * chance:.0f} %", str(known["status"][str(name)]),
                asked.reason(str(name)) or "counts already",
            ],
        }
        for name, chance in found.items()
    ]  # fmt: skip
    return {
        "title": f"{kind}, {_week(start, asked.catalogue.south)}: cultivars of this class by the chance that they are being picked then, "
        "numbered selections included",
        "columns": [
            {"key": "keep", "label": "List", "kind": "keep"}, {"key": "name", "label": "Cultivar", "kind": "name"},
            {"key": "chance", "label": "Chance", "kind": "number"}, {"key": "status", "label": "Status"},
            {"key": "reason", "label": "For this market", "kind": "reason"},
        ],
        "rows": rows, "empty": "No cultivar of this class on record is picked near this week.",
    }  # fmt: skip


def _spare(found: ClassWeeks) -> Markup:
    lines = [
        Markup("<li><b>{}</b>: {}</li>").format(kind, listed([str(name) for name in names]))
        for kind, names in found.spare.items()
        if names
    ]
    if not lines:
        return Markup("")
    return Markup("<h3>They add nothing where they stand</h3><p>{}</p><ul>{}</ul>").format(
        "Without any one of these its class would lie bare no longer than with it (by less than a tenth of a day a season). That "
        "says nothing of how good they are.",
        Markup("").join(lines),
    )


def _press(state: State, what: str, value: object) -> None:
    if what == "open":
        state.open(str(value))
    elif what == "keep" and str(value) in state.known["shortlist"]:
        state.keep(str(value))


def _week(start: float, south: bool) -> str:
    return f"{day_label(start, south)} to {day_label(start + 6, south)}"
