"""Tabs that draw what is under them once: a bar of plain buttons, and one column for each tab that was opened.

The shell's own tabs draw their contents again whenever they are mounted, and take them off the page when another is
opened. Here what was opened once stays where it is and is only hidden.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
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
# On a phone they lie along the lower edge, under the thumb: those at hand, and the others over a word that shows them.
TABS_CSS = (
    style.TABS_CSS
    + f"""
.others, .more {{ display: none; }}
@media (min-width: {style.PHONE + 1}px) and (max-width: 1000px) {{ [role=tab] {{ padding-left: 7px; padding-right: 7px; font-size: 13px; }} }}
@media (max-width: {style.PHONE}px) {{
  :host {{ position: fixed !important; inset: auto 0 0 0; z-index: 1140; background: {style.PAPER}; margin: 0 !important; width: auto !important; border-top: 1px solid {style.EDGE}; padding-bottom: env(safe-area-inset-bottom); }}
  .bar {{ display: flex; }} .tabs {{ flex: 4 1 0; min-width: 0; overflow: visible; border: 0; position: static; }} .more {{ display: block; flex: 1 1 0; border: 0; background: none; color: {style.QUIET}; }}
  [role=tab], .more {{ min-height: 52px; padding: 2px; font-size: 12.5px; font-weight: 600; line-height: 1.15; }}
  .tabs > [role=tab] {{ flex: 1 1 0; min-width: 0; white-space: normal; border-bottom: 0; border-top: 3px solid transparent; }} .tabs > [role=tab][aria-selected=true] {{ border-color: {style.LEAF}; }}
  .more {{ border-top: 3px solid transparent; }} .more.open, .more.chosen {{ color: {style.LEAF}; }} .more.chosen {{ border-color: {style.LEAF}; }}
  .others {{ position: absolute; right: 0; bottom: 100%; background: {style.PAPER}; border: 1px solid {style.EDGE}; border-radius: 8px 8px 0 0; min-width: 180px; }}
  .others.open {{ display: grid; }} .others [role=tab] {{ text-align: left; padding: 8px 16px; font-size: 14px; border: 0; border-left: 3px solid transparent; min-height: 44px; }}
  .others [role=tab][aria-selected=true] {{ border-color: {style.LEAF}; }} }}
"""
)


class TabBar(Element):
    """The names of the tabs; ``act(place)`` is called when one is pressed."""

    names = param.List(default=[], item_type=str)
    first = param.List(default=[], item_type=int, doc="the places of those at hand in a narrow window")
    narrow = param.Integer(default=style.PHONE, doc="pixels: the widest window that is narrow")
    active = param.Integer(default=0, bounds=(0, None), doc="the place of the open one")

    script = _HERE / "tabs.js"
    dress = (TABS_CSS,)

    def __init__(self, act: Callable[[int], None], **params):
        super().__init__(**{"sizing_mode": "stretch_width", "margin": (0, 4, 5, 4), **params})
        self._act = act

    @at_once
    def heard(self, msg) -> None:
        place = int(msg.get("open", -1))
        if 0 <= place < len(self.names):
            self._act(place)


class TabPanel(Named, Column):
    """What stands under one tab, with the tab's name for a screen reader."""


def tabs(
    state: State,
    names: Mapping[str, str],
    make: Mapping[str, Callable[[], pn.viewable.Viewable]],
    first: Sequence[str] = (),
) -> Column:
    """A tab for each of ``names``; what stands under one is made when it is first opened. ``first``: those that are at hand on a phone."""
    keys = tuple(names)
    bar = TabBar(
        lambda place: state.choose(tab=keys[place]),
        names=list(names.values()),
        first=[keys.index(key) for key in first if key in keys],
    )
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
