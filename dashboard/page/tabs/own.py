"""A tab of one's own: what a function of a notebook makes of the question, made anew when that changes and only while it is seen."""

from __future__ import annotations

import linecache
import logging
import traceback
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial
from typing import Any

import panel as pn
from markupsafe import Markup

from dashboard.answers.question import QUESTION
from dashboard.calls.asked import Asked
from dashboard.calls.table import Table
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.elements import Prose, paragraphs
from dashboard.places import PACKAGE
from dashboard.visit.state import State

LONGEST = 300  # characters of a fault
log = logging.getLogger(__name__)
Maker = Callable[[Asked], Any]


@dataclass(frozen=True)
class OwnTabs:
    """The tabs of a page: their names by key in their order, and the functions of those that are not built in."""

    names: Mapping[str, str]
    makers: Mapping[str, Maker]
    told: Callable[[State], None] = field(default=lambda _state: None)  # is given the state of each visitor

    def make(self, state: State) -> dict[str, Callable[[], pn.viewable.Viewable]]:
        return {key: partial(own_tab, state, key, maker) for key, maker in self.makers.items()}


def own_tab(state: State, key: str, maker: Maker) -> Column:
    """What the function gives for the question that stands; where it fails, that, with its line."""
    whole = Column(sizing_mode="stretch_width", margin=(5, 10))

    def draw(*_choices: Any) -> None:
        try:
            whole.objects = [shown(maker(Asked(state.question)))]
        except Exception as fault:
            log.warning("a tab of a notebook could not be drawn", exc_info=fault)
            text = Markup("<h3>This tab could not be drawn</h3><p>{}</p>").format(fault_told(fault))
            whole.objects = [Prose(text)]

    live.follow(state, draw, *QUESTION, tab=key)
    return whole


def shown(made: Any) -> Any:
    """Anything that Panel shows; an answer as in a notebook, and text as text."""
    if isinstance(made, Table):
        return Prose(Markup(made._repr_html_()))
    if made is None or isinstance(made, str):
        text = made or "This tab’s function gave nothing back; let it return what is to be shown."
        return Prose(paragraphs(text.split("\n\n")))
    if isinstance(made, list | tuple):
        return Column(*map(shown, made), sizing_mode="stretch_width")
    return pn.panel(made)


def fault_told(fault: BaseException) -> str:
    """``my.ipynb, cell 3, line 4 (return 1 / 0): ZeroDivisionError: division by zero``: where in somebody's own lines, and what."""
    what = " ".join(f"{type(fault).__name__}: {fault}".split())
    what = what if len(what) <= LONGEST else f"{what[:LONGEST]}…"
    if isinstance(fault, SyntaxError) and fault.filename:
        return f"{fault.filename}, line {fault.lineno} ({(fault.text or '').strip()}): {type(fault).__name__}: {fault.msg}"
    own = [place for place in traceback.extract_tb(fault.__traceback__) if _own(place.filename)]
    if not own:
        return what
    line = linecache.getline(own[-1].filename, own[-1].lineno or 0).strip()
    return f"{_place(own[-1].filename)}line {own[-1].lineno} ({line}): {what}"


def _own(file: str) -> bool:
    """Whether a line is somebody's own: not of this package, a library, or Python."""
    return not (file.startswith((str(PACKAGE), "<")) or "site-packages" in file or "/lib/python" in file)


def _place(file: str) -> str:
    """A cell that a server runs is called by its notebook; the file that Jupyter makes of one says nothing."""
    return "" if "ipykernel" in file else f"{file.rpartition('/')[2]}, "
