"""What is being answered just now: a page that is asked for waits its turn, and who is told to stop answers first."""

from __future__ import annotations

import asyncio
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from tornado.ioloop import IOLoop

from dashboard.page.crowd import turns
from dashboard.page.crowd.leaving import collector
from dashboard.page.patches import packed, remembered

FINISHING = 10.0  # seconds at most for what is being answered when the server is told to stop
_answering: list[object] = []


class Answered:
    """A visit's connection."""

    async def on_message(self, fragment: str | bytes) -> None:
        turns.turns.heard()
        with _answer():
            await super().on_message(fragment)  # type: ignore[misc]

    def on_close(self) -> None:
        """A page that has lost its connection is loaded anew (``page.html``): nobody comes back to this session."""
        connection = getattr(self, "connection", None)
        session = None if connection is None else connection.session
        super().on_close()  # type: ignore[misc]
        if session is not None and not session.connection_count:
            session.request_expiration()


class InTurn:
    """A page that is asked for takes a tenth of a second to make: one at a time, and after those somebody sits before."""

    async def get(self, *args: Any, **kwargs: Any) -> None:
        with _answer():
            async with turns.turns.turn(lambda: turns.WANTED):
                await super().get(*args, **kwargs)  # type: ignore[misc]


@contextmanager
def _answer() -> Iterator[None]:
    this = object()
    _answering.append(this)
    collector.asked()
    try:
        yield
    finally:
        _answering.remove(this)
        collector.asked()


def begin() -> None:
    """Before the server starts: ready for many visitors at once."""
    remembered.remember()
    packed.pack_once()
    IOLoop.current().add_callback(_begun)


async def _begun() -> None:
    """Once it listens everything that all visitors share has been loaded."""
    collector.begin()
    await asyncio.to_thread(packed.pack, packed.scripts())


async def settled() -> None:
    """Until what was asked has been answered; not for ever."""
    for _ in range(int(FINISHING / 0.02)):
        if not _answering:
            break
        await asyncio.sleep(0.02)
    await asyncio.sleep(0.1)  # under Panel 1.10 the last of an answer is sent a little later
