"""The server that Panel starts has our front and our handlers, and can be asked which servers run and how many pages are open.

Seen on: panel 1.9.4, bokeh 3.9.2, tornado 6.5.
Mends: Panel and Bokeh take the server's class and its routes from two of their modules, with no argument for others; what was started
with ``panel.serve`` is not handed out, and a Bokeh application does not tell its connections.
Upstream: docs/upstream.md, "A server's handlers".
"""

from __future__ import annotations

from typing import Any

import bokeh.server.server
import panel as pn
from bokeh.server.server import BaseServer
from bokeh.server.tornado import BokehTornado
from bokeh.server.urls import per_app_patterns


def front(application: type[BokehTornado]) -> None:
    """Servers started from now on are of this class."""
    bokeh.server.server.BokehTornado = application  # type: ignore[assignment,misc]


def put_before(library: type, name: str, *before: type) -> None:
    """Routes handled by a class of the ``library``'s are handled by one with ``before`` put before it, from now on; once."""
    routes: list[Any] = list(per_app_patterns)
    for place, (path, handler, *more) in enumerate(routes):
        if issubclass(handler, library) and not issubclass(handler, before[0]):
            routes[place] = (path, type(name, (*before, handler), {}), *more)
    per_app_patterns[:] = routes


def running() -> list[tuple[BaseServer, Any]]:
    """Every server that was started, with the application it is the front of."""
    return [(server, server._tornado) for server, *_ in pn.state._servers.values()]


def connections(application: BokehTornado) -> int:
    """How many pages are open."""
    return len(application._clients)
