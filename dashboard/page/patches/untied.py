"""A page that was closed is taken apart: what its parts and models hold of each other is let go.

Seen on: panel 1.9.4, param 2.4.1, bokeh 3.9.2.
Mends: the parts of a closed page hold each other in rings, which only Python's collector frees, and a collection stops everyone some 10 ms
for each page that is open. The shell follows Panel's process-wide busy flag through a watcher that nobody removes, so it is kept for
ever, and every event walks all pages. And Panel collects garbage five seconds after each page that is closed.
Upstream: docs/upstream.md, "Closed pages".
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

import panel as pn
import panel.io.document as panel_document
from bokeh.document import Document

# By what a part holds itself: in Param's own keeping, and in Panel's.
RINGS = ("watchers", "params", "dynamic_watchers", "refs", "ref_watchers")
HEARING = ("_callbacks", "_internal_callbacks")


def from_the_busy_flag(shell: Any) -> None:
    """Cut the page's tie to the flag that all pages share."""
    for _, watcher in shell._param__private.ref_watchers:
        if watcher.inst is pn.state:
            pn.state.param.unwatch(watcher)


def when_destroyed(document: Document, parts: Iterable[Any]) -> Callable[[], None]:
    """What takes ``parts``, those under them, and the document's models apart. Call it once the document has been destroyed."""
    models: list[Any] = []
    destroy = document.destroy

    def destroying(session: Any) -> None:
        models.extend(document.models)  # afterwards it does not know them
        destroy(session)

    def apart() -> None:
        for part in parts:
            for one in part.select() if hasattr(part, "select") else (part,):
                _let_go(one)
        for model in models:
            vars(model).clear()
        models.clear()

    vars(document)["destroy"] = destroying
    return apart


def _let_go(part: Any) -> None:
    kept = getattr(part, "_param__private", None)
    rings = [getattr(kept, name, None) for name in RINGS] + [vars(part).get(name) for name in HEARING]
    for ring in rings:
        if isinstance(ring, dict | list):
            ring.clear()


def collect_no_garbage() -> None:
    """From now on Panel leaves it to us."""
    panel_document._garbage_collect = lambda: None
