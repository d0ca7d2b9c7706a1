"""The first tab: the list of candidates, and one press away the pictures that set size, firmness and sugar against each other."""

from __future__ import annotations

from dashboard.page.parts.boxes import Column
from dashboard.page.tabs.ranking import ranking
from dashboard.page.tabs.tradeoffs import tradeoffs
from dashboard.visit.state import State


def candidates(state: State) -> Column:
    """The pictures are made when they are first asked for, and stay, hidden, when they are put away: until then nothing of them is sent."""
    pictures = Column(sizing_mode="stretch_width", visible=False, css_classes=["pictures"])

    def look(*_events) -> None:
        open_ = state.shown == "pictures"
        pictures.visible = open_
        if open_ and not len(pictures):
            pictures.append(tradeoffs(state))

    look()
    state.param.watch(look, "shown")
    return ranking(state, pictures)
