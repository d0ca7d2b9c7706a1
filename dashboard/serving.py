"""The server of the page: Panel's own, with every message of a visit sent off at once."""

from __future__ import annotations

from typing import Any

import panel as pn
from bokeh.server.urls import per_app_patterns
from bokeh.server.views.ws import WSHandler

from dashboard.handout import making


class _AtOnce:
    """A message is written in several small pieces; by default the system holds back all but the first until that one
    is acknowledged, and browsers put that off for 40 ms."""

    def open(self) -> None:
        self.set_nodelay(True)  # type: ignore[attr-defined]
        super().open()  # type: ignore[misc]


# One visitor's message holds everybody while it is unpacked. The largest that is meant is a file of 120 kB, in base 64.
MOST_SENT = 200_000  # bytes
LIMITS = {"websocket_max_message_size": MOST_SENT, "http_server_kwargs": {"max_body_size": MOST_SENT}}


def serve(pages: dict[str, str], **options: Any) -> None:
    """``panel.serve`` until it is stopped."""
    routes: list[Any] = list(per_app_patterns)
    for place, (path, handler, *more) in enumerate(routes):
        if issubclass(handler, WSHandler) and not issubclass(handler, _AtOnce):
            routes[place] = (path, type("AtOnce", (_AtOnce, handler), {}), *more)
    per_app_patterns[:] = routes
    making.open_workshop()
    pn.serve(pages, **{**LIMITS, **options})
