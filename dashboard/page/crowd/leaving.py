"""A closed page is let go at once, and garbage is collected while nobody waits.

The parts of a page hold each other in rings, which only Python's collector frees, and it stops everyone: some 10 ms for each page that
is open, however few were closed. So the rings of a closed page are cut, which frees nearly all of it; what is left is collected in a
lull, and what every page shares is not looked through at all.
"""

from __future__ import annotations

import gc
import time
from collections.abc import Callable
from typing import Any

from bokeh.document import Document
from tornado.ioloop import IOLoop

from dashboard.page.patches import untied

YOUNG = (
    10_000,
    10,
    1_000_000,
)  # new objects before a look at the new, and at the newer; at the whole heap never by itself
REST = 6.0  # seconds a closed page is left alone: what was under way for it has ended
LULL = 20  # for so many times as long as a collection takes nobody must have asked anything
EACH = 0.01  # seconds it takes for each open page
PATIENCE = 300  # closed pages after which a lull may be short
LOOK = 1.0  # seconds between two looks whether there is a lull


def untie_later(document: Document, *parts: Any) -> None:
    """Once the session of ``document`` has ended, cut what ties these ``parts``, those under them, and its models to each other.

    Call it when the page has been made: Panel then has said how the document is to be destroyed.
    """
    take_apart = untied.when_destroyed(document, parts)

    def untie() -> None:
        take_apart()
        collector.closed()

    collector.open += 1
    document.on_session_destroyed(lambda _context: _later(REST, untie))


def _later(seconds: float, act: Callable[[], None]) -> None:
    IOLoop.current().call_later(seconds, act)


class Collector:
    """When the whole heap is looked through: once somebody has left and nobody waits."""

    def __init__(self) -> None:
        self.open = 0  # pages
        self._left = 0  # pages closed since the last collection
        self._asked = 0.0
        self._took = 0.1  # seconds

    def begin(self) -> None:
        """What has been loaded by now is for all and for good: it is not looked through again."""
        gc.collect()
        gc.freeze()
        gc.set_threshold(*YOUNG)
        untied.collect_no_garbage()

    def asked(self) -> None:
        """Somebody asked something just now."""
        self._asked = time.monotonic()

    def closed(self) -> None:
        self.open -= 1
        self._left += 1
        if self._left == 1:
            _later(LOOK, self._look)

    def _look(self) -> None:
        quiet = time.monotonic() - self._asked
        lull = 0.05 if self._left >= PATIENCE else max(LOOK, LULL * max(self._took, EACH * self.open))
        if quiet < lull:
            _later(LOOK, self._look)
            return
        since = time.monotonic()
        gc.collect()
        self._took = time.monotonic() - since
        self._left = 0
        if not self.open:  # what is left now is for all
            gc.freeze()


collector = Collector()
