"""The server of the page: Panel's own, with every message of a visit sent off at once, and pages made in turns."""

from __future__ import annotations

import signal
from typing import Any

import panel as pn
from bokeh.server.urls import per_app_patterns
from bokeh.server.views.doc_handler import DocHandler
from bokeh.server.views.ws import WSHandler
from tornado.ioloop import IOLoop

from dashboard.crowd import answering


class _AtOnce(answering.Answered):
    """A message is written in several small pieces; by default the system holds back all but the first until that one
    is acknowledged, and browsers put that off for 40 ms."""

    def open(self) -> None:
        self.set_nodelay(True)  # type: ignore[attr-defined]
        super().open()  # type: ignore[misc]


def serve(pages: dict[str, str], **options: Any) -> None:
    """``panel.serve`` until it is stopped."""
    routes: list[Any] = list(per_app_patterns)
    for place, (path, handler, *more) in enumerate(routes):
        if issubclass(handler, WSHandler) and not issubclass(handler, _AtOnce):
            routes[place] = (path, type("AtOnce", (_AtOnce, handler), {}), *more)
        if issubclass(handler, DocHandler) and not issubclass(handler, answering.InTurn):
            routes[place] = (path, type("InTurn", (answering.InTurn, handler), {}), *more)
    per_app_patterns[:] = routes
    answering.begin()
    signal.signal(signal.SIGTERM, lambda *_: IOLoop.current().add_callback_from_signal(stop))
    pn.serve(pages, **options)


async def stop() -> None:
    """Let nobody in any more, answer what has been asked, then end."""
    for server, *_ in pn.state._servers.values():
        server.stop(wait=False)
    await answering.settled()
    IOLoop.current().stop()
