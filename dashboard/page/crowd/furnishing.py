"""A page is furnished piece by piece while others are answered, and whoever sits before it sees it whole."""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import Any

from panel.io.state import set_curdoc

from dashboard.page.crowd import leaving, turns
from dashboard.page.parts import live
from dashboard.page.patches import ahead
from dashboard.page.patches.joined import session_of, unheard

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
        with unheard(document):
            ahead.write(document)

    def rank() -> int:
        session = session_of(document)
        return turns.WAITED_FOR if session is not None and session.connection_count else turns.EARLY

    @contextmanager
    def within() -> Iterator[None]:
        with set_curdoc(document), live.as_read():
            yield

    await turns.turns.work(pieces(), rank, within)
