"""Tabs that draw what is under them once: a bar of plain buttons, and one column for each tab that was opened.

The shell's own tabs draw their contents again whenever they are mounted, and take them off the page when another is
opened. Here what was opened once stays where it is and is only hidden.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import panel as pn
import param

from dashboard.charts import style
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.live import at_once
from dashboard.page.patches.named import Named
from dashboard.page.patches.scripted import Element
from dashboard.visit.state import State

_HERE = Path(__file__).parent


class TabBar(Element):
    """The names of the tabs; ``act(place)`` is called when one is pressed."""

    names = param.List(default=[], item_type=str)
    active = param.Integer(default=0, bounds=(0, None), doc="the place of the open one")

    script = _HERE / "tabs.js"
    dress = (style.TABS_CSS,)

    def __init__(self, act: Callable[[int], None], **params):
        super().__init__(**{"sizing_mode": "stretch_width", "margin": (0, 10, 5, 10), **params})
        self._act = act

    @at_once
    def heard(self, msg) -> None:
        place = int(msg.get("open", -1))
        if 0 <= place < len(self.names):
            self._act(place)


class TabPanel(Named, Column):
    """What stands under one tab, with the tab's name for a screen reader."""


def tabs(
    state: State, names: Mapping[str, str], make: Mapping[str, Callable[[], pn.viewable.Viewable]]
) -> Column:
    """A tab for each of ``names``; what stands under one is made when it is first opened."""
    keys = tuple(names)
    bar = TabBar(lambda place: state.choose(tab=keys[place]), names=list(names.values()))
    whole = Column(bar, sizing_mode="stretch_width")
    opened: dict[str, TabPanel] = {}

    def open_tab(key: str) -> None:
        for other, panel in opened.items():
            panel.visible = other == key
        if key not in opened:
            opened[key] = TabPanel(make[key](), role="tabpanel", told=names[key], sizing_mode="stretch_width")
            whole.append(opened[key])
        bar.active = keys.index(key)

    def look(*_events) -> None:
        if state.look == "page":  # in the hall no tab is seen
            open_tab(state.tab)

    look()
    state.param.watch(look, ["tab", "look"])
    return whole
