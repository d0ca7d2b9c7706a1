"""Heavy work is done in turns, a piece at a time: between two pieces every change that waits is answered.

An opening takes the server some hundred times as long as a change, and all visitors share one event loop.
"""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import AbstractContextManager, asynccontextmanager

WAITED_FOR, WANTED, EARLY = range(3)  # somebody sits before it; a page is asked for; it may yet be wanted
BREATHS = 8  # rounds of the loop between two pieces: what a browser sends takes a few to be read and answered
PAUSE = 0.002  # seconds that are waited for the rest of a message once a part of it has come
PAUSES = 25  # at most, between two pieces


class Turns:
    """Who may work now. ``rank()`` is asked whenever a turn is given: the lowest goes first, of equals who came first."""

    def __init__(self) -> None:
        self._waiting: list[tuple[Callable[[], int], asyncio.Future[None]]] = []
        self._busy = False
        self._heard = 0
        self._giving: set[asyncio.Task[None]] = set()  # the loop itself holds tasks only weakly

    @asynccontextmanager
    async def turn(self, rank: Callable[[], int]) -> AsyncIterator[None]:
        """A turn; what is done within must not wait for another one."""
        mine = asyncio.get_running_loop().create_future()
        self._waiting.append((rank, mine))
        if not self._busy:
            self._give()
        try:
            await mine
            yield
        finally:
            if mine.done() and not mine.cancelled():
                giving = asyncio.ensure_future(self._breathe())
                self._giving.add(giving)
                giving.add_done_callback(self._giving.discard)

    async def work(
        self,
        pieces: Iterator[None],
        rank: Callable[[], int],
        within: Callable[[], AbstractContextManager[object]],
    ) -> None:
        """All ``pieces``, each in a turn of its own and ``within()`` that."""
        more = True
        while more:
            async with self.turn(rank):
                with within():
                    more = next(pieces, _END) is not _END

    def _give(self) -> None:
        self._waiting = [(rank, one) for rank, one in self._waiting if not one.done()]
        self._busy = bool(self._waiting)
        if self._busy:
            ranks = [rank() for rank, _ in self._waiting]
            _, first = self._waiting.pop(ranks.index(min(ranks)))
            first.set_result(None)

    def heard(self) -> None:
        """Some visitor said something just now."""
        self._heard += 1

    async def _breathe(self) -> None:
        before = self._heard
        for _ in range(PAUSES):
            for _ in range(BREATHS):
                await asyncio.sleep(0)
            if self._heard == before:
                break
            before = self._heard
            await asyncio.sleep(PAUSE)
        self._give()


_END = object()
turns = Turns()
