"""The pages of a room on a server of their own, and somebody who asks for them."""

from __future__ import annotations

import asyncio
import json
import re
import threading
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from html import unescape
from http.client import HTTPConnection
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import argon2
import pytest
from tornado.httpserver import HTTPServer
from tornado.netutil import bind_sockets
from tornado.web import Application

from dashboard.records.trays.desk import desk_of
from dashboard.serving.bringing.password import set_password
from dashboard.serving.bringing.room import Room
from dashboard.serving.bringing.routes import routes
from dashboard.serving.dressing import Dressed
from dashboard.serving.server import LIMITS

PATIENCE = 30.0  # seconds
SECRET = "plum tree in the yard"


def quick_hash(patch: pytest.MonkeyPatch) -> None:
    """The hash of a password with little work: how much it takes is the library's."""
    patch.setattr(
        "dashboard.serving.bringing.password.PasswordHasher", lambda: argon2.PasswordHasher(1, 8, 1)
    )


def small_room(trial: Path, **more: Any) -> Room:
    """That of a small trial, with SECRET for a password."""
    desk = desk_of(trial)
    set_password(desk.password, SECRET)
    return Room(desk, "Small trial", **more)


@contextmanager
def opened(room: Room) -> Iterator[int]:
    """The port that the room's pages are at."""
    ready = threading.Event()
    found: list[int] = []
    loop = asyncio.new_event_loop()

    def run() -> None:
        asyncio.set_event_loop(loop)
        (socket,) = bind_sockets(0, "127.0.0.1")

        async def start() -> None:
            app = Application(routes(room), transforms=[Dressed], log_function=lambda _: None)  # type: ignore[arg-type]
            HTTPServer(app, **LIMITS["http_server_kwargs"]).add_sockets([socket])  # type: ignore[arg-type]

        loop.run_until_complete(start())
        found.append(socket.getsockname()[1])
        ready.set()
        loop.run_forever()

    thread = threading.Thread(target=run, daemon=True)
    thread.start()
    assert ready.wait(PATIENCE)
    yield found[0]
    loop.call_soon_threadsafe(loop.stop)
    thread.join(PATIENCE)
    room.work.close()


class Visitor:
    """Keeps the cookie it is given; says where a post comes from as a browser does."""

    def __init__(self, port: int) -> None:
        self.port, self.cookie, self.headers = port, "", {}  # type: ignore[var-annotated]

    def ask(self, path: str, method: str = "GET", body: bytes | Mapping[str, str] = b"", **said: str) -> tuple[int, str]:  # fmt: skip
        """Status and text."""
        headers = {"Host": f"localhost:{self.port}", "Cookie": self.cookie}
        if method == "POST":
            headers["Origin"] = f"http://localhost:{self.port}"
        if isinstance(body, Mapping):
            body, headers["Content-Type"] = urlencode(body).encode(), "application/x-www-form-urlencoded"
        headers |= {name.replace("_", "-"): text for name, text in said.items()}
        connection = HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE)
        try:
            connection.request(method, path, body, headers)
            answer = connection.getresponse()
            text = answer.read()
            self.headers = dict(answer.getheaders())
        finally:
            connection.close()
        if "Set-Cookie" in self.headers:
            self.cookie = self.headers["Set-Cookie"].split(";")[0]
        return answer.status, text.decode(errors="replace")

    def post(self, path: str, body: bytes | Mapping[str, str] = b"", **said: str) -> tuple[int, str]:
        return self.ask(path, "POST", body, **said)

    def log_in(self, password: str, who: str = "Ann", **said: str) -> int:
        return self.post("/records/login", {"who": who, "password": password}, **said)[0]

    def bring(self, name: str, content: bytes) -> str:
        """The address of a tray with one file, read."""
        tray = json.loads(self.post("/records/trays")[1])["tray"]
        status, text = self.post(f"/records/trays/{tray}/files?{urlencode({'name': name})}", content)
        assert status == 200, text
        return f"/records/trays/{tray}"

    def rest(self, address: str) -> str:
        """The page of a tray once nothing is done with it any more."""
        until = time.monotonic() + PATIENCE
        while time.monotonic() < until:
            _, text = self.ask(address)
            if 'id="doing"' not in text:
                return text
            time.sleep(0.02)
        raise AssertionError(text)

    def answer(self, address: str, page: str, how: Mapping[str, str]) -> str:
        """Fill in the form: ``how`` by what a legend holds, else what stands chosen."""
        given = {"turn": re.search(r'name="turn" value="(\d+)"', page)[1]}  # type: ignore[index]
        for field, inside in re.findall(r'<fieldset id="(q\w+)"[^>]*>(.*?)</fieldset>', page, re.DOTALL):
            legend = unescape(re.search(r"<legend>(.*?)</legend>", inside, re.DOTALL)[1])  # type: ignore[index]
            lines = re.findall(r"<tr>(.*?)</tr>", inside, re.DOTALL)
            if lines and "<details" not in inside:  # a choice a line
                for line in lines:
                    name = unescape(re.search(r"<b>(.*?)</b>", line)[1])  # type: ignore[index]
                    stands = re.search(r"""value=["']([^"']*)["'] selected""", line)
                    said = next((text for part, text in how.items() if part in f"{name}, column"), "")
                    given[re.search(r'select name="(q\w+)"', line)[1]] = said or unescape(
                        stands[1] if stands else ""
                    )  # type: ignore[index]
                continue
            inside = inside.partition("<details")[0]
            said = next((text for part, text in how.items() if part in legend), "")
            chosen = re.search(r"""value=["']([^"']*)["'] (?:checked|selected)""", inside)
            own = re.search(rf'name="{field}another" value="([^"]*)"', inside)
            said = said or (unescape(chosen[1]) if chosen else "") or (unescape(own[1]) if own else "")
            offered = [unescape(word) for word in re.findall(r"""value=["']([^"']*)["']""", inside)]
            given[field if said in offered else f"{field}another"] = said
        assert self.post(f"{address}/answers", given)[0] == 303
        return self.rest(address)
