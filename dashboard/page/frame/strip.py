"""The slate strip over every tab: my cultivars on the selling days, which of them are covered, and where the gaps are."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import ClassVar

import param

from dashboard.answers.selling import LONGEST
from dashboard.charts import style
from dashboard.charts.strip import SCRIPT, STRIP_CSS
from dashboard.page.parts import live
from dashboard.page.patches.scripted import Element
from dashboard.ripening.days import day_key
from dashboard.ripening.typed_days import day_typed
from dashboard.visit.state import State
from dashboard.wording.strip import drawn

# On a phone a line of three buttons lies under it, of which one fills.
UNDER_IT = f"@media (max-width: {style.PHONE}px) {{ .fill {{ display: none; }} }}"
NOTHING = '{"days": 0}'
ENDS = ("opens", "closes")


class SlateStrip(Element):
    """``act(message)`` is called when a bar, a gap, an end of the season, the certainty or "Fill the gaps" is pressed."""

    told = param.String(default=NOTHING, doc="JSON of ``wording.strip.drawn``")

    script = SCRIPT
    dress: ClassVar[tuple[str, ...]] = (STRIP_CSS, UNDER_IT)

    def __init__(self, act: Callable[[dict], None], **params):
        super().__init__(**{"sizing_mode": "stretch_width", "margin": (0, 10, 8, 10), **params})
        self._act = act

    @live.at_once
    def heard(self, msg) -> None:
        self._act(msg)


def typed(state: State, msg: dict) -> bool:
    """Whether an end of the selling season was moved to the day that was typed; what is wrong with it is told."""
    try:
        day = day_typed(str(msg["typed"]), state.question.catalogue.south)
    except ValueError as fault:
        state.choose(notices=(str(fault),))
        return False
    return moved(state, msg["end"], day)


def moved(state: State, end: int, day: float) -> bool:
    """Whether an end of the selling season, 0 or 1, was moved there, within the year; nothing is changed where the last would come before the
    first."""
    name, key = ENDS[end], day_key(min(max(day, 1), LONGEST), state.question.catalogue.south)
    state.choose(**{name: key})
    return getattr(state, name) == key


def slate_strip(state: State) -> SlateStrip:
    """The strip of one visitor; what is pressed on it becomes a choice."""
    south = state.question.catalogue.south

    def act(msg: dict) -> None:
        try:
            follow(msg)
        except (KeyError, TypeError, IndexError, ValueError, OverflowError):
            return  # no message of ours

    def follow(msg: dict) -> None:
        if "open" in msg:
            state.open(str(msg["open"]))
        elif "gap" in msg:
            state.choose(filling="", gap=day_key(state.question.selling[0] + int(msg["gap"][0]), south))
        elif "fill" in msg:
            state.fill()
        elif "certainty" in msg:
            state.choose(certainty=msg["certainty"])
        elif "typed" in msg:
            if not typed(state, msg):
                strip.send("again")
        elif "by" in msg:
            end = msg["end"]
            if not moved(state, end, state.question.selling[end] + int(msg["by"])):
                strip.send("again")

    strip = SlateStrip(act)

    def show(slate, *_parts) -> None:
        strip.told = (
            NOTHING if slate is None else json.dumps(drawn(state.question, slate), ensure_ascii=False)
        )

    live.follow(state, show, "strip")
    return strip
