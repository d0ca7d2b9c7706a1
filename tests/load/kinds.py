"""The kinds of load. Each is a coroutine that notes what guests met, phase by phase."""

from __future__ import annotations

import asyncio
import itertools
import time
from collections.abc import AsyncIterator, Awaitable, Callable, Iterator
from contextlib import asynccontextmanager

from tests.load.guests import Guest, Noted, lateness

EVERY = 5.0  # seconds between two changes of one guest
SETTLES = 30.0  # seconds until sessions that were left are closed and, once nobody has asked anything for a while, collected
Phase = Callable[[str, Noted], Awaitable[None]]


class Load:
    """``phase`` is told of each phase's name and what was noted in it, when it ends."""

    def __init__(self, url: str, phase: Phase, equal: bool = False, newcomers: bool = False):
        self._url = url
        self._phase = phase
        self._newcomers = newcomers
        self._seeds = itertools.repeat(1) if equal else itertools.count(1)

    async def steady(self, sessions: int, seconds: float = 60) -> None:
        noted, guests = Noted(), []
        for _ in range(sessions):  # one after another: what an opening costs by itself
            guests.append(await self._come(noted))
        await self._phase(f"{sessions} openings, one after another", noted)
        await asyncio.sleep(8)  # so that what openings leave to be done is not counted as that of changes
        await self._phase("at rest", Noted())
        noted = Noted()
        async with _watching(noted):
            until = time.perf_counter() + seconds
            await asyncio.gather(*(guest.stay(noted, until, EVERY) for guest in guests))
        await self._phase(f"{sessions} sessions, a change each {EVERY:.0f} s", noted)
        for guest in guests:
            guest.go()

    async def arrivals(self, rate: float = 2, seconds: float = 30) -> None:
        noted, guests, visits = Noted(), [], []
        async with _watching(noted):
            until = time.perf_counter() + seconds
            while time.perf_counter() < until:
                guests.append(self._guest())
                visits.append(asyncio.ensure_future(self._come_and_stay(guests[-1], noted, until + EVERY)))
                await asyncio.sleep(1 / rate)
            await asyncio.gather(*visits)
        await self._phase(f"{rate:.0f} arrivals a second", noted)
        for guest in guests:
            guest.go()

    async def churn(self, sessions: int = 100, seconds: float = 60) -> None:
        noted = Noted()
        guests = [await self._come(noted) for _ in range(sessions)]
        await self._phase(f"{sessions} openings, one after another", noted)
        noted = Noted()
        async with _watching(noted):
            until = time.perf_counter() + seconds
            visits = [(guest, asyncio.ensure_future(guest.stay(noted, until, EVERY))) for guest in guests]
            while time.perf_counter() < until:
                guest, visit = visits.pop(0)
                visit.cancel()
                guest.go()
                new = self._guest()
                visits.append((new, asyncio.ensure_future(self._come_and_stay(new, noted, until))))
                await asyncio.sleep(1)
            await asyncio.gather(*(visit for _, visit in visits))
        await self._phase(f"one comes and one goes a second among {sessions}", noted)
        for guest, _ in visits:
            guest.go()

    async def burst(self, sessions: int = 60, open_already: int = 20) -> None:
        before = Noted()
        guests = [await self._come(before) for _ in range(open_already)]
        await self._phase(f"{open_already} openings, one after another", before)
        noted = Noted()
        async with _watching(noted):
            comers = [self._guest() for _ in range(sessions)]
            coming = asyncio.gather(*(guest.come(noted) for guest in comers))
            until = time.perf_counter() + 15
            await asyncio.gather(coming, *(guest.stay(noted, until, 1) for guest in guests))
        await self._phase(f"{sessions} at once, beside {open_already} with a change a second", noted)
        for guest in (*guests, *comers):
            guest.go()

    async def soak(self, visits: int = 500, at_a_time: int = 8) -> None:
        for done in range(0, visits, 100):
            noted = Noted()
            left = iter(range(100))
            await asyncio.gather(*(self._come_and_go(left, noted) for _ in range(at_a_time)))
            await asyncio.sleep(SETTLES)
            await self._phase(f"after {done + 100} visits", noted)

    def _guest(self) -> Guest:
        return Guest(self._url, next(self._seeds), self._newcomers)

    async def _come(self, noted: Noted) -> Guest:
        guest = self._guest()
        await guest.come(noted)
        return guest

    async def _come_and_stay(self, guest: Guest, noted: Noted, until: float) -> None:
        await guest.come(noted)
        await guest.stay(noted, until, EVERY)

    async def _come_and_go(self, left: Iterator[int], noted: Noted) -> None:
        for _ in left:
            guest = await self._come(noted)
            await guest.stay(noted, time.perf_counter() + 0.5, 0.2, first=0.0)
            guest.go()


@asynccontextmanager
async def _watching(noted: Noted) -> AsyncIterator[None]:
    """While this goes on the client's own lateness is noted."""
    beat = asyncio.ensure_future(lateness(noted))
    try:
        yield
    finally:
        beat.cancel()
