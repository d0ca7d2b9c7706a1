"""A closed page is let go without a look through the whole heap while anybody asks; in a lull what is left is collected."""

from __future__ import annotations

import asyncio
import json
import sys
import time
from urllib.request import urlopen

import pytest

from dashboard.page.crowd.leaving import Collector
from tests.benchmarks.servers import Served, free_port
from tests.visitor import Visitor

LEFT = 4_000  # objects a closed page may leave for the collector; with its rings uncut it leaves 10,000


@pytest.fixture(scope="module")
def served():
    port = free_port()
    with Served(sys.executable, "-m", "tests.page.crowd.server", str(port), port=port) as server:
        yield server


def heap(server: Served, free: bool = False) -> dict[str, int]:
    with urlopen(server.url + ("heap?free" if free else "heap"), timeout=30) as answer:
        return json.load(answer)


async def seconds_of_changes(visitor: Visitor, seconds: float) -> None:
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        for chosen in (["white"], []):
            await visitor.tick("flesh_colour", chosen)
            await asyncio.sleep(0.1)


@pytest.mark.slow
def test_while_somebody_asks_pages_close_without_a_pass_through_the_heap(served):
    """Panel asks for one five seconds after every page that is closed."""

    async def scene() -> tuple[dict[str, int], dict[str, int]]:
        stays = Visitor(served.url)
        await stays.open()
        await seconds_of_changes(stays, 1)
        before = await asyncio.to_thread(heap, served, True)
        for _ in range(3):
            leaves = Visitor(served.url)
            await leaves.open()
            await leaves.tick("flesh_colour", ["white"])
            leaves.leave()
        await seconds_of_changes(stays, 12)
        after = await asyncio.to_thread(heap, served, True)
        stays.leave()
        return before, after

    before, after = asyncio.run(scene())
    assert after["passes"] - before["passes"] == 1  # the one asked for here
    assert after["freed"] < 3 * LEFT


@pytest.mark.slow
def test_in_a_lull_everything_is_collected(served):
    async def scene() -> None:
        visitor = Visitor(served.url)
        await visitor.open()
        visitor.leave()

    before = heap(served)["passes"]
    asyncio.run(scene())
    until = time.monotonic() + 20
    while (heap(served)["passes"] == before or heap(served)["states"]) and time.monotonic() < until:
        time.sleep(0.3)
    assert heap(served)["states"] == 0
    assert heap(served)["passes"] > before


@pytest.fixture
def clock(monkeypatch):
    """A collector whose time passes as it is told; what it puts off is kept in ``later``."""
    from dashboard.page.crowd import leaving

    class Clock:
        now = 1000.0
        later: list = []  # noqa: RUF012
        collected: list = []  # noqa: RUF012

    Clock.later, Clock.collected = [], []
    monkeypatch.setattr(leaving.time, "monotonic", lambda: Clock.now)
    monkeypatch.setattr(leaving, "_later", lambda seconds, act: Clock.later.append((seconds, act)))
    monkeypatch.setattr(leaving.gc, "collect", lambda: Clock.collected.append(Clock.now))
    monkeypatch.setattr(leaving.gc, "freeze", lambda: None)
    return Clock


def look(clock) -> None:
    seconds, act = clock.later.pop(0)
    clock.now += seconds
    act()


def test_nothing_is_collected_while_nobody_left(clock):
    Collector().asked()
    assert clock.later == []


def test_a_collection_waits_until_nobody_asks(clock):
    collector = Collector()
    collector.open = 5
    collector.closed()
    for _ in range(10):
        collector.asked()
        look(clock)
    assert clock.collected == []
    for _ in range(5):
        if clock.later:
            look(clock)
    assert len(clock.collected) == 1
    assert clock.later == []


def test_the_more_pages_are_open_the_longer_a_collection_waits_for_a_lull(clock):
    """Among a hundred that ask every five seconds nobody asked for two: no time to stop for one."""
    collector = Collector()
    collector.open = 101
    collector.asked()
    collector.closed()
    while clock.now < 1005:
        look(clock)
    assert clock.collected == []
    while clock.later:
        look(clock)
    assert 1015 < clock.collected[0] < 1025


def test_when_many_have_left_a_short_lull_is_enough(clock):
    from dashboard.page.crowd import leaving

    collector = Collector()
    collector.open = 1000
    for _ in range(leaving.PATIENCE):
        collector.closed()
    clock.now += 0.9
    collector.asked()
    clock.now -= 0.9
    look(clock)
    assert len(clock.collected) == 1
