"""The line at the top of the page: whose records these are, undo, the prepared view that stands, and what opens the two sheets."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import param

from dashboard.answers.choices import CHOICES
from dashboard.charts import style
from dashboard.page.parts import live
from dashboard.page.patches.scripted import Element
from dashboard.visit.state import SHEETS, State

TITLE, INVENTED = "Orchard Slate", "invented example"
SHORT = {"us": "in, lb", "si": "mm, N"}  # units, where there is little room
HEADER_CSS = (
    style.BASE_CSS
    + f"""
:host {{ display: block; color: {style.PAPER}; flex: 1 1 auto; contain: inline-size; }} [hidden] {{ display: none !important; }}
.line {{ display: flex; align-items: center; gap: 4px; height: 44px; min-width: 0; }}
h1 {{ margin: 0 12px 0 0; font-size: 18px; line-height: 1; white-space: nowrap; flex: none; }} .unseen {{ {style.UNSEEN} }}
.whose {{ min-width: 0; font-size: 12.5px; white-space: nowrap; overflow: hidden; text-overflow: ellipsis; }}
.name {{ display: flex; align-items: baseline; min-width: 0; flex: 1 1 auto; }} .made-up {{ font-size: 12.5px; white-space: nowrap; }} .whose:not(:empty) + .made-up:not(:empty)::before {{ content: " · "; white-space: pre; }}
.acts {{ display: flex; align-items: center; gap: 4px; flex: none; margin-left: auto; }}
.place {{ font-size: 12.5px; white-space: nowrap; }}
button, select {{ font: inherit; font-size: 14px; color: {style.PAPER}; background: none; border: 1px solid transparent; border-radius: 4px; padding: 4px 8px; min-height: 32px; white-space: nowrap; }}
select {{ padding: 0 4px; cursor: pointer; }} option {{ color: {style.INK}; background: {style.PAPER}; }}
button:disabled {{ opacity: .55; cursor: default; }} [aria-expanded=true] {{ background: {style.PAPER}; color: {style.LEAF}; }}
:is(button, select):focus-visible {{ outline: 3px solid {style.PAPER}; outline-offset: -2px; }}
@media (hover: hover) {{ button:enabled:hover, select:hover {{ border-color: {style.PAPER}; }} }}
@media (pointer: coarse), (max-width: {style.PHONE}px) {{ button, select {{ min-height: 44px; min-width: 44px; }} }}
@media (max-width: {style.PHONE}px) {{
  h1 {{ font-size: 16px; margin: 0 4px 0 0; }} .line {{ gap: 0; }} .acts {{ gap: 0; }} button {{ padding: 4px 6px; }} .redo, .walk, .undo span, .open::after {{ display: none; }} select {{ max-width: 74px; }}
  .whose {{ display: none; }} .name {{ flex-direction: column; align-items: flex-start; }} .whose:not(:empty) + .made-up:not(:empty)::before {{ content: none; }} .made-up {{ font-size: 12px; line-height: 1; margin-top: 2px; }} }}
.open::after {{ content: " ▾"; }}
@media print {{ .acts {{ display: none; }} }}
"""
)


class Header(Element):
    """``act(message)`` is called when something of it is pressed."""

    title = param.String(default=TITLE)
    whose = param.String(default="", doc="whose records these are, in a few words")
    invented = param.String(default="", doc="that they are made up")
    behind = param.Boolean(default=False, doc="there is a choice to take back")
    ahead = param.Boolean(default=False, doc="there is a choice to make again")
    views = param.Integer(default=0, doc="how many prepared views there are")
    at = param.Integer(default=-1, doc="the place of the one opened last; -1 for none")
    strayed = param.Boolean(default=False, doc="other choices were made since that one was opened")
    sheet = param.String(default="", doc="which of SHEETS is open")
    units = param.String(default="us")
    offered = param.List(default=[], doc="units: value and words")

    script = Path(__file__).with_name("header.js")
    parts = (script.with_name("focus.js"),)
    dress = (HEADER_CSS,)

    def __init__(self, act, **params):
        super().__init__(**{"sizing_mode": "stretch_width", "margin": 0, **params})
        self._act = act

    @live.at_once
    def heard(self, msg) -> None:
        self._act(msg)


def header(state: State) -> Header:
    known = state.question.catalogue
    acts = {
        "undo": state.undo,
        "redo": state.redo,
        "before": lambda: state.walk_prepared(-1),
        "next": lambda: state.walk_prepared(1),
    }

    def act(msg: dict[str, Any]) -> None:
        if msg.get("act") in acts:
            acts[msg["act"]]()
        elif msg.get("sheet") in SHEETS:
            state.param.update(sheet=msg["sheet"], opened_at=str(msg.get("at", ""))[:2000])
        elif "units" in msg:
            state.choose(units=str(msg["units"]))

    units = [[system, SHORT[system]] for system in CHOICES["units"].listed(known)]
    line = Header(
        act,
        whose=", ".join(filter(None, (known.records_title, "" if known.invented else known.region))),
        invented=INVENTED if known.invented else "",
        offered=units,
    )

    def show() -> None:
        line.param.update(
            behind=state.steps.behind > 0,
            ahead=state.steps.ahead > 0,
            strayed=state.strayed,
            units=state.units,
            views=len(state.prepared),
            at=state.prepared_at,
            sheet=state.sheet,
        )

    live.heed(state, show, "question", "tab", "pair", "prepared", "prepared_at", "sheet")
    return line
