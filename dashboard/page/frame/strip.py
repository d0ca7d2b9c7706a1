"""The slate strip over every tab: my cultivars on the selling days, which of them are covered, and where the gaps are."""

from __future__ import annotations

import json
from collections.abc import Callable

import param

from dashboard.charts.strip import SCRIPT, STRIP_CSS
from dashboard.page.parts import live
from dashboard.page.patches.scripted import Element
from dashboard.ripening import day_label
from dashboard.ripening.days import day_key
from dashboard.ripening.typed_days import day_typed
from dashboard.visit.state import State
from dashboard.wording.strip import drawn

NOTHING = '{"days": 0}'


class SlateStrip(Element):
    """``act(message)`` is called when a bar, a gap, an end of the season, the certainty or "Fill the gaps" is pressed."""

    told = param.String(default=NOTHING, doc="JSON of ``wording.strip.drawn``")

    script = SCRIPT
    dress = (STRIP_CSS,)

    def __init__(self, act: Callable[[dict], None], **params):
        super().__init__(**{"sizing_mode": "stretch_width", "margin": (0, 10, 8, 10), **params})
        self._act = act

    @live.at_once
    def heard(self, msg) -> None:
        self._act(msg)


def slate_strip(state: State) -> SlateStrip:
    """The strip of one visitor; what is pressed on it becomes a choice."""

    def act(msg: dict) -> None:
        if "open" in msg:
            state.open(str(msg["open"]))
        elif "gap" in msg:
            look_at(msg["gap"])
        elif "fill" in msg:
            state.choose(filling=True, gap="")
        elif "certainty" in msg:
            state.choose(certainty=msg["certainty"])
        elif "end" in msg:
            move(int(msg["end"]), msg)

    def look_at(days: list) -> None:
        first = state.question.selling[0]
        state.choose(filling=False, gap=day_key(first + float(days[0]), state.question.catalogue.south))

    def move(place: int, msg: dict) -> None:
        asked = state.question
        south = asked.catalogue.south
        if "typed" in msg:
            try:
                day = day_typed(str(msg["typed"]), south)
            except ValueError as fault:
                state.choose(notices=(str(fault),))
                strip.param.trigger("told")
                return
        else:
            day = asked.selling[place] + float(msg["by"])
        ends = [*asked.selling]
        ends[place] = day
        if ends[0] > ends[1]:
            state.choose(notices=(wrong_way(ends[0], ends[1], south),))
            return
        state.choose(**{("opens", "closes")[place]: day_key(day, south)})

    strip = SlateStrip(act)

    def show(slate, *_parts) -> None:
        strip.told = (
            NOTHING if slate is None else json.dumps(drawn(state.question, slate), ensure_ascii=False)
        )

    live.follow(state, show, "strip")
    return strip


def wrong_way(first: float, last: float, south: bool) -> str:
    return (
        f"The last selling day, {day_label(last, south)}, comes before the first, {day_label(first, south)}; nothing was changed. "
        "Move the other one first."
    )
