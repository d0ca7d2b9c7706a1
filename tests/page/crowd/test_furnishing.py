"""A page that cannot be furnished says so; whoever arrives before it is furnished sees it whole; others are answered meanwhile."""

from __future__ import annotations

import asyncio
import json
import signal
import sys
from collections.abc import Iterator

import pytest

from tests.benchmarks.servers import Served, free_port
from tests.visitor import Visitor


@pytest.fixture(scope="module")
def server() -> Iterator[Served]:
    """Nobody has been there when many come at once; the last test ends it."""
    port = free_port()
    with Served(sys.executable, "-m", "tests.page.crowd.server", str(port), port=port) as server:
        yield server


def test_many_at_once_each_see_the_whole_page_and_are_told_nothing_before(server, monkeypatch):
    """They arrive long before their pages are furnished; what joins a page then is in the document they ask for."""
    early: list[str] = []
    message = Visitor._message

    async def heard(self):
        told = await message(self)
        if not hasattr(self, "document") and told[0] == "PATCH-DOC":
            early.append(told[0])
        return told

    monkeypatch.setattr(Visitor, "_message", heard)

    async def scene() -> list[Visitor]:
        visitors = [Visitor(server.url) for _ in range(8)]
        await asyncio.gather(*(visitor.open() for visitor in visitors))
        for visitor in visitors:
            await visitor.tick("flesh_colour", ["white"])
            visitor.leave()
        return visitors

    visitors = asyncio.run(scene())
    assert early == []
    parts = {len(json.dumps(visitor.document["doc"])) // 1000 for visitor in visitors}
    assert max(parts) - min(parts) <= 2  # thousands of characters: numbers differ in length


@pytest.mark.parametrize("fault", ["furnish", "make"])
def test_a_page_that_cannot_be_made_says_so(server, fault):
    async def scene() -> str:
        visitor = Visitor(server.url, f"?fault={fault}")
        await visitor.open()
        visitor.leave()
        return json.dumps(visitor.document)

    before = server.said()
    said = asyncio.run(scene())
    logged = server.said().removeprefix(before)
    assert "This page could not be put together" in said
    assert "planted fault" not in said
    assert "Traceback" not in said
    assert "a planted fault" in logged


def test_told_to_stop_the_server_finishes_its_answer_first(server):
    async def scene() -> None:
        visitor = Visitor(server.url, "?fault=slow")
        await visitor.open()
        answer = asyncio.ensure_future(visitor.tick("flesh_colour", ["white"]))
        await asyncio.sleep(0.3)
        server.signal(signal.SIGTERM)
        await answer  # it fails where the server hangs up

    asyncio.run(scene())
    assert server.ended(10) == 0
