"""Prepared views: the views of an evening by name, in their order; kept, stepped through, saved as a file and opened again."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import param

from dashboard.charts import style
from dashboard.page.parts import live
from dashboard.page.parts.files import content_of
from dashboard.page.patches.scripted import Element
from dashboard.visit import saved_views as prepared
from dashboard.visit.state import State
from dashboard.wording.presenting import HOW, KEPT, NOTES

ABOUT = (HOW, KEPT, NOTES)
FILE = "prepared-views.toml"
_LONGEST_FILE = 100  # characters of an opened file's name
NOTES_CSS = (
    "li { flex-wrap: wrap; } details { flex: 1 1 100%; } summary { cursor: pointer; min-height: 24px; } textarea { width: 100%; min-height: 64px; "
    "box-sizing: border-box; font: inherit; } summary span { white-space: nowrap; overflow: hidden; text-overflow: ellipsis; }"
)


class RunningOrder(Element):
    """A name to keep this view by, and the list; ``act(message)`` is called once a press."""

    told = param.String(default="{}", doc="JSON of what ``tell`` was given")
    saved = param.String(
        default="", doc="JSON of the file to be downloaded: file, text, and how many there were"
    )

    script = Path(__file__).with_name("running.js")
    dress = (style.RUNNING_CSS, NOTES_CSS)

    def __init__(self, act: Callable[[dict], None], **params):
        super().__init__(**{"sizing_mode": "stretch_width", "margin": (10, 10), **params})
        self._act = act

    def tell(self, view: dict[str, Any]) -> None:
        self.told = json.dumps(view, ensure_ascii=False)

    @live.at_once
    def heard(self, msg) -> None:
        self._act(msg)


def running_order(state: State) -> RunningOrder:
    return _Running(state).element


class _Running:
    """One visitor's list, and what was wrong with the last thing done to it."""

    def __init__(self, state: State) -> None:
        self.state = state
        self.element = RunningOrder(self._heard)
        self.hand = live.Hand()
        self.faults: list[str] = []
        self.heard = self.saves = 0
        live.heed(state, self._tell, "prepared", "prepared_at")

    def _heard(self, msg: dict) -> None:
        act, place = msg.get("act"), msg.get("place")
        self.faults = []
        self.heard += 1
        if act == "keep":
            self._keep(str(msg.get("name", "")))
        elif act == "walk" and msg.get("by") in (1, -1):
            self.state.walk_prepared(msg["by"])
        elif act == "bring":
            file = " ".join(str(msg.get("file")).split())[:_LONGEST_FILE]
            content, size = str(msg.get("content", "")), msg.get("size")
            if not self.hand.take(lambda: _brought(file, content, size), self._bring):
                self.faults = [live.BUSY]
        elif act == "save" and self.state.prepared:
            self.saves += 1
            text = prepared.written(self.state.prepared)
            self.element.saved = json.dumps({"file": FILE, "text": text, "number": self.saves})
        elif isinstance(place, int) and 0 <= place < len(self.state.prepared):
            self._change(str(act), place, msg)
        self._tell()

    def _change(self, act: str, place: int, msg: dict) -> None:
        state = self.state
        if act == "open":
            state.open_prepared(place)
        elif act == "move" and msg.get("by") in (1, -1):
            self._put(prepared.moved(state.prepared, place, msg["by"]))
        elif act == "off":
            self._put(tuple(one for at, one in enumerate(state.prepared) if at != place))
        elif act == "rename":
            self._write(place, name=str(msg.get("name", "")))
        elif act == "note":
            self._write(place, note=str(msg.get("note", "")))
        elif act == "over":
            self._write(place, address=state.view)

    def _write(self, place: int, **parts: str) -> None:
        """Another part of a view; the one that was opened last stays so, and one that is written over is the one that stands."""
        state = self.state
        try:
            views = prepared.changed(state.prepared, place, **parts)
        except ValueError as fault:
            self.faults = [str(fault)]
        else:
            state.param.update(prepared=views, prepared_at=place if "address" in parts else state.prepared_at)

    def _keep(self, name: str) -> None:
        try:
            self.state.prepare(name)
        except ValueError as fault:
            self.faults = [str(fault)]

    def _bring(self, brought: tuple[tuple[prepared.View, ...], list[str]]) -> None:
        """A list from the visitor's disk, once it has been read; the one that stands stays where there is no sound view in it."""
        views, self.faults = brought
        if views:
            self.state.param.update(prepared=views, prepared_at=-1)
        self._tell()

    def _put(self, views: tuple[prepared.View, ...]) -> None:
        """Another list; the view that was opened last stays so, wherever it stands now."""
        state = self.state
        last = state.prepared[state.prepared_at] if 0 <= state.prepared_at < len(state.prepared) else None
        state.param.update(prepared=views, prepared_at=views.index(last) if last in views else -1)

    def _tell(self) -> None:
        names = [view.name for view in self.state.prepared]
        self.element.tell(
            {
                "about": ABOUT,
                "names": names,
                "notes": [view.note for view in self.state.prepared],
                "longest": prepared.LONGEST_NOTE,
                "at": self.state.prepared_at,
                "faults": self.faults,
                "heard": self.heard,
            }
        )


def _brought(file: str, content: str, size: object) -> tuple[tuple[prepared.View, ...], list[str]]:
    """The views of a file that a visitor sent, and what is wrong with it."""
    if isinstance(size, int) and size > prepared.LARGEST:
        return (), [prepared.too_large(size, file)]
    try:
        return prepared.read(content_of(content), file)
    except ValueError:
        return (), [f"{file}: did not arrive whole; open it once more."]
