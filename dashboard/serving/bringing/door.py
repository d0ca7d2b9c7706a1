"""Who may come in: the handler that every page of this room stands on, logging in, and logging out.

A request that changes anything has to come from a page of this very server, by what the browser itself says of it; a cookie alone
is never enough.
"""

from __future__ import annotations

import asyncio
import ipaddress
import logging
from typing import Any
from urllib.parse import urlsplit

from tornado.web import RequestHandler

from dashboard.serving.bringing import frame
from dashboard.serving.bringing.room import Room
from dashboard.serving.bringing.sessions import LONGEST_S, RefusedError

COOKIE = "orchard_slate_records"
ELSEWHERE = "That came from another site, so nothing was done; press the button on the page itself."
LOGGED_OUT = "You are logged out. What you sent before is kept; log in and go on."
WENT_WRONG = "That could not be done; try again. If it stays so, the server's log says why."
NOT_THERE = "There is nothing at this address."
_LOOPS = ("127.0.0.1", "::1")
log = logging.getLogger(__name__)


class Inside(RequestHandler):
    """``open_to_all``: asked of nobody. ``plain``: answers a script, in JSON, in place of a page."""

    room: Room
    open_to_all = False
    plain = False
    answered = False  # already, in place of what was asked for

    def initialize(self, room: Room) -> None:
        self.room = room
        self.set_header("Cache-Control", "no-store")

    def prepare(self) -> Any:
        if self.request.method == "POST" and not self._from_here():
            self.refuse(403, ELSEWHERE)
        elif not self.open_to_all and not self.who:
            self.ask_to_log_in()

    @property
    def who(self) -> str:
        if not hasattr(self, "_who"):
            self._who = self.room.sessions.who(self.get_cookie(COOKIE))
        return self._who

    @property
    def address(self) -> str:
        """Where it comes from; through a proxy on this machine, what that says, where a name was given under which one is reached
        (``--origin``). Then whoever sits at this machine may say it, too."""
        peer = self.request.remote_ip or ""
        before = self.request.headers.get("X-Forwarded-For", "").rpartition(",")[2].strip()
        return (_network(before) if peer in _LOOPS and self.room.named else _network(peer)) or peer

    def _from_here(self) -> bool:
        said = self.request.headers.get("Sec-Fetch-Site")
        if said is not None:  # browsers say it where they can trust the way
            return said == "same-origin"
        origin = urlsplit(self.request.headers.get("Origin", "")).netloc.lower()
        return bool(origin) and origin in (self.request.host.lower(), *self.room.named)

    def ask_to_log_in(self) -> None:
        if self.plain:
            self.refuse(401, LOGGED_OUT)
            return
        then = self.request.uri if self.request.method == "GET" and self.request.uri != frame.HOME else ""
        fault = "" if self.request.method == "GET" else LOGGED_OUT
        self.show("Records: log in", frame.log_in(fault, then=then or ""), 401 if fault else 200)

    def show(self, title: str, body: Any, status: int = 200, waits: bool = False) -> None:
        self.answered = True
        self.set_status(status)
        self.set_header("Content-Type", "text/html; charset=UTF-8")
        self.finish(frame.page(title, body, self.room.title, "" if self.open_to_all else self.who, waits))

    def refuse(self, status: int, said: str, **more: object) -> None:
        """One sentence, as a page or for a script."""
        if self.plain:
            self.answered = True
            self.set_status(status)
            self.finish({"said": said, **more})
        else:
            self.show("Records", frame.said(said), status)

    def write_error(self, status_code: int, **_kwargs: Any) -> None:
        self.refuse(status_code, NOT_THERE if status_code in (404, 405) else WENT_WRONG)


class LogIn(Inside):
    open_to_all = True

    def get(self) -> None:
        self.show("Records: log in", frame.log_in())

    async def post(self) -> None:
        who, said = self.get_body_argument("who", ""), self.get_body_argument("password", "", strip=False)
        then = self.get_body_argument("then", "")
        try:
            token = await asyncio.to_thread(self.room.sessions.log_in, who, said, self.address)
        except RefusedError as fault:
            log.warning("somebody was not let in to the records: %s", fault)
            if fault.seconds:
                self.set_header("Retry-After", str(fault.seconds))
            self.show("Records: log in", frame.log_in(str(fault), who, then), fault.status)
            return
        secure = self.request.protocol == "https" or self.request.headers.get("X-Forwarded-Proto") == "https"
        self.set_cookie(COOKIE, token, path=frame.HOME, httponly=True, samesite="Strict", secure=secure, max_age=LONGEST_S)  # fmt: skip
        self.redirect(then if _within(then) else frame.HOME, status=303)


class LogOut(Inside):
    open_to_all = True

    def post(self) -> None:
        self.room.sessions.log_out(self.get_cookie(COOKIE))
        self.clear_cookie(COOKIE, path=frame.HOME)
        self.redirect(frame.HOME, status=303)


def _network(said: str) -> str:
    """An address as tries are counted by: of IPv6 its first half, because whoever has one has all of that. "" for what is none."""
    try:
        known = ipaddress.ip_address(said.partition("%")[0])
    except ValueError:
        return ""
    if known.version == 4:
        return str(known)
    before = known.ipv4_mapped
    return str(before or ipaddress.ip_network((known, 64), strict=False))


def _within(then: str) -> bool:
    """Whether an address is one of this room's, and no other server's."""
    return then.startswith(frame.HOME) and "\\" not in then and then.isprintable() and ".." not in then
