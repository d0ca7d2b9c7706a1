"""Several processes behind nginx, a visitor stays with one, and one can be stopped."""

from __future__ import annotations

import asyncio
import json
import os
import re
import signal
import sys
import time
from collections.abc import Iterator
from contextlib import ExitStack

import pytest
from tornado.httpclient import HTTPRequest
from tornado.websocket import WebSocketClientConnection, websocket_connect

from tests.door.asking import PATIENCE, Answer, asked
from tests.door.proxy import NAME, Proxy
from tests.records.small import tables, write_folder
from tests.serving import Served


def cookie_of(answer: Answer) -> str:
    return answer.headers["set-cookie"].partition(";")[0]


@pytest.fixture(scope="module")
def crew(tmp_path_factory) -> Iterator[tuple[Proxy, list[Served]]]:
    if sys.platform == "win32":
        pytest.skip("nginx and signals as on a server are not to be had on Windows")
    folder = tmp_path_factory.mktemp("crew")
    records = write_folder(folder / "records", tables())
    with ExitStack() as running:
        servers = [
            running.enter_context(Served(records, "--origin", NAME, "--drain", "60")) for _ in range(2)
        ]
        proxy = running.enter_context(Proxy(folder, [server.port for server in servers]))
        yield proxy, servers


def test_a_visitor_stays_with_one_process_and_visitors_are_spread(crew):
    proxy, servers = crew
    homes = {}
    for _ in range(20):
        answer, ports = proxy.asked("/liveness")
        assert answer.status == 200
        homes[cookie_of(answer)] = ports
    assert {port for (port,) in homes.values()} == {server.port for server in servers}
    for cookie, ports in homes.items():
        assert [proxy.asked("/liveness", cookie)[1] for _ in range(3)] == [ports] * 3


async def opened(proxy: Proxy, cookie: str) -> WebSocketClientConnection:
    """A page through the proxy, its websocket open and greeted."""
    page = asked(proxy.port, host=NAME, Cookie=cookie)
    token = re.search(r'"token":"([^"]+)"', page.text)[1]
    headers = {"Host": NAME, "Origin": f"http://{NAME}", "Cookie": cookie}
    request = HTTPRequest(f"ws://127.0.0.1:{proxy.port}/ws", headers=headers, request_timeout=PATIENCE)
    line = await websocket_connect(request, subprotocols=["bokeh", token])
    for _ in range(3):
        await asyncio.wait_for(line.read_message(), PATIENCE)
    return line


async def answers(line: WebSocketClientConnection, number: str = "1") -> bool:
    """Whether the page behind a websocket still follows what it is asked; other news is passed over."""
    for part in ({"msgid": number, "msgtype": "SERVER-INFO-REQ"}, {}, {}):
        await line.write_message(json.dumps(part))
    while (frame := await asyncio.wait_for(line.read_message(), PATIENCE)) is not None:
        if "SERVER-INFO-REPLY" in str(frame) and f'"{number}"' in str(frame):
            return True
    return False


def test_one_process_is_stopped_and_no_page_is_lost(crew):
    """Last in this file: one of the two processes ends."""
    proxy, servers = crew
    leaving, staying = servers
    cookie = ""
    while True:  # a visitor of the one that will be stopped
        answer, ports = proxy.asked("/liveness")
        if ports == [leaving.port]:
            cookie = cookie_of(answer)
            break

    async def stop_under_a_visitor() -> None:
        line = await opened(proxy, cookie)
        assert await answers(line)
        os.kill(leaving.pid, signal.SIGTERM)
        until = time.monotonic() + PATIENCE
        while (told := asked(leaving.port, "/liveness")).status == 200 and time.monotonic() < until:
            await asyncio.sleep(0.05)
        assert told.status == 503
        assert asked(leaving.port).status == 503
        assert asked(leaving.port, "/static/js/bokeh.min.js").status == 200
        page, ports = proxy.asked(
            "/", cookie
        )  # the same visitor, and one who is new, are taken in by the other
        assert page.status == 200
        assert ports[-1] == staying.port
        assert proxy.asked("/nursery")[0].status == 200
        assert await answers(line, "2"), "the page that was open goes on"
        another = await opened(proxy, cookie)
        assert await answers(another)
        another.close()
        line.close()

    asyncio.run(stop_under_a_visitor())
    assert leaving._process.wait(20) == 0, "once nobody is left it ends by itself"
    assert proxy.asked("/", cookie)[0].status == 200
    assert "Traceback" not in leaving.said()
