"""A table of cultivars that is shown page by page, whose names open and whose stars keep."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from dashboard.answers.question import Question
from dashboard.page.parts.elements import RowTable
from dashboard.page.parts.ticking import press
from dashboard.visit.state import State


def standing(page: int, count: int, each: int) -> tuple[int, int, slice]:
    """Which page stands where this one was asked for, how many there are, and its part of ``count`` things, ``each`` a page."""
    pages = max(1, -(-count // each))
    page = min(max(1, page), pages)
    return page, pages, slice((page - 1) * each, page * each)


class Paged:
    """``table`` shows ``tell(question, page)``; pages count from 1."""

    def __init__(self, state: State, tell: Callable[[Question, int], dict[str, Any]]) -> None:
        self._state, self._tell, self._page = state, tell, 1
        self.table = RowTable(self._act)

    def draw(self, page: int | None = None) -> None:
        """The page that stands, or another."""
        self._page = page or self._page
        self.table.tell(self._tell(self._state.question, self._page))

    def _act(self, what: str, value: object) -> None:
        if what == "page":
            self.draw(int(str(value)))
        else:
            press(self._state, what, value)
