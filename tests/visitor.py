"""A visitor without a browser: fetches the page, opens its websocket, ticks boxes, reads what comes back, leaves."""

from __future__ import annotations

import asyncio
import json
import re
from typing import Any

from tornado.httpclient import AsyncHTTPClient
from tornado.websocket import WebSocketClientConnection, websocket_connect

PATIENCE = 20.0  # seconds for any one answer


async def visit(url: str, *ticks: tuple[str, list[str]], query: str = "") -> list[str]:
    """Each tick is a field and its chosen values; for each comes the text of what the server sent in answer."""
    page = await AsyncHTTPClient().fetch(url + query, request_timeout=PATIENCE)
    token = re.search(r'"token":"([^"]+)"', page.body.decode())
    assert token, "the page carries no session token"
    socket = await websocket_connect(url.replace("http", "ws") + "ws", subprotocols=["bokeh", token.group(1)])
    try:
        await _answer(socket, "ACK")
        await _say(socket, "PULL-DOC-REQ", {}, "1")
        document = await _answer(socket, "PULL-DOC-REPLY")
        await _say(socket, "PATCH-DOC", {"events": [_event("document_ready", [])]}, "2")
        await _answer(socket, "OK", "2")
        boxes = _boxes(document["doc"])
        answers = []
        for number, (field, chosen) in enumerate(ticks, start=3):
            data = {"type": "map", "entries": [["tick", number], ["field", field], ["chosen", chosen]]}
            told = _event("data_event", [["model", {"id": boxes[field]}], ["data", data]])
            await _say(socket, "PATCH-DOC", {"events": [told]}, str(number))
            answers.append(json.dumps(await _answer(socket, "PATCH-DOC")))
            await _answer(socket, "OK", str(number))
        return answers
    finally:
        socket.close()


def _event(name: str, entries: list) -> dict[str, Any]:
    values = {"type": "map", "entries": entries}
    return {
        "kind": "MessageSent",
        "msg_type": "bokeh_event",
        "msg_data": {"type": "event", "name": name, "values": values},
    }


def _boxes(document: Any) -> dict[str, str]:
    """The model that holds each field's tick boxes, by field."""
    found: dict[str, str] = {}

    def look(part: Any) -> None:
        if isinstance(part, dict):
            if "id" in part and "groups" in (data := part.get("attributes", {}).get("data", {})).get(
                "attributes", {}
            ):
                for group in data["attributes"]["groups"]:
                    found[dict(group["entries"])["field"]] = part["id"]
            for inner in part.values():
                look(inner)
        elif isinstance(part, list):
            for inner in part:
                look(inner)

    look(document)
    return found


async def _say(socket: WebSocketClientConnection, kind: str, content: dict, number: str) -> None:
    for part in ({"msgid": number, "msgtype": kind}, {}, content):
        await socket.write_message(json.dumps(part))


async def _answer(socket: WebSocketClientConnection, kind: str, to: str | None = None) -> Any:
    """The content of the next message of a kind (and in answer to a message of ours); others are passed over."""
    while True:
        header = json.loads(await _frame(socket))
        await _frame(socket)
        content = json.loads(await _frame(socket))
        for _ in range(2 * header.get("num_buffers", 0)):
            await _frame(socket)
        if header["msgtype"] == "ERROR":
            raise AssertionError(content["text"])
        if header["msgtype"] == kind and to in (None, header.get("reqid")):
            return content


async def _frame(socket: WebSocketClientConnection) -> str | bytes:
    frame = await asyncio.wait_for(socket.read_message(), PATIENCE)
    assert frame is not None, "the server hung up"
    return frame
