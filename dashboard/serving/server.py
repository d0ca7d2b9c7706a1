"""The server of the page: Panel's own, with every message of a visit sent off at once, and pages made in turns."""

from __future__ import annotations

import asyncio
import signal
from typing import Any

import panel as pn
from bokeh.server.views.doc_handler import DocHandler
from bokeh.server.views.ws import WSHandler
from tornado.ioloop import IOLoop

from dashboard.page.crowd import answering
from dashboard.page.parts import making, planning
from dashboard.page.patches import served, unpacked
from dashboard.serving.bringing.room import Room
from dashboard.serving.bringing.routes import routes
from dashboard.serving.door import Kept
from dashboard.serving.guarded import Guarded
from dashboard.serving.hosts import Hosts


class AtOnce(answering.Answered):
    """A message is written in several small pieces; by default the system holds back all but the first until that one
    is acknowledged, and browsers put that off for 40 ms."""

    def open(self) -> None:
        self.set_nodelay(True)  # type: ignore[attr-defined]
        super().open()  # type: ignore[misc]


# One visitor's message holds everybody while it is unpacked. The largest that is meant is a file of 120 kB, in base 64.
MOST_SENT = 200_000  # bytes
LIMITS = {
    "websocket_max_message_size": MOST_SENT,
    "http_server_kwargs": {"max_body_size": MOST_SENT},
    "unused_session_lifetime_milliseconds": 300_000,
    "check_unused_sessions_milliseconds": 2_000,
    "keep_alive_milliseconds": 10_000,
}


def serve(
    pages: dict[str, str],
    hosts: Hosts | None = None,
    drain: float = 0,
    room: Room | None = None,
    **options: Any,
) -> None:
    """``panel.serve`` until it is stopped. ``hosts``: the names it may be asked for by; ``drain``: how many seconds open pages go
    on once it was told to stop; ``room``: where records come in, where they may."""
    served.put_before(WSHandler, "AtOnce", AtOnce, Guarded)
    served.put_before(DocHandler, "InTurn", answering.InTurn)
    served.front(Kept)
    unpacked.refuse()
    making.open_workshop()
    planning.open_workshop()
    answering.begin()
    signal.signal(signal.SIGTERM, lambda *_: IOLoop.current().add_callback_from_signal(stop, drain))
    if room is not None:
        options["extra_patterns"] = routes(room)
    pn.serve(pages, hosts=hosts or Hosts(), verbose=False, **{**LIMITS, **options})


async def stop(drain: float) -> None:
    """Let nobody new in, let open pages go on for a while, answer what has been asked, then end."""
    running = served.running()
    await asyncio.gather(*(front.close(drain) for _, front in running))
    for server, _ in running:
        server.stop(wait=False)
    await answering.settled()
    IOLoop.current().stop()
