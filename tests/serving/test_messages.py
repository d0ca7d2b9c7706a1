"""What a visitor's browser is told when a message of its own cannot be followed."""

from __future__ import annotations

import asyncio
import json
import re

import pytest
from tornado.websocket import websocket_connect

from tests.records.small import tables, write_folder
from tests.serving import Served
from tests.serving.asking import PATIENCE, asked

BROKEN = {"events": [{"kind": "ModelChanged", "model": {"id": "nobody"}, "attr": "x", "new": 1}]}


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    with Served(write_folder(tmp_path_factory.mktemp("messages") / "records", tables())) as running:
        yield running


def frames(server: Served, *sent: str, token: str = "") -> list[str]:
    """All text that comes back until the server falls silent for a second or hangs up."""

    async def talk() -> list[str]:
        known = token or re.search(r'"token":"([^"]+)"', asked(server.port).text)[1]
        socket = await websocket_connect(f"ws://localhost:{server.port}/ws", subprotocols=["bokeh", known])
        heard = []
        until = PATIENCE  # the first answer may be slow on a loaded machine
        if sent:
            heard += [
                str(await asyncio.wait_for(socket.read_message(), PATIENCE)) for _ in range(3)
            ]  # its greeting
        for part in sent:
            await socket.write_message(part)
        while True:
            try:
                frame = await asyncio.wait_for(socket.read_message(), until)
            except TimeoutError:
                break
            if frame is None:
                break
            heard.append(str(frame))
            until = 3.0
        socket.close()
        return heard

    return asyncio.run(talk())


def test_a_message_that_cannot_be_followed_is_answered_without_what_went_on_inside(server):
    header = json.dumps({"msgid": "1", "msgtype": "PATCH-DOC"})
    heard = frames(server, header, "{}", json.dumps(BROKEN))
    assert any('"ERROR"' in frame for frame in heard)
    for frame in heard:
        assert not re.search(r"Traceback|site-packages|\.py\b", frame)


def test_a_token_that_is_none_is_hung_up_on_and_the_server_goes_on(server):
    assert frames(server, token="nothing") == []
    assert asked(server.port).status == 200
