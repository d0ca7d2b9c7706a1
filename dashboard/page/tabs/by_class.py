"""For nurseries: each class of fruit by week, how well it is covered, and what would fill a thin week."""

from __future__ import annotations

from functools import lru_cache, partial
from typing import Any

import panel_material_ui as pmui
from markupsafe import Markup

from dashboard.answers.class_weeks import ClassWeeks
from dashboard.answers.question import Question
from dashboard.charts import listing, style, weeks
from dashboard.charts.drawing import Drawing
from dashboard.charts.held import Held
from dashboard.market.verdict import NOT_KNOWN
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column, Wrapped
from dashboard.page.parts.downloads import Downloads
from dashboard.page.parts.elements import ChoiceBoxes, Prose, RowTable, paragraphs
from dashboard.page.parts.ticking import press, tick
from dashboard.page.parts.twin import twin
from dashboard.ripening import day_label
from dashboard.visit.state import State
from dashboard.wording.boxes import choice_group
from dashboard.wording.column_kinds import plain
from dashboard.wording.columns import COLUMNS
from dashboard.wording.figures import chance, of_hundred, years_in_ten
from dashboard.wording.filling import BOTH
from dashboard.wording.legend import COUNTS_IN_FULL
from dashboard.wording.lists import droppable_told

WHOSE = {"passing": "that pass your filters", "slate": "on your slate"}
MOST = 12
CHANCE = "Chance it is picked on a day of that week"
PUT_FIRST = "Put cultivars on my slate, or bring a list there: it then tells which of them could be dropped without a new gap."
NARROWEST = 640  # pixels: the boxes stay wide enough for a thumb
BOXES_READ = "Number in a box: how many {} are ripe on an average day."
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
    mine = live.button(
        "Open My slate",
        lambda: state.choose(tab="shortlist"),
        variant="text",
        visible="shortlist" in state.param["tab"].objects,
    )
    crowded, spare, heading = Prose(), Prose(), Prose()
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
        found = grid()
        framed = [found.classes.index(name) * len(found.starts) + found.starts.index(start)] if name else []
        held.choose("weeks", framed)  # the box that is told of, and no other
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
        told = BOXES_READ.format(WHOSE[state.question.weeks_of])
        may = f" {COUNTS_IN_FULL}" if state.question.profile else ""
        heading.say(TOLD.format(told + may, TO_FILL) + shades_told(state.question))
        weeks.fill(held, found, catalogue.south)
        crowded.say(_crowded(found, catalogue.south))
        offer(found)

    # A second press on a box would take its frame off; it is told of still.
    held.on_choose(
        "weeks", live.at_once(lambda rows: pick(rows[0]) if rows else put(here["class"], here["start"]))
    )
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
    live.follow(state, lambda *_parts: spare.say(spare_told(state.question)), "droppable", tab="classes")
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
        crowded,
        spare,
        mine,
        export,
        sizing_mode="stretch_width",
    )


@lru_cache(maxsize=1)
def _drawing() -> Drawing:
    return weeks.drawing()


GAP = "A gap though {count} of them count in the box already"
NONE_COUNTS = "A gap: none of them counts in the box yet"
NOBODY = "No cultivar of this class that passes your filters is picked near this week."


def candidates_view(asked: Question, kind: str, start: float) -> dict:
    """Cultivars of a class likely to be picked in a week, by the chance that they are and qualify, too; which of them count already."""
    grid = asked.class_weeks
    assert grid is not None
    if kind not in grid.classes:
        return {"title": "", "columns": [], "rows": [], "empty": NOBODY}
    found, known, fit = grid.candidates(kind, start), asked.catalogue.cultivars, asked.fit["taken"]
    suits = asked.fit["clears"]
    if asked.profile:  # by the chance for both; a chance that is not known comes last
        both = (found * suits.reindex(found.index)).sort_values(ascending=False, kind="stable")
        found = found.reindex(both.index)
    counts = set(grid.covers[kind].names)
    rows = [
        {
            "name": str(name), "look": "" if fit[str(name)] else "out", "chance": chance(part), "clears": suits[str(name)], "both": chance(part * float(suits[str(name)])),
            "counts": "yes" if name in counts else f"no: {_left_out(asked, str(name))}",
            "status": known["status"][str(name)], "seasons": asked.catalogue.windows["seasons"][str(name)],
        }
        for name, part in found.head(MOST).items()
    ]  # fmt: skip
    columns = (
        COLUMNS["keep"], COLUMNS["name"], plain("chance", CHANCE, "number"), *([COLUMNS["clears"], BOTH] if asked.profile else []),
        plain("counts", "Counts in the box"),
        COLUMNS["status"], COLUMNS["seasons"], *([COLUMNS["reason"]] if asked.profile else []),
    )  # fmt: skip
    shown = f"{len(rows)} of {len(found)}" if len(found) > len(rows) else f"{len(found)}"
    return {
        "title": f"{kind}, {_week(start, asked.catalogue.south)}: {shown} that could be picked then, of any status, "
        + ("the likeliest to qualify and be picked first" if asked.profile else "by their chance")
        + _gap(grid, kind, start, counts & set(found.index)),
        **listing.of_its_own(asked, columns, rows),
        "empty": NOBODY,
    }  # fmt: skip


def _gap(grid: ClassWeeks, kind: str, start: float, counted: set) -> str:
    """Of a red box that those who count are in it already."""
    row, week = grid.classes.index(kind), grid.starts.index(start)
    if not grid.grown[row, week] or grid.chance[row, week] >= grid.covers[kind].wanted:
        return ""
    return f". {GAP.format(count=len(counted)) if counted else NONE_COUNTS}"


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


def spare_told(asked: Question) -> Markup:
    """What could be dropped is told of my slate, in the words of that tab: a class by itself would seem to say otherwise."""
    lines = droppable_told(asked) or [PUT_FIRST]
    return Markup("<h3>What could be dropped</h3>") + paragraphs(lines)


def shades_told(asked: Question) -> Markup:
    """The key to the boxes."""
    sure = years_in_ten(asked)
    shades = (
        (style.GAPS, f"a gap: fruit every day in fewer than {sure}, the redder the fewer"),
        (style.SHADES[::2], f"covered: in {sure} or more, the darker the surer"),
        ((style.WASH,), "hardly any fruit is ripe then, in fewer than 5 years of 100"),
    )
    parts = [
        Markup('<span class="item">{}{}</span>').format(Markup("").join(map(_swatch, every)), said)
        for every, said in shades
    ]
    return Markup('<div class="legend">{}</div>').format(Markup("").join(parts))


def _swatch(shade: str) -> Markup:
    return Markup('<span class="swatch" style="background: {}"></span>').format(shade)


def _left_out(asked: Question, name: str) -> str:
    """Why a cultivar does not count in the box."""
    if asked.weeks_of == "slate" and name not in asked.shortlist:
        return "not on my slate"
    if asked.profile and not asked.fit["taken"][name]:
        word = str(asked.fit["verdict"][name])
        return f"{word} {'for ' * (word == NOT_KNOWN)}{asked.profile.name}"
    return "does not pass your filters"


def _week(start: float, south: bool) -> str:
    return f"{day_label(start, south)} to {day_label(start + 6, south)}"
