"""The server's front: what is turned away before any part of the page is asked."""

from __future__ import annotations

import re
import sys
from typing import Any

from bokeh.server.tornado import BokehTornado
from tornado.httputil import HTTPServerRequest
from tornado.web import GZipContentEncoding, RequestHandler

from dashboard.door.answers import Dressed, sentence
from dashboard.door.hosts import Hosts

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
        self.finish(text + "\n")


class Kept(BokehTornado):
    """Panel's and Bokeh's server behind the door. ``hosts``: the names it is asked for by."""

    def __init__(self, *applications: Any, hosts: Hosts, **options: Any):
        super().__init__(*applications, transforms=[Dressed, GZipContentEncoding], **options)
        self._hosts = hosts

    def find_handler(self, request: HTTPServerRequest, **more: Any) -> Any:
        turned_away = self._turned_away(request)
        if turned_away is None:
            return super().find_handler(request, **more)
        status, text = turned_away
        return self.get_handler_delegate(request, Told, {"status": status, "text": text})

    def _turned_away(self, request: HTTPServerRequest) -> tuple[int, str] | None:
        """The status and the sentence for whoever is not let in."""
        if not self._hosts.admits(request.host_name, called(request)):
            return 403, self._hosts.refusal(request.host_name)
        part = _PART.fullmatch(request.path)
        if _CLOSED.fullmatch(request.path) or (part and part[1] not in sys.modules):
            return 404, sentence(404)
        if any(name in request.arguments for name in _BORROWED) or "Bokeh-Session-Id" in request.headers:
            return 403, sentence(403)
        return None


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
