"""A visitor without a browser: views built into a document, and a note of everything that would be sent."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from functools import partial

import panel as pn
import pytest
from bokeh.document import Document
from bokeh.document.events import MessageSentEvent
from bokeh.model import DataModel
from bokeh.models import ColumnDataSource, IndexFilter

from dashboard.page.app import prepare
from dashboard.page.parts.elements import ChoiceBoxes, Prose, RowTable
from dashboard.page.parts.pressable import Pressable
from dashboard.visit.state import State


@pytest.fixture(scope="session", autouse=True)
def prepared():
    prepare()


@pytest.fixture
def state(catalogue) -> State:
    return State(catalogue)


class Watched:
    """A layout in a document; ``sent(act)`` counts what an act would send, by what it is and which one."""

    def __init__(self, layout: pn.viewable.Viewable):
        self.layout = layout
        self.document = Document()
        self.document.add_root(layout.get_root(self.document))
        self._seen: list[tuple[str, object]] = []
        self.document.on_change(self._note)
        for element in layout.select(ChoiceBoxes):
            element.param.watch(partial(self._told, "boxes"), "told")
        for element in layout.select(RowTable):
            element.param.watch(partial(self._told, "table"), "told")
        for pane in layout.select(pn.pane.HoloViews):
            pane.param.watch(partial(self._told, "picture"), "object")

    def sent(self, act: Callable[[], object]) -> Counter:
        self._seen.clear()
        act()
        return Counter(self._seen)

    def kinds(self, act: Callable[[], object]) -> set[str]:
        """What an act moved; nothing may be sent twice."""
        counted = self.sent(act)
        twice = {what: times for what, times in counted.items() if times > 1}
        assert not twice, f"sent more than once: {twice}"
        return {kind for kind, _ in counted}

    def _told(self, kind: str, event) -> None:
        self._seen.append((kind, id(event.obj)))

    def _note(self, event) -> None:
        if isinstance(event, MessageSentEvent):
            return  # to a script of ours, that brings into sight what was drawn; nothing is drawn by it
        model, what = event.model, getattr(event, "attr", None)
        if isinstance(model, DataModel) or type(model).__name__ == "ReactComponent":
            return  # the inner side of our own elements, whose ``told`` is watched above, and of the shell's
        if isinstance(model, ColumnDataSource):
            kind = (
                "paleness" if type(event).__name__ == "ColumnDataChangedEvent" and event.cols else "figures"
            )
        elif isinstance(model, IndexFilter):
            kind = "rows"
        elif what == "text":
            kind = "words"
        elif type(model).__name__ in ("BoxAnnotation", "Span") or what == "center":
            kind = "limits"
        elif type(model).__name__ in ("Range1d", "LinearAxis"):
            kind = "axes"
        elif type(model).__name__ == "Selection":
            kind = "chosen"
        else:
            kind = type(model).__name__
        self._seen.append((kind, (model.id, what)))


def said(layout) -> str:
    """All prose of a layout, as markup."""
    told = [str(prose.object) for prose in layout.select(Prose)]
    return " ".join([*told, *(words.words for words in layout.select(Pressable))])
