"""A visitor without a browser: fetches the page, opens its websocket, ticks boxes, reads what comes back, leaves."""

from __future__ import annotations

import asyncio
import json
import re
from typing import Any
from urllib.parse import urljoin

from tornado.httpclient import AsyncHTTPClient, HTTPRequest
from tornado.websocket import websocket_connect

PATIENCE = 20.0  # seconds for any one answer
FILE = re.compile(r"""[^"'\s]*\bstatic/[^"'\s]+\.(?:js|css)(?:\?[^"'\s]*)?""")


async def visit(url: str, *ticks: tuple[str, list[str]], query: str = "") -> list[str]:
    """Each tick is a field and its chosen values; for each comes the text of what the server sent in answer."""
    visitor = Visitor(url, query)
    await visitor.open()
    try:
        return [json.dumps(await visitor.tick(field, chosen)) for field, chosen in ticks]
    finally:
        visitor.leave()


class Visitor:
    """One visitor. ``patience`` in seconds, for any one answer."""

    document: dict[str, Any]  # the page as it was handed out
    boxes: dict[str, str]  # the model that holds each field's tick boxes
    options: dict[str, list[str]]  # what each field offers
    heard: list[Any]  # changes sent while the page was opened

    def __init__(self, url: str, query: str = "", patience: float = PATIENCE):
        self._url = url
        self._query = query
        self._patience = patience
        self._said = 0
        self._kept: dict[str, str] = {}  # the cookie by which a proxy knows whom it has sent where

    async def open(self, with_files: bool = False) -> None:
        """Until the server has heard that the page stands; with the scripts and styles that a newcomer's browser fetches."""
        page = await self._fetched(self._url + self._query)
        token = re.search(r'"token":"([^"]+)"', page)
        assert token, "the page carries no session token"
        if with_files:
            files = {urljoin(self._url, name) for name in FILE.findall(page) if "{" not in name}
            await asyncio.gather(*(self._fetched(file) for file in files))
        socket = self._url.replace("http", "ws") + "ws"
        self._socket = await websocket_connect(
            HTTPRequest(socket, headers=self._kept), subprotocols=["bokeh", token.group(1)]
        )
        self._socket.protocol.set_nodelay(
            True
        )  # as browsers do; else a message in pieces waits 40 ms for an acknowledgement
        try:
            await self._answer("ACK")
            await self._say("PULL-DOC-REQ", {})
            self.document = await self._answer("PULL-DOC-REPLY")
            self.heard = await self._told(_event("document_ready", []))
            self.boxes, self.options = _boxes(self.document["doc"])
        except BaseException:
            self.leave()
            raise

    async def tick(self, field: str, chosen: list[str]) -> Any:
        """What the server sent in answer, once it has said that this was all."""
        tick = self._said + 1
        data = {"type": "map", "entries": [["tick", tick], ["field", field], ["chosen", chosen]]}
        answers = await self._told(
            _event("data_event", [["model", {"id": self.boxes[field]}], ["data", data]])
        )
        return answers[-1] if answers else None

    def leave(self) -> None:
        self._socket.close()

    async def _fetched(self, url: str) -> str:
        # As a browser asks; unpacking is no part of what is measured.
        asked = HTTPRequest(
            url,
            request_timeout=3 * self._patience,
            headers={"Accept-Encoding": "gzip", **self._kept},
            decompress_response=url.startswith(self._url + self._query) and "static/" not in url,
        )
        answer = await AsyncHTTPClient().fetch(asked)
        if cookie := answer.headers.get("Set-Cookie"):
            self._kept = {"Cookie": cookie.partition(";")[0]}
        return answer.body.decode(errors="replace")

    async def _told(self, event: dict[str, Any]) -> list[Any]:
        """Tell the server of an event; the changes it sends until it has said that it is done."""
        number = await self._say("PATCH-DOC", {"events": [event]})
        changes: list[Any] = []
        while True:
            kind, to, content = await self._message()
            if kind == "PATCH-DOC":
                changes.append(content)
            if to == number:
                return changes

    async def _say(self, kind: str, content: dict) -> str:
        self._said += 1
        for part in ({"msgid": str(self._said), "msgtype": kind}, {}, content):
            await self._socket.write_message(json.dumps(part))
        return str(self._said)

    async def _answer(self, kind: str) -> Any:
        """The content of the next message of a kind; others are passed over."""
        while True:
            of, _, content = await self._message()
            if of == kind:
                return content

    async def _message(self) -> tuple[str, str | None, Any]:
        header = json.loads(await self._frame())
        await self._frame()
        content = json.loads(await self._frame())
        for _ in range(2 * header.get("num_buffers", 0)):
            await self._frame()
        if header["msgtype"] == "ERROR":
            raise AssertionError(content["text"])
        return header["msgtype"], header.get("reqid"), content

    async def _frame(self) -> str | bytes:
        frame = await asyncio.wait_for(self._socket.read_message(), self._patience)
        assert frame is not None, "the server hung up"
        return frame


def _event(name: str, entries: list) -> dict[str, Any]:
    values = {"type": "map", "entries": entries}
    return {
        "kind": "MessageSent",
        "msg_type": "bokeh_event",
        "msg_data": {"type": "event", "name": name, "values": values},
    }


def _boxes(document: Any) -> tuple[dict[str, str], dict[str, list[str]]]:
    """The model that holds each field's tick boxes, and the field's options, by field."""
    found: dict[str, str] = {}
    options: dict[str, list[str]] = {}

    def look(part: Any) -> None:
        if isinstance(part, dict):
            if "id" in part and "groups" in (data := part.get("attributes", {}).get("data", {})).get(
                "attributes", {}
            ):
                for group in data["attributes"]["groups"]:
                    told = dict(group["entries"])
                    found[told["field"]] = part["id"]
                    options[told["field"]] = [dict(one["entries"])["value"] for one in told["options"]]
            for inner in part.values():
                look(inner)
        elif isinstance(part, list):
            for inner in part:
                look(inner)

    look(document)
    return found, options


class Guest(Visitor):
    """One open page over its websocket: ``async with Guest(url, query) as guest``."""

    async def __aenter__(self) -> Guest:
        await self.open()
        return self

    async def __aexit__(self, *_exception: object) -> None:
        self.leave()

    async def send(self, marked: str, **message: Any) -> None:
        """A message of the element whose properties hold ``marked``."""
        entries = [["model", {"id": _holding(self.document["doc"], marked)}], ["data", _map(message)]]
        await self._say("PATCH-DOC", {"events": [_event("data_event", entries)]})

    async def open_sheet(self, name: str, holds: str) -> None:
        """``share`` or ``present``: what lies in it, ``holds`` among it, is sent when it is first opened."""
        await self.send("Header", sheet=name)
        came = await self.told(holds)
        self.document["doc"] = [self.document["doc"], json.loads(came)]

    async def told(self, words: str) -> str:
        """The first change the server sends that says ``words``, those included that came while the page was opened."""
        while words not in (text := json.dumps(await self._next(), ensure_ascii=False)):
            pass
        return text

    async def _next(self) -> Any:
        return self.heard.pop(0) if self.heard else await self._answer("PATCH-DOC")


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
