"""What a picture shows, as a table: for whoever cannot see it, or wants its figures. It is made when it is first asked for."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from dashboard.answers.question import Question
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.paged import Paged
from dashboard.visit.state import State


def twin(
    state: State, of: str, tell: Callable[[Question, int], dict[str, Any]], *parts: str, tab: str
) -> Column:
    """A button that opens and closes the table ``tell(question, page)`` of a picture, ``of`` in words; pages count from 1. While
    open it follows these parts of the answer."""
    rows: Paged | None = None

    def anew(*_parts) -> None:
        if rows is not None:
            rows.draw(1)

    def turn() -> None:
        nonlocal rows
        if rows is None:
            rows = Paged(state, tell)
            anew()
            whole.append(rows.table)
        else:
            whole.remove(rows.table)
            rows = None
        opener.label = words()

    def words() -> str:
        return f"{of}: show as a table" if rows is None else f"{of}: close the table"

    opener = live.button(words(), turn, variant="text")
    whole = Column(opener, sizing_mode="stretch_width")
    live.follow(state, anew, *parts, tab=tab)
    return whole
