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


class Guest:
    """One open page over its websocket: ``async with Guest(url, query) as guest``; ``guest.document`` is what it was given."""

    def __init__(self, url: str, query: str = ""):
        self.url, self.query, self._number = url, query, 2

    async def __aenter__(self) -> Guest:
        page = await AsyncHTTPClient().fetch(self.url + self.query, request_timeout=PATIENCE)
        token = re.search(r'"token":"([^"]+)"', page.body.decode())
        assert token, "the page carries no session token"
        address = self.url.replace("http", "ws") + "ws"
        self.socket = await websocket_connect(address, subprotocols=["bokeh", token.group(1)])
        await _answer(self.socket, "ACK")
        await _say(self.socket, "PULL-DOC-REQ", {}, "1")
        self.document = (await _answer(self.socket, "PULL-DOC-REPLY"))["doc"]
        await _say(self.socket, "PATCH-DOC", {"events": [_event("document_ready", [])]}, "2")
        return self

    async def __aexit__(self, *_exception: object) -> None:
        self.socket.close()

    async def send(self, marked: str, **message: Any) -> str:
        """A message of the element whose properties hold ``marked``; its number."""
        self._number += 1
        entries = [["model", {"id": _holding(self.document, marked)}], ["data", _map(message)]]
        await _say(self.socket, "PATCH-DOC", {"events": [_event("data_event", entries)]}, str(self._number))
        return str(self._number)

    async def told(self, words: str) -> str:
        """The first change the server sends that says ``words``."""
        while words not in (text := json.dumps(await _answer(self.socket, "PATCH-DOC"), ensure_ascii=False)):
            pass
        return text


def _map(message: dict[str, Any]) -> dict[str, Any]:
    return {"type": "map", "entries": [list(entry) for entry in message.items()]}


def _holding(document: Any, marked: str) -> str:
    """The id of the element one of whose texts holds ``marked``."""

    def look(part: Any) -> Any:
        if isinstance(part, dict):
            inner = part.get("attributes", {}).get("data", {})
            texts = inner.get("attributes", {}).values() if isinstance(inner, dict) else ()
            if "id" in part and any(isinstance(text, str | list) and marked in text for text in texts):
                return part["id"]
            part = list(part.values())
        if isinstance(part, list):
            return next((found for one in part if (found := look(one))), None)
        return None

    found = look(document)
    assert found, f"no element holds {marked}"
    return found
