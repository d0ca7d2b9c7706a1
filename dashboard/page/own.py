"""The page as a notebook puts it together: which tabs stand on it, one's own among them, and what it asks when it opens."""

from __future__ import annotations

import weakref
from collections.abc import Callable, Iterable
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Any

import panel_material_ui as pmui

from dashboard.answers.choices import CHOICES
from dashboard.calls import pictures
from dashboard.calls.asked import Asked
from dashboard.calls.choosing import ANYWAY
from dashboard.calls.records import Records
from dashboard.calls.understood import AskError, plainly, shown, word
from dashboard.page import app
from dashboard.page.tabs.own import OwnTabs
from dashboard.visit import link
from dashboard.visit.state import State

MOST = 20  # tabs
_BUILT_IN = {key: key for key in app.TAB_NAMES} | {name: key for key, name in app.TAB_NAMES.items()}


pictures.BEFORE.append(app.prepare)


class Faults:
    """What went wrong in cells of a notebook that is served; told on every page that it makes."""

    def __init__(self) -> None:
        self.sentences: list[str] = []
        self._states: list[weakref.ref[State]] = []

    def add(self, sentence: str) -> None:
        self.sentences.append(sentence)
        for state in filter(None, (known() for known in self._states)):
            state.notices = (*state.notices, sentence)

    def tell(self, state: State) -> None:
        """Weakly: nothing may hold a visitor who has left."""
        self._states.append(weakref.ref(state))
        state.notices = (*state.notices, *self.sentences)


_FAULTS: ContextVar[Faults | None] = ContextVar("faults of cells", default=None)


@contextmanager
def told_on_the_page(faults: Faults):
    """Pages made within tell these faults, and those that are added later."""
    before = _FAULTS.set(faults)
    try:
        yield
    finally:
        _FAULTS.reset(before)


@plainly
def show(what: Records | Asked, tabs: Any = None, tab: str = "") -> pmui.Page:
    """The page, with the tabs that are named, for records or open on a question.

    Parameters
    ----------
    what : Records or Asked
        Records, or a question that the page opens with where its address asks for nothing.
    tabs : list, optional
        The tabs in their order, all of the built-in ones without. A built-in one by its key or its name ("fruit", "Season"); one's own as a
        function, or as a pair of its name and a function. It is called with the question that stands, an ``Asked``, and gives back
        anything that Panel shows: an answer, a picture, text, or a list of them.
    tab : str, optional
        The tab that is open first, by key or name; the first one without.

    Returns
    -------
    panel_material_ui.Page
        It shows itself in Jupyter; ``.servable()`` in the last line of a notebook that is served.

    Raises
    ------
    AskError
        Something that is neither records nor a question, or a tab that is not there.
    """
    if not isinstance(what, Records | Asked):
        raise AskError(
            f"The page shows records or a question, as load() or ask() give them, not {shown(what)}."
        )
    known = what.catalogue if isinstance(what, Records) else what.question.catalogue
    own = own_tabs(tabs, _FAULTS.get())
    ways = {key: key for key in own.names} | {name: key for key, name in own.names.items()}
    opened = word(tab, ways, "tab") if tab else next(iter(own.names))
    app.prepare()
    return app._page(known, _asked(what, opened), own)


def own_tabs(tabs: Any, faults: Faults | None = None) -> OwnTabs:
    """The tabs that are named; AskError for one that is not there."""
    if tabs is None:
        tabs = list(app.TAB_NAMES)
    if isinstance(tabs, str) or callable(tabs) or not isinstance(tabs, Iterable):
        raise AskError(f'Tabs are named in a list, as ["fruit", my_tab], not as {shown(tabs)}.')
    names: dict[str, str] = {}
    makers: dict[str, Callable[[Asked], Any]] = {}
    for one in tabs:
        key, name, maker = _tab(one, len(makers) + 1)
        if key in names or name in names.values():
            raise AskError(f"The tab {name} is named twice; name it once.")
        names[key] = name
        if maker is not None:
            makers[key] = maker
    if not 1 <= len(names) <= MOST:
        raise AskError(f"A page has 1 to {MOST} tabs; {len(names)} were named.")
    return OwnTabs(names, makers, faults.tell if faults else lambda _state: None)


def _tab(one: Any, place: int) -> tuple[str, str, Callable[[Asked], Any] | None]:
    if isinstance(one, str):
        key = word(one, _BUILT_IN, "tab")
        return key, app.TAB_NAMES[key], None
    if isinstance(one, tuple | list) and len(one) == 2 and isinstance(one[0], str) and callable(one[1]):
        name, maker = one
    elif callable(one):
        name, maker = getattr(one, "__name__", "").strip("_").replace("_", " ").capitalize(), one
    else:
        raise AskError(f"A tab is a name, a function, or a pair of a name and a function, not {shown(one)}.")
    name = " ".join(name.split())[:40]
    return f"own{place}", name if name and name != "<lambda>" else f"Tab {place}", maker


def _asked(what: Records | Asked, tab: str) -> str:
    """The address of the question that the page opens with."""
    choices = {name: getattr(what.question, name) for name in CHOICES} if isinstance(what, Asked) else ANYWAY
    defaults = {name: one.default for name, one in CHOICES.items()}
    return link.written({**defaults, **choices, "tab": tab}, {**defaults, "tab": None})
