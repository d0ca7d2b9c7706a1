"""The ranked table: who qualifies and why, each estimate with its interval, and what it rests on."""

from __future__ import annotations

import math
from functools import partial
from typing import Any

import pandas as pd

from dashboard.answers.question import Comparison
from dashboard.page.parts import listing, live
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.elements import ChoiceBoxes, Prose, RowTable
from dashboard.page.parts.ticking import choice_group, tick
from dashboard.page.tabs.chances import about_ranking
from dashboard.visit.state import State
from dashboard.wording.figures import basis_told

PAGE = 15
# How a column is sorted, downwards and upwards, where it is not by the highest or the lowest figure.
WAYS = {
    "name": ("from Z to A", "from A to Z"),
    "first": ("the latest first", "the earliest first"),
    "seasons": ("the most seasons first", "the fewest seasons first"),
}
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
        partial(tick, state), groups=[choice_group(state.comparison.catalogue, "top")], margin=(0, 10)
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
    columns = listing.columns(asked)
    labels = {column["key"]: column["label"] for column in columns if column.get("sorts")}
    sort = here["sort"] if here["sort"] and here["sort"][0] in labels else None
    rows = _sorted(asked.ranking, sort)
    pages = max(1, math.ceil(len(rows) / PAGE))
    page = min(max(1, here["page"]), pages)
    part = rows.iloc[(page - 1) * PAGE : page * PAGE]
    return {
        "title": title(asked, _by_hand(sort, labels) if sort else ""),
        "columns": columns,
        "rows": [listing.row(asked, name, values) for name, values in listing.written_rows(part)],
        "page": page, "pages": pages, "total": len(rows), "sort": list(sort) if sort else None,
        "empty": asked.emptied.sentence if asked.emptied else "Nothing to show.",
    }  # fmt: skip


def title(asked: Comparison, by_hand: str = "") -> str:
    """``by_hand``: what it was sorted by on the page, if it was."""
    by = (
        "by the score to be expected (0 to 100: how far the market's wishes are met; 80 % interval)"
        if asked.profile
        else "by name; choose a market to rank them"
    )
    first = "those that qualify first, then those that may, each " if asked.profile else ""
    return f"Cultivars that pass your filters, {first}{by_hand or by}. Figures: {basis_told(asked)}, with 90 % interval."


def _by_hand(sort: tuple[str, bool], labels: dict[str, str]) -> str:
    key, up = sort
    downwards, upwards = WAYS.get(key, ("the highest first", "the lowest first"))
    return f"by “{labels[key]}”, {upwards if up else downwards}"


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
