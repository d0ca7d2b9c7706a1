"""The ranked table: who qualifies and why, each estimate with its interval, and what it rests on."""

from __future__ import annotations

import math
from typing import Any

import pandas as pd

from dashboard.comparison import TOPS, Comparison
from dashboard.state import State
from dashboard.views import listing, live
from dashboard.views.boxes import Column
from dashboard.views.chances import about_ranking
from dashboard.views.elements import ChoiceBoxes, Prose, RowTable, group_of
from dashboard.words import basis_told

PAGE = 15
UPWARDS = ("name", "first")  # sorted from the first letter or day on; all else from the most down


def ranking(state: State) -> Column:
    here: dict[str, Any] = {"page": 1, "sort": None}

    def act(what: str, value) -> None:
        listing.press(state, what, value)
        if what == "page":
            here["page"] = int(value)
            draw()
        elif what == "sort":
            key = str(value)
            here.update(
                page=1,
                sort=(
                    key,
                    not here["sort"][1] if here["sort"] and here["sort"][0] == key else key in UPWARDS,
                ),
            )
            draw()

    table = RowTable(act)
    about = Prose()
    top = ChoiceBoxes(
        lambda _field, values: state.choose(top=int(values[0])),
        groups=[first_places()],
        margin=(0, 10),
    )

    def draw(*_parts) -> None:
        table.tell(view(state.comparison, here))

    def start(*_parts) -> None:
        here["page"] = 1
        draw()

    def tell(*_parts) -> None:
        asked = state.comparison
        about.say(about_ranking(asked))
        (group,) = top.groups
        places = [at for at, option in enumerate(group["options"]) if option["value"] == str(asked.top)]
        ranked = asked.profile is not None and bool(asked.profile.wishes)
        top.tell([{"left": [], "chosen": places, "away": not ranked}])

    live.follow(state, start, "ranking", "profile", "units", tab="fruit")
    live.follow(state, tell, "ranking", "openings", "profile", "units", tab="fruit")
    live.follow(state, draw, "shortlist", "chosen", tab="fruit")
    return Column(about, top, table, sizing_mode="stretch_width")


def view(asked: Comparison, here: dict) -> dict:
    """One page of the table as plain text."""
    rows = _sorted(asked.ranking, here["sort"])
    pages = max(1, math.ceil(len(rows) / PAGE))
    page = min(max(1, here["page"]), pages)
    part = rows.iloc[(page - 1) * PAGE : page * PAGE]
    sort = list(here["sort"]) if here["sort"] else None
    return {
        "title": title(asked),
        "columns": listing.columns(asked),
        "rows": [listing.row(asked, name, values) for name, values in listing.written_rows(part)],
        "page": page, "pages": pages, "total": len(rows), "sort": sort,
        "empty": asked.emptied.sentence if asked.emptied else "Nothing to show.",
    }  # fmt: skip


def first_places() -> dict:
    """How many first places the chance is told of."""
    return group_of("top", "Chance of being among the", {top: f"first {top}" for top in TOPS}, single=True)


def title(asked: Comparison) -> str:
    order = (
        "those that qualify first, then those that may, each by the score to be expected (0 to 100: how far the market's wishes are met; 80 % interval)"
        if asked.profile
        else "by name; choose a market to rank them"
    )
    return f"Cultivars that pass your filters, {order}. Figures: {basis_told(asked)}, with 90 % interval."


def _sorted(rows: pd.DataFrame, sort) -> pd.DataFrame:
    """By a column: those that qualify before those that may, and these before the rest; each joined group for itself."""
    if not sort:
        return rows
    key, up = sort
    if key == "name":
        rows = rows.sort_index(ascending=up)
    elif key in rows.columns:
        rows = rows.sort_values(key, ascending=up, na_position="last", kind="stable")
    return rows.sort_values(["group", "verdict"], kind="stable")
