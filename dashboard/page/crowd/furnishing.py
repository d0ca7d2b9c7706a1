"""A page is furnished piece by piece while others are answered, and whoever sits before it sees it whole."""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import Any

import panel as pn
from panel.io.state import set_curdoc

from dashboard.page.crowd import leaving, turns
from dashboard.page.parts import live
from dashboard.page.patches import ahead

log = logging.getLogger(__name__)


async def in_turn(
    document: Any, furnish: Callable[[], Iterator[None]], refuse: Callable[[], None], parts: Iterable[Any]
) -> None:
    """Furnish the page of ``document`` with its session locked: whoever asks for it meanwhile waits until it stands.

    ``refuse()`` puts a sentence in its place where that fails. ``parts`` are let go when the page is closed. A page at which nobody has
    arrived yet waits for those at which somebody sits.
    """
    leaving.untie_later(document, *parts)

    def pieces() -> Iterator[None]:
        try:
            yield from furnish()
        except Exception:
            log.exception("a page could not be furnished")
            refuse()
        yield
        with _unheard(document):
            ahead.write(document)

    def rank() -> int:
        session = _session(document)
        return turns.WAITED_FOR if session is not None and session.connection_count else turns.EARLY

    @contextmanager
    def within() -> Iterator[None]:
        with set_curdoc(document), live.as_read():
            yield

    await turns.turns.work(pieces(), rank, within)


@contextmanager
def joining(document: Any) -> Iterator[None]:
    """What is put on the page of ``document`` within joins it at once.

    Until a browser has said that its page stands, Panel puts such changes off to later ticks, and a browser that asks between
    them is given an empty page. It notes in ``_connected`` for whom it need not.
    """
    if document is None:
        yield
        return
    before = pn.state._connected.get(document, False)
    pn.state._connected[document] = True
    try:
        with _unheard(document):
            yield
    finally:
        pn.state._connected[document] = before


@contextmanager
def _unheard(document: Any) -> Iterator[None]:
    """What changes within is told to nobody: whoever sits before the page has not been given it yet, and will be given the whole."""
    session = _session(document)
    if session is None:
        yield
        return
    hearing = session._subscribed_connections
    session._subscribed_connections = set()
    try:
        yield
    finally:
        session._subscribed_connections = hearing


def _session(document: Any) -> Any:
    return getattr(document.session_context, "session", None)
