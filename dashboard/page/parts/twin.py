"""What a picture shows, as a table: for whoever cannot see it, or wants its figures. It is made when it is first asked for."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from dashboard.answers.question import Question
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.elements import RowTable
from dashboard.page.parts.ticking import press
from dashboard.visit.state import State


def twin(
    state: State, of: str, tell: Callable[[Question, int], dict[str, Any]], *parts: str, tab: str
) -> Column:
    """A button that opens and closes the table ``tell(question, page)`` of a picture, ``of`` in words; pages count from 1. While
    open it follows these parts of the answer."""
    here: dict[str, Any] = {"table": None, "page": 1}

    def act(what: str, value: object) -> None:
        if what == "page":
            here["page"] = int(str(value))
            draw()
        else:
            press(state, what, value)

    def draw() -> None:
        if here["table"] is not None:
            here["table"].tell(tell(state.question, here["page"]))

    def anew(*_parts) -> None:
        here["page"] = 1
        draw()

    def turn() -> None:
        if here["table"] is None:
            here["table"] = RowTable(act)
            anew()
            whole.append(here["table"])
        else:
            whole.remove(here["table"])
            here["table"] = None
        opener.label = words()

    def words() -> str:
        return f"{of}: show as a table" if here["table"] is None else f"{of}: close the table"

    opener = live.button(words(), turn, variant="text")
    whole = Column(opener, sizing_mode="stretch_width")
    live.follow(state, anew, *parts, tab=tab)
    return whole
