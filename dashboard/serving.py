"""The server of the page: Panel's own, with every message of a visit sent off at once, and pages made in turns."""

from __future__ import annotations

import asyncio
import signal
from typing import Any

import bokeh.server.server
import panel as pn
from bokeh.server.urls import per_app_patterns
from bokeh.server.views.doc_handler import DocHandler
from bokeh.server.views.ws import WSHandler
from tornado.ioloop import IOLoop

from dashboard import door
from dashboard.handout import making
from dashboard.page.crowd import answering


class _AtOnce(answering.Answered):
    """A message is written in several small pieces; by default the system holds back all but the first until that one
    is acknowledged, and browsers put that off for 40 ms."""

    def open(self) -> None:
        self.set_nodelay(True)  # type: ignore[attr-defined]
        super().open()  # type: ignore[misc]


# One visitor's message holds everybody while it is unpacked. The largest that is meant is a file of 120 kB, in base 64.
MOST_SENT = 200_000  # bytes
LIMITS = {"websocket_max_message_size": MOST_SENT, "http_server_kwargs": {"max_body_size": MOST_SENT}}


def serve(pages: dict[str, str], hosts: door.Hosts | None = None, drain: float = 0, **options: Any) -> None:
    """``panel.serve`` until it is stopped. ``hosts``: the names it may be asked for by; ``drain``: how many seconds open pages go
    on once it was told to stop."""
    routes: list[Any] = list(per_app_patterns)
    for place, (path, handler, *more) in enumerate(routes):
        if issubclass(handler, WSHandler) and not issubclass(handler, _AtOnce):
            routes[place] = (path, type("AtOnce", (_AtOnce, door.Guarded, handler), {}), *more)
        if issubclass(handler, DocHandler) and not issubclass(handler, answering.InTurn):
            routes[place] = (path, type("InTurn", (answering.InTurn, handler), {}), *more)
    per_app_patterns[:] = routes
    bokeh.server.server.BokehTornado = door.Kept  # type: ignore[assignment,misc]
    door.refuse_packed()
    making.open_workshop()
    answering.begin()
    signal.signal(signal.SIGTERM, lambda *_: IOLoop.current().add_callback_from_signal(stop, drain))
    pn.serve(pages, hosts=hosts or door.Hosts(), **{**LIMITS, **options})


async def stop(drain: float) -> None:
    """Let nobody new in, let open pages go on for a while, answer what has been asked, then end."""
    servers = [server for server, *_ in pn.state._servers.values()]
    await asyncio.gather(*(server._tornado.close(drain) for server in servers))
    for server in servers:
        server.stop(wait=False)
    await answering.settled()
    IOLoop.current().stop()
