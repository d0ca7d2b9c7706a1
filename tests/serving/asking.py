"""A running server asked as a stranger would: any path, under any name, with or without a websocket."""

from __future__ import annotations

import asyncio
from http.client import HTTPConnection
from typing import NamedTuple

from tornado.httpclient import HTTPClientError, HTTPRequest
from tornado.websocket import websocket_connect

PATIENCE = 30.0  # seconds


class Answer(NamedTuple):
    status: int
    headers: dict[str, str]  # names in lower case
    text: str


def asked(
    port: int, path: str = "/", host: str = "", method: str = "GET", at: str = "127.0.0.1", **headers: str
) -> Answer:
    """What the server says; ``host`` is the name it is asked by, ``at`` where the connection goes."""
    connection = HTTPConnection(at, port, timeout=PATIENCE)
    try:
        connection.putrequest(method, path, skip_host=True)
        named = {
            "Host": host or f"localhost:{port}",
            **{name.replace("_", "-"): text for name, text in headers.items()},
        }
        for name, text in named.items():
            connection.putheader(name, text)
        connection.endheaders()
        answer = connection.getresponse()
        return Answer(
            answer.status,
            {name.lower(): text for name, text in answer.getheaders()},
            answer.read().decode(errors="replace"),
        )
    finally:
        connection.close()


def connected(port: int, host: str, origin: str = "", token: str = "none", at: str = "127.0.0.1") -> int:
    """The status of a websocket's handshake: 101 when the server lets it in."""

    async def shake() -> int:
        headers = {"Host": host, **({"Origin": origin} if origin else {})}
        try:
            request = HTTPRequest(f"ws://{at}:{port}/ws", headers=headers, connect_timeout=PATIENCE)
            socket = await websocket_connect(request, subprotocols=["bokeh", token])
        except HTTPClientError as refused:
            return refused.code
        socket.close()
        return 101

    return asyncio.run(shake())
