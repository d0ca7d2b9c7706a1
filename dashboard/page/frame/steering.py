"""A line of small buttons over the tabs: undo, redo, start afresh, the hall; a view is kept by name, and the next prepared one shown.

The prepared views are kept in the browser's tab from here, so that a reload does not lose them.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import param

from dashboard.charts import style
from dashboard.page.parts import live
from dashboard.page.patches.scripted import Element
from dashboard.visit import saved_views as prepared
from dashboard.visit.state import State


class Steering(Element):
    """The buttons and their keys; ``act(message)`` is called when one is pressed."""

    behind = param.Boolean(default=False, doc="there is a choice to take back")
    ahead = param.Boolean(default=False, doc="there is a choice to make again")
    changed = param.Boolean(default=False, doc="the page is not as on a first visit")
    views = param.Integer(default=0, doc="how many prepared views there are")
    at = param.Integer(default=-1, doc="the place of the one opened last; -1 for none")
    strayed = param.Boolean(default=False, doc="other choices were made since that one was opened")
    kept = param.String(default="", doc="the running order as its file; the browser keeps it over a reload")

    script = Path(__file__).with_name("steering.js")
    dress = (style.STEERING_CSS,)

    def __init__(self, act: Callable[[dict], None], **params):
        super().__init__(**{"sizing_mode": "stretch_width", "margin": (0, 10), **params})
        self._act = act

    @live.at_once
    def heard(self, msg) -> None:
        self._act(msg)


def steering(state: State) -> Steering:
    acts = {
        "undo": state.undo,
        "redo": state.redo,
        "afresh": state.start_afresh,
        "hall": lambda: state.choose(look="hall"),
        "before": lambda: state.walk_prepared(-1),
        "next": lambda: state.walk_prepared(1),
    }

    def act(msg: dict) -> None:
        if msg.get("act") in acts:
            acts[msg["act"]]()
        elif "name" in msg:
            try:
                state.prepare(str(msg["name"]))
            except ValueError as fault:
                state.notices = (str(fault),)
            else:
                state.notices = ()
        elif "kept" in msg and not state.prepared:  # what this tab of the browser had before it was reloaded
            hand.take(lambda: prepared.read(str(msg["kept"]).encode())[0], take_up)

    def take_up(views: tuple[prepared.View, ...]) -> None:
        if not state.prepared:
            state.prepared = views

    hand, line = live.Hand(), Steering(act)

    def show() -> None:
        line.param.update(
            behind=state.steps.behind > 0,
            ahead=state.steps.ahead > 0,
            changed=state.view != state.first_view,
            strayed=state.strayed,
        )

    def keep() -> None:
        line.param.update(
            kept=prepared.written(state.prepared), views=len(state.prepared), at=state.prepared_at
        )

    live.heed(state, show, "question", "tab", "prepared_at")
    live.heed(state, keep, "prepared", "prepared_at")
    return line
