"""The prepared views outlive the browser's tab: its storage keeps them for these records, and all pages of the browser have one list."""

from __future__ import annotations

from pathlib import Path

import param

from dashboard.page.parts import live
from dashboard.page.patches.scripted import Element
from dashboard.visit import saved_views as prepared
from dashboard.visit.saved_views import View
from dashboard.visit.state import State

UNREADABLE = "The prepared views that this browser kept could not all be read: {fault}"


class KeptViews(Element):
    """Nothing to be seen."""

    title = param.String(default="", doc="the records': under it the browser keeps the list")
    text = param.String(default="", doc="the list as its file")
    said = param.Integer(default=0, doc="how many messages of the browser ``text`` answers")

    script = Path(__file__).with_name("kept_views.js")

    def __init__(self, state: State, **params):
        super().__init__(title=state.question.catalogue.records_title, **{"margin": 0, **params})
        self._state, self._hand = state, live.Hand()
        self._waiting: list[tuple[str, str]] = []
        live.heed(state, self._tell, "prepared")

    @live.at_once
    def heard(self, msg) -> None:
        self._waiting = [*self._waiting, (str(msg.get("theirs", "")), str(msg.get("base", "")))][-2:]
        self._next()

    def _next(self) -> None:
        if self._waiting and self._hand.take(lambda: _both(*self._waiting[0]), self._merge):
            return

    def _merge(self, read: tuple[tuple[View, ...], tuple[View, ...], list[str]]) -> None:
        theirs, base, faults = read
        state = self._state
        self._waiting.pop(0)
        if faults:
            state.notices = (*state.notices, UNREADABLE.format(fault=faults[0]))
        if theirs or not faults:
            at = (
                state.prepared[state.prepared_at].name
                if 0 <= state.prepared_at < len(state.prepared)
                else None
            )
            views = prepared.merged(state.prepared, base, theirs)
            names = [view.name for view in views]
            state.param.update(prepared=views, prepared_at=names.index(at) if at in names else -1)
        self.said += 1
        self._next()

    def _tell(self) -> None:
        self.text = prepared.written(self._state.prepared)


def _both(theirs: str, base: str) -> tuple[tuple[View, ...], tuple[View, ...], list[str]]:
    """Two lists as the browser sent them, and what is wrong with the first; an empty one has no fault."""
    read, faults = prepared.read(theirs.encode()) if theirs else ((), [])
    return read, prepared.read(base.encode())[0] if base else (), faults
