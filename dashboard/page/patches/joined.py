"""What is put on a page that was handed out and does not stand yet joins it at once, and whoever sits before it is not told twice.

Seen on: panel 1.9.4, bokeh 3.9.2.
Mends: until a browser has said that its page stands, Panel puts changes off to later ticks, and a browser that asks between them is given
an empty page. And Bokeh tells a browser of changes to a page that it has not been given yet.
Upstream: docs/upstream.md, "Changes before a page stands".
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import panel as pn


@contextmanager
def joining(document: Any) -> Iterator[None]:
    """What is put on the page of ``document`` within joins it at once. Panel notes in ``_connected`` for whom it may."""
    if document is None:
        yield
        return
    before = pn.state._connected.get(document, False)
    pn.state._connected[document] = True
    try:
        with unheard(document):
            yield
    finally:
        pn.state._connected[document] = before


@contextmanager
def unheard(document: Any) -> Iterator[None]:
    """What changes within is told to nobody: whoever sits before the page has not been given it yet, and will be given the whole."""
    session = session_of(document)
    if session is None:
        yield
        return
    hearing = session._subscribed_connections
    session._subscribed_connections = set()
    try:
        yield
    finally:
        session._subscribed_connections = hearing


def session_of(document: Any) -> Any:
    """The visit that a document belongs to; None for one that nobody visits."""
    return getattr(document.session_context, "session", None)
