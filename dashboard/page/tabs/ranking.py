"""The ranked table: who qualifies and why, each estimate with its interval, and what it rests on."""

from __future__ import annotations

import math
from functools import partial
from typing import Any

import pandas as pd
from markupsafe import Markup

from dashboard.answers.question import Question
from dashboard.charts import listing, style
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column, Wrapped
from dashboard.page.parts.elements import ChoiceBoxes, Prose, RowTable, Toggle
from dashboard.page.parts.ticking import press, tick
from dashboard.page.tabs.how_sure import about_ranking
from dashboard.visit.state import SHOWN, State
from dashboard.wording.boxes import choice_group, group_of
from dashboard.wording.column_kinds import words
from dashboard.wording.columns import column, offered, shown
from dashboard.wording.figures import basis_told
from dashboard.wording.order import first_told

PAGE = 15
SHOWN_AS = group_of("shown", "Show", dict(zip(SHOWN, ("List", "Pictures"), strict=True)), single=True)


def ranking(state: State, beside: Column | None = None) -> Column:
    """``beside``: what stands over the table or, in a wide window, beside it."""
    here: dict[str, Any] = {"page": 1, "sort": None}

    def act(what: str, value) -> None:
        press(state, what, value)
        if what == "page":
            here["page"] = int(value)
            draw()
        elif what == "sort":
            turned(str(value))
            draw()

    def turned(key: str) -> None:
        before = here["sort"]
        there = {one.key: one for one in shown(state.question)}
        if key in there:
            up = not before[1] if before and before[0] == key else there[key].upwards
            here.update(page=1, sort=(key, up))

    table = RowTable(act)
    line, about = Prose(styles={"flex": "1 1 300px", "width": "auto"}), Prose()
    toggle = Toggle(lambda _field, chosen: state.choose(shown=chosen[0]), groups=[SHOWN_AS], margin=(0, 10))
    choices = ChoiceBoxes(
        partial(tick, state),
        groups=[choice_group(state.question.catalogue, "top"), further_columns(state.question)],
        margin=(0, 10),
    )

    def draw(*_parts) -> None:
        table.tell(view(state.question, here))
        line.say(first_line(state.question, here["sort"]))

    def start(*_parts) -> None:  # what is asked for anew begins on its first page; it is drawn just after
        here["page"] = 1

    def tell(*_parts) -> None:
        asked = state.question
        about.say(about_ranking(asked))
        ranked = asked.profile is not None and bool(asked.profile.wishes)
        choices.tell([
            {"left": [], "chosen": [state.known["top"].index(asked.top)], "away": not ranked},
            {"left": [], "chosen": [at for at, key in enumerate(offered(asked.catalogue)) if key in asked.columns]},
        ])  # fmt: skip

    live.follow(state, start, "ranking", "profile", "units", tab="fruit")
    live.follow(state, tell, "ranking", "openings", "profile", "units", "columns", tab="fruit")
    live.follow(
        state,
        draw,
        "ranking",
        "profile",
        "units",
        "shortlist",
        "chosen",
        "columns",
        "strip",
        "my_site",
        tab="fruit",
    )
    live.heed(state, lambda: toggle.tell([{"left": [], "chosen": [SHOWN.index(state.shown)]}]), "shown")
    rows = Column(table, choices, about, sizing_mode="stretch_width", css_classes=["rows"])
    return Column(
        Wrapped(line, toggle),
        Column(
            *([beside] if beside is not None else []),
            rows,
            stylesheets=[style.BESIDE_CSS],
            sizing_mode="stretch_width",
        ),
        sizing_mode="stretch_width",
    )


def first_line(asked: Question, sort: tuple[str, bool] | None) -> Markup:
    """How many qualify, of how many, and what comes first."""
    first, rest = first_told(asked)
    by = _by_hand(asked, *sort) if sort else "best first" if asked.profile else ""
    return Markup('<h2 class="first">{} <span class="quiet rest">{}</span></h2>').format(
        first, " · ".join(filter(None, (rest, by)))
    )


def view(asked: Question, here: dict) -> dict:
    """One page of the table as plain text."""
    sortable = {one.key: one.by for one in shown(asked) if one.by}
    sort = here["sort"] if here["sort"] and here["sort"][0] in sortable else None
    rows = _sorted(asked.ranking, (sortable[sort[0]], sort[1]) if sort else None)
    pages = max(1, math.ceil(len(rows) / PAGE))
    page = min(max(1, here["page"]), pages)
    part = rows.iloc[(page - 1) * PAGE : page * PAGE]
    return {
        "title": title(asked, _by_hand(asked, *sort) if sort else ""),
        **listing.table(asked, part),
        "page": page, "pages": pages, "total": len(rows), "sort": list(sort) if sort else None,
        "empty": asked.emptied.sentence if asked.emptied else "Nothing to show.",
    }  # fmt: skip


def further_columns(asked: Question) -> dict:
    """What the list, the shortlist and what is taken home can tell beside the usual."""
    known = asked.catalogue
    return group_of(
        "columns", "Columns", {key: words(column(known, key).label, asked) for key in offered(known)}
    )


def title(asked: Question, by_hand: str = "") -> str:
    """``by_hand``: what it was sorted by on the page, if it was."""
    by = (
        "by the score to be expected (0 to 100: how far the market's wishes are met; 80 % interval)"
        if asked.profile
        else "by name; choose a market to rank them"
    )
    first = "those that qualify first, then those that may, each " if asked.profile else ""
    return f"Cultivars that pass your filters, {first}{by_hand or by}. Figures: {basis_told(asked)}, with 90 % interval."


def _by_hand(asked: Question, key: str, up: bool) -> str:
    by = column(asked.catalogue, key)
    return f"by “{by.heading(asked)}”, {by.ways[up]}"


def _sorted(rows: pd.DataFrame, sort) -> pd.DataFrame:
    """By a column: those that qualify before those that may, and these before the rest; each joined group for itself."""
    if not sort:
        return rows
    by, up = sort
    if by == "name":
        rows = rows.sort_index(ascending=up)
    else:
        rows = rows.sort_values(by, ascending=up, na_position="last", kind="stable")
    return rows.sort_values(["group", "verdict"], kind="stable")
