"""For nurseries: each class of fruit by week, how well it is covered, and what would fill a thin week."""

from __future__ import annotations

from functools import lru_cache, partial
from typing import Any

import pandas as pd
import panel_material_ui as pmui
from markupsafe import Markup

from dashboard.answers.class_weeks import ClassWeeks
from dashboard.answers.question import Question
from dashboard.charts import listing, weeks
from dashboard.charts.drawing import Drawing
from dashboard.charts.held import Held
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column, Wrapped
from dashboard.page.parts.downloads import Downloads
from dashboard.page.parts.elements import ChoiceBoxes, Prose, RowTable
from dashboard.page.parts.ticking import press, tick
from dashboard.page.parts.twin import twin
from dashboard.ripening import day_label
from dashboard.visit.state import State
from dashboard.wording.boxes import choice_group
from dashboard.wording.column_kinds import plain
from dashboard.wording.columns import COLUMNS
from dashboard.wording.figures import chance, listed, of_hundred, years_in_ten
from dashboard.wording.legend import COUNTS_IN_FULL

WHOSE = {"passing": "that pass your filters", "slate": "on your slate"}
MOST = 12
NARROWEST = 640  # pixels: the boxes stay wide enough for a thumb
BOXES_READ = "Number: how many {} are ripe on an average day. Green: fruit every day in at least {}. Red: a gap. Gray: nobody’s fruit is ripe then."
TOLD = Markup("<h2>Each class of fruit, week by week</h2><p>{} {}</p>")
TO_FILL = "Press a box, or choose a class and week below, to see what could fill it."


def classes(state: State) -> Column:
    if state.question.class_weeks is None:
        return Column(Prose(Markup("<p>{}</p>").format(state.question.catalogue.ripening.refused)))
    catalogue = state.question.catalogue
    held = Held(_drawing())
    held.figures[0].styles = {"min-width": f"{NARROWEST}px"}
    here: dict[str, Any] = {"class": "", "start": 0.0, "asked": 0}  # the box that is told of
    kind = pmui.Select(label="Class", options=[], width=280)
    week = pmui.Select(label="Week", options={}, width=240)
    fills = RowTable(partial(press, state))
    spare, heading = Prose(), Prose()
    counted = ChoiceBoxes(partial(tick, state), groups=[choice_group(catalogue, "weeks_of")], margin=(5, 10))

    def grid() -> ClassWeeks:
        found = state.question.class_weeks
        assert found is not None
        return found

    def pick(cell: int) -> None:
        found = grid()
        here["asked"] += 1
        put(found.classes[cell // len(found.starts)], found.starts[cell % len(found.starts)])

    def put(name: str, start: float) -> None:
        here["class"], here["start"] = name, start
        kind.value, week.value = name or None, start if name else None
        fill()

    def fill(*_parts) -> None:
        told = candidates_view(state.question, here["class"], here["start"])
        fills.tell({**told, "asked": here["asked"]})

    def offer(found: ClassWeeks) -> None:
        """The classes and weeks asked for; a box that is no longer among them gives way to the first."""
        kind.options = list(found.classes)
        week.options = {_week(start, catalogue.south): start for start in found.starts}
        if here["class"] in found.classes and here["start"] in found.starts:
            put(here["class"], here["start"])
        else:
            put(found.classes[0] if found.classes else "", found.starts[0])

    def ticked(whose: str) -> None:
        counted.tell([{"left": [], "chosen": [list(WHOSE).index(whose)]}])

    def draw(found: ClassWeeks, *_whose) -> None:
        told = BOXES_READ.format(WHOSE[state.question.weeks_of], years_in_ten(state.question))
        may = f" {COUNTS_IN_FULL}" if state.question.profile else ""
        heading.say(TOLD.format(told + may, TO_FILL))
        weeks.fill(held, found, catalogue.south)
        spare.say(_crowded(found, catalogue.south) + _spare(found))
        offer(found)

    held.on_choose("weeks", live.at_once(lambda rows: pick(rows[0]) if rows else None))
    for menu in (kind, week):
        menu.param.watch(live.at_once(lambda _event: chosen()), "value")

    def chosen() -> None:
        if (
            kind.value
            and week.value is not None
            and (kind.value, week.value) != (here["class"], here["start"])
        ):
            put(str(kind.value), float(week.value))

    live.follow(state, ticked, "weeks_of", tab="classes")
    live.follow(state, draw, "class_weeks", "weeks_of", tab="classes")
    live.follow(state, fill, "shortlist", tab="classes")
    export = Downloads(state, {"These weeks as .csv": "orchard-slate-weeks.csv"})
    return Column(
        heading,
        counted,
        Column(
            *held.figures,
            sizing_mode="stretch_width",
            styles={"overflow-x": "auto"},
            css_classes=["sideways"],
        ),
        twin(state, "All boxes", boxes_view, "class_weeks", tab="classes"),
        Wrapped(kind, week),
        fills,
        spare,
        export,
        sizing_mode="stretch_width",
    )


@lru_cache(maxsize=1)
def _drawing() -> Drawing:
    return weeks.drawing()


NOBODY = "No cultivar of this class that passes your filters is picked near this week."


def candidates_view(asked: Question, kind: str, start: float) -> dict:
    """Cultivars of a class likely to be picked in a week: those that stand in the set, then those that would fill it."""
    grid = asked.class_weeks
    assert grid is not None
    if kind not in grid.classes:
        return {"title": "", "columns": [], "rows": [], "empty": NOBODY}
    found, known, fit = grid.candidates(kind, start), asked.catalogue.cultivars, asked.fit["taken"]
    taken = fit.reindex(found.index).to_numpy(dtype=bool)
    found = pd.concat([found[taken], found[~taken]])
    counts = set(grid.covers[kind].names)
    rows = [
        {
            "name": str(name), "look": "" if fit[name] else "out", "chance": chance(part), "counts": "yes" if name in counts else "no",
            "status": known["status"][str(name)], "seasons": asked.catalogue.windows["seasons"][str(name)],
        }
        for name, part in found.head(MOST).items()
    ]  # fmt: skip
    columns = (
        COLUMNS["keep"], COLUMNS["name"], plain("chance", "Chance", "number"), plain("counts", "Counts in the box"),
        COLUMNS["status"], COLUMNS["seasons"], *([COLUMNS["reason"]] if asked.profile else []),
    )  # fmt: skip
    shown = f"{len(rows)} of {len(found)}" if len(found) > len(rows) else f"{len(found)}"
    return {
        "title": f"{kind}, {_week(start, asked.catalogue.south)}: {shown} that could be picked then, of any status, "
        + ("those that qualify, or may, first" if asked.profile else "by their chance"),
        **listing.of_its_own(asked, columns, rows),
        "empty": NOBODY,
    }  # fmt: skip


def boxes_view(asked: Question, _page: int) -> dict:
    """The boxes as a table: a row a class, a column a week."""
    grid, south = asked.class_weeks, asked.catalogue.south
    assert grid is not None
    return {
        "title": f"How many are being picked on an average day of the week that begins on the date; in brackets, in how many years of 100 at least {asked.least} is on its worst day",
        "columns": [
            {"key": "kind", "label": "Class", "kind": "head"},
            *({"key": f"w{place}", "label": day_label(start, south), "kind": "number"} for place, start in enumerate(grid.starts)),
        ],
        "rows": [
            {
                "id": kind, "name": "",
                "cells": [kind, *(f"{count:.1f} ({of_hundred(part)})" for count, part in zip(counts, chances, strict=True))],
            }
            for kind, counts, chances in zip(grid.classes, grid.count, grid.chance, strict=True)
        ],
        "empty": "No class of fruit passes your filters.",
    }  # fmt: skip


def _crowded(found: ClassWeeks, south: bool) -> Markup:
    lines = [
        Markup("<li><b>{}</b>: {}</li>").format(
            kind, ", ".join(f"{day_label(a, south)} to {day_label(b, south)}" for a, b in cover.crowded)
        )
        for kind, cover in found.covers.items()
        if cover.crowded
    ]
    said = Markup("<h3>Crowded: more than twice the usual number of the class at once</h3>")
    return said + (
        Markup("<ul>{}</ul>").format(Markup("").join(lines)) if lines else Markup("<p>Nowhere.</p>")
    )


def _spare(found: ClassWeeks) -> Markup:
    lines = [
        Markup("<li><b>{}</b>: {}</li>").format(kind, listed([str(name) for name in names]))
        for kind, names in found.spare.items()
        if names
    ]
    if not lines:
        return Markup("<h3>Could be dropped without a new gap</h3><p>None.</p>")
    return Markup("<h3>Could be dropped without a new gap</h3><p>{}</p><ul>{}</ul>").format(
        "Without any one of these its class has no more days without fruit (by less than a tenth of a day a year). That "
        "says nothing of how good they are.",
        Markup("").join(lines),
    )


def _week(start: float, south: bool) -> str:
    return f"{day_label(start, south)} to {day_label(start + 6, south)}"
