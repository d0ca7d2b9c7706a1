"""The server's front: what is turned away before any part of the page is asked."""

from __future__ import annotations

import asyncio
import re
import sys
from typing import Any

from bokeh.server.tornado import BokehTornado
from tornado.httputil import HTTPServerRequest
from tornado.web import GZipContentEncoding, RequestHandler

from dashboard.page.patches.scripted import Handed
from dashboard.page.patches.served import connections
from dashboard.serving.dressing import Dressed, sentence
from dashboard.serving.hosts import Hosts
from dashboard.serving.operating import Watch, log

LIVENESS = "/liveness"
# Other ways in that the page has no use for.
_CLOSED = re.compile(r".*/(autoload\.js|metadata)/?")
# Scripts of the page's parts. Panel would import, and so run, whatever module a stranger names; only what is loaded has parts.
_PART = re.compile(r"/components/([^/]*)(/.*)?")
# Who names a session joins another visitor's.
_BORROWED = ("bokeh-session-id", "bokeh-token")


class Told(RequestHandler):
    """One sentence, whatever was asked."""

    def initialize(self, status: int, text: str) -> None:
        self._told = (status, text)

    def prepare(self) -> None:
        status, text = self._told
        self.set_status(status)
        self.set_header("Content-Type", "text/plain; charset=UTF-8")
        if status == 503:
            self.set_header("Retry-After", "5")
        self.finish(text + "\n")


class Kept(BokehTornado):
    """Panel's and Bokeh's server behind the door. ``hosts``: the names it is asked for by.

    Once it is ``closing`` it takes no new pages and says so at LIVENESS, so that a proxy turns to another process; pages that are
    open go on.
    """

    def __init__(self, *applications: Any, hosts: Hosts, watch: Watch | None = None, **options: Any):
        self.watch = watch or Watch()
        options["extra_patterns"] = [*(options.get("extra_patterns") or ()), Handed.route()]
        super().__init__(
            *applications,
            transforms=[Dressed, GZipContentEncoding],
            log_function=self.watch.answered,
            **options,
        )
        self._hosts = hosts
        self.closing = False
        self.watch.visitors(self)

    @property
    def visitors(self) -> int:
        """How many pages are open."""
        return connections(self)

    async def close(self, seconds: float) -> None:
        """Take no new pages; until no page is open any more, at most for ``seconds``."""
        self.closing = True
        log.info("stopping", extra={"visitors": self.visitors, "seconds": seconds})
        until = asyncio.get_running_loop().time() + seconds
        while self.visitors and asyncio.get_running_loop().time() < until:
            await asyncio.sleep(0.1)

    def find_handler(self, request: HTTPServerRequest, **more: Any) -> Any:
        turned_away = self._turned_away(request)
        if turned_away is None:
            return super().find_handler(request, **more)
        status, text = turned_away
        return self.get_handler_delegate(request, Told, {"status": status, "text": text})

    def _turned_away(self, request: HTTPServerRequest) -> tuple[int, str] | None:
        """The status and the sentence for whoever is not let in, and for whoever only asks whether the server lives."""
        if request.path == LIVENESS:  # a balancer asks by number, not by name, and learns nothing else
            return (503, sentence(503)) if self.closing else (200, "alive")
        if not self._hosts.admits(request.host_name, called(request)):
            return 403, self._hosts.refusal(request.host_name)
        part = _PART.fullmatch(request.path)
        if _CLOSED.fullmatch(request.path) or (part and part[1] not in sys.modules):
            return 404, sentence(404)
        if any(name in request.arguments for name in _BORROWED) or "Bokeh-Session-Id" in request.headers:
            return 403, sentence(403)
        if self.closing and request.path.removesuffix("/ws").rstrip("/") in _pages(self):
            return 503, sentence(503)
        return None


def _pages(server: BokehTornado) -> set[str]:
    return {path.rstrip("/") for path in server.app_paths}


def called(request: HTTPServerRequest) -> str:
    """This machine's address that a request came in by; "" where there is none."""
    stream = getattr(request.connection, "stream", None) or getattr(
        getattr(request.connection, "context", None), "stream", None
    )
    try:
        name = stream.socket.getsockname() if stream is not None else ""
    except (AttributeError, OSError):  # gone already
        return ""
    return str(name[0]) if isinstance(name, tuple) else ""
