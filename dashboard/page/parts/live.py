"""Keeps the screen in step with the state: all reactive code is here.

A view asks for parts of the answer and gives an act. The act runs at once, and again only when one of those parts
has become a new object, and only while the view's tab and look are on the screen: a hidden view catches up when it is opened.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from contextlib import AbstractContextManager
from functools import partial
from typing import Any

import panel as pn

from dashboard.page.parts.buttons import Button
from dashboard.ripening import written_for
from dashboard.visit.state import State

BUSY = "A file is being read; open the next one when it is done."
_HANDS = ThreadPoolExecutor(max_workers=2, thread_name_prefix="aside")


def as_read() -> AbstractContextManager[None]:
    """What is written within is written as this visitor reads it. A page is furnished, and every act of a visitor done, within."""
    return written_for(languages())


def languages() -> str:
    """What this visitor's browser says it reads, "" for nothing."""
    sent = {name.lower(): str(value) for name, value in (pn.state.headers or {}).items()}
    return sent.get("accept-language", "")


def at_once(act: Callable[..., None]) -> Callable[..., None]:
    """``act``, with all that it changes on the screen sent in one message, so that every picture is painted once.

    What comes while the browser still builds its page waits until that stands: the library takes a page that is not
    ready for one that was not sent yet, and drops what changes on it.
    """

    def whole(*args: Any) -> None:
        with pn.io.unlocked(), as_read():
            act(*args)

    def once_it_stands(*args: Any) -> None:
        if pn.state.loaded:
            whole(*args)
        else:
            pn.state.onload(lambda: pn.state.execute(partial(whole, *args), schedule=True))

    return once_it_stands


def served() -> bool:
    """Whether this page is one of many that a server answers; in a notebook one person is served."""
    document = pn.state.curdoc
    return document is not None and document.session_context is not None


def teller(act: Callable[[Any], None]) -> Callable[[Any], bool]:
    """``act`` for whoever works beside the loop that answers everybody: it is done on this visitor's page. False where the visitor has left;
    where only one person is served it is done at once."""
    document = pn.state.curdoc if served() else None
    done = at_once(act)

    def tell(said: Any) -> bool:
        if document is None:
            act(said)
            return True
        if document.session_context is None:
            return False
        document.add_next_tick_callback(lambda: pn.state.execute(partial(done, said)))
        return True

    return tell


def aside(work: Callable[[], Any], then: Callable[[Any], None], hands: Executor = _HANDS) -> None:
    """``then(work())``, with ``work`` done beside the loop that answers everybody; where only one person is served, at once.

    ``work`` touches nothing of the page.
    """
    if not served():
        then(work())
        return
    tell = teller(lambda future: then(future.result()))
    hands.submit(work).add_done_callback(tell)


class Hand:
    """Work done ``aside`` for one visitor, one piece at a time: nobody fills the queue that all share."""

    def __init__(self, hands: Executor = _HANDS) -> None:
        self.busy, self._hands = False, hands

    def take(self, work: Callable[[], Any], then: Callable[[Any], None]) -> bool:
        """Whether it was taken; not while another piece is being done."""
        if self.busy:
            return False

        def ready(future: Future) -> None:
            self.busy = False
            then(future.result())

        self.busy = True
        aside(partial(_tried, work), ready, self._hands)
        return True


def _tried(work: Callable[[], Any]) -> Future:
    """What became of it, a fault included."""
    tried: Future = Future()
    try:
        tried.set_result(work())
    except Exception as fault:
        tried.set_exception(fault)
    return tried


def button(label: str, act: Callable[[], Any], **look: Any) -> Button:
    """A button that does ``act`` when pressed."""
    return Button(label, at_once(act), **look)


def follow(
    state: State,
    act: Callable[..., None],
    *parts: str,
    tab: str | None = None,
    look: str = "page",
    shown: str | None = None,
) -> None:
    """Call ``act(*parts)`` now and whenever a part of ``state.question`` is another object than at the last call, while its tab is open,
    its look worn and, of ``list`` and ``pictures``, the one it belongs to ``shown``."""
    last: list[object] = []

    def see(*events) -> None:
        away = (
            bool(events) and state.look != look
        )  # the first time it is told whatever the look, so that nothing stands empty
        if away or (tab is not None and state.tab != tab) or (shown is not None and state.shown != shown):
            return
        now = [getattr(state.question, part) for part in parts]
        if len(last) == len(now) and all(
            a is b or (isinstance(a, str) and a == b) for a, b in zip(last, now, strict=True)
        ):
            return
        last[:] = now
        with pn.io.unlocked():
            act(*now)

    # After the tab has been opened (precedence 0) and the question asked (1): what is filled while it hangs on no page
    # looks for its stylesheets on the internet.
    state.param.watch(
        see,
        ["question", "look", *([] if tab is None else ["tab"]), *([] if shown is None else ["shown"])],
        precedence=2,
    )
    see()


def heed(state: State, act: Callable[[], None], *names: str) -> None:
    """Call ``act()`` now and whenever one of these parameters of the state was set to something else, once all stands."""

    def hear(*_events) -> None:
        with pn.io.unlocked():
            act()

    state.param.watch(hear, list(names), precedence=3)
    act()
