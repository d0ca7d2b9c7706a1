"""Files to take home: made when they are asked for, beside the page, and not kept in it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path

import param

from dashboard.charts import style
from dashboard.page.parts import live, making
from dashboard.page.patches.scripted import Element
from dashboard.visit.state import State

STOPPED = "Stopped: no file will come."
ENDING = "The file that was stopped is still being put away; try again in a moment."
FILES_CSS = (
    style.BUTTON_CSS
    + """
.files { display: flex; flex-wrap: wrap; gap: 8px; } .files button { width: auto; }
button[aria-disabled=true] { opacity: .6; cursor: default; } p { margin: 6px 0 0; } p:empty { display: none; }
.stop[hidden] { display: none; } .stop { width: auto; min-height: 28px; padding: 0 12px; }
"""
)


class Downloads(Element):
    """A button a file of ``making.FILES``, by its label; one file at a time. ``at_hand`` gives by its name what need not be made."""

    labels = param.List(default=[], item_type=str)
    told = param.String(default="", doc="what is being made, or why it was not")
    busy = param.Boolean(default=False)

    script = Path(__file__).with_name("downloads.js")
    dress = (FILES_CSS,)

    def __init__(
        self, state: State, files: Mapping[str, str], at_hand: Callable[[str], bytes | None] = lambda _file: None, **params
    ):  # fmt: skip
        look = {"sizing_mode": "stretch_width", "margin": (5, 10), **params}
        super().__init__(labels=list(files), **look)
        self._state, self._files, self._at_hand = state, tuple(files.values()), at_hand
        self._hand = live.Hand(making.QUEUE)
        self._wanted = (
            0  # the number of the press whose file is waited for; a file that was stopped is wanted by none
        )

    @live.at_once
    def heard(self, msg) -> None:
        place = msg.get("make")
        if msg.get("stop") is True and self.busy:
            self._wanted += 1
            self.param.update(busy=False, told=STOPPED)
        elif isinstance(place, int) and 0 <= place < len(self._files) and not self.busy:
            if self._hand.busy:
                self.told = ENDING
            else:
                self._make(self.labels[place], self._files[place])

    def _make(self, label: str, file: str) -> None:
        if (there := self._at_hand(file)) is not None:
            self.send({"file": file, "content": there})
            return
        try:
            make = making.ordered(self._state.question, file)
        except making.MakingError as fault:
            self.told = str(fault)
            return
        self.param.update(busy=True, told=f"{label} is being made …")
        self._wanted += 1
        self._hand.take(partial(_tried, make), partial(self._bring, self._wanted, file))

    def _bring(self, wanted: int, file: str, made: bytes | making.MakingError) -> None:
        if wanted != self._wanted:
            self.told = ""
        elif isinstance(made, making.MakingError):
            self.param.update(busy=False, told=str(made))
        else:
            self.send({"file": file, "content": made})
            self.param.update(busy=False, told="")


def _tried(make) -> bytes | making.MakingError:
    try:
        return make()
    except making.MakingError as fault:
        return fault
