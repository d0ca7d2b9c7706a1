"""Lists beside my slate: one brought along and put on it, and another that it is compared with."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from markupsafe import Markup

from dashboard.answers.comparing import Compared, ready
from dashboard.answers.question import Question
from dashboard.charts import listing
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.elements import Prose, paragraphs
from dashboard.page.parts.name_lists import Bringing
from dashboard.page.parts.paged import Paged, standing
from dashboard.visit.state import State
from dashboard.wording.column_kinds import plain
from dashboard.wording.columns import COLUMNS
from dashboard.wording.figures import counted
from dashboard.wording.lists import OFFERED, compared_told

PAGE = 20
MINE, OTHER = "my slate", "the other list"


def bring(state: State) -> Column:
    """What is certain of a list joins the slate."""

    def put(names: tuple[str, ...], _anew: bool) -> int | None:
        slate = tuple(dict.fromkeys((*state.shortlist, *names)))
        if not state.fits(shortlist=slate):
            return None
        added = len(slate) - len(state.shortlist)
        state.choose(shortlist=slate)
        return added

    bringing = Bringing(state, "Bring a list", MINE, put, _ready(state, (True,)))
    return Column(bringing.element, sizing_mode="stretch_width")


def _ready(state: State, offered: Iterable[bool]) -> dict[str, tuple[str, ...]]:
    """By what a press on it says, the lists that the records hold themselves."""
    lists = ready(state.question.catalogue)
    return {f"{OFFERED[one]} ({len(lists[one])})": lists[one] for one in offered if one in lists}


def compare(state: State) -> Column:
    """Another list, in place of the one before, and how it differs from the slate."""

    def put(names: tuple[str, ...], anew: bool) -> int | None:
        other = tuple(dict.fromkeys((*(() if anew else state.other), *names)))
        if not state.fits(other=other):
            return None
        if other:
            state.choose(other=other)
        return len(names)

    bringing = Bringing(state, "Compare with another list", OTHER, put, _ready(state, (True, False)))
    words, clear = Prose(), live.button("Take the other list off", lambda: state.choose(other=()), variant="text")  # fmt: skip

    rows = Paged(state, compared_view)

    def show(found: Compared | None, *_parts) -> None:
        for part in (words, rows.table, clear):
            part.visible = found is not None
        if found is not None:
            lines = compared_told(state.question, found)
            head = f"My slate and the other list ({counted(len(state.other), 'cultivar')})"
            words.say(Markup("<h3>{}</h3>").format(head) + paragraphs(lines))  # fmt: skip
            rows.draw()

    live.follow(state, show, "compared", "profile", "fit", "units", tab="shortlist")
    return Column(bringing.element, words, rows.table, clear, sizing_mode="stretch_width")


def compared_view(asked: Question, page: int) -> dict[str, Any]:
    """A page of all that are on either list, and where each of them is."""
    found = asked.compared
    assert found is not None
    names = found.names
    page, pages, part = standing(page, len(names), PAGE)
    shown = names[part]
    frame = asked.rows_of(shown)
    where = _where(found)
    rows = [{**row, "name": name, "where": where[name]} for name, row in zip(frame.index.astype(str), frame.to_dict("records"), strict=True)]  # fmt: skip
    columns = (
        COLUMNS["keep"], COLUMNS["mark"], COLUMNS["name"], plain("where", "On"), COLUMNS["first"], COLUMNS["seasons"],
        *([COLUMNS["score"], COLUMNS["reason"]] if asked.profile else []),
    )  # fmt: skip
    return {
        "title": "Who is on which list",
        **listing.of_its_own(asked, columns, rows),
        "page": page,
        "pages": pages,
        "total": len(names),
        "empty": "Nobody is on either list.",
    }


def _where(found: Compared) -> dict[str, str]:
    parts = {"both": found.both, "only my slate": found.mine, "only the other": found.other}
    return {name: where for where, names in parts.items() for name in names}
