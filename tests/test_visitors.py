"""Visitors leave nothing behind, and share what has been worked out: the page as the command serves it, over real websockets."""

from __future__ import annotations

import asyncio
import json
import sys
import time
import urllib.request
from collections.abc import Iterator
from importlib.metadata import version
from typing import Any

import pytest

from dashboard.visit.state import LOOKS, TABS
from tests.benchmarks.servers import Served, free_port
from tests.visitor import visit

SETTLED = 14  # visits after which memory must stand still: by then every tab has been walked in every look
GROWTH = 15  # MB of noise allowed from there on; one visitor kept whole is about 4 MB
LAST = (
    1 if version("panel").startswith("1.10") else 0
)  # under Panel 1.10 the last visit's page stays until the next one
KEPT = {"State": LAST, "Document": 2, "Page": LAST}  # one document is Bokeh's own, one may just be closing


def _served(*further: str) -> Served:
    port = free_port()
    return Served(sys.executable, "-m", "tests.visited_server", str(port), *further, port=port)


@pytest.fixture(scope="module")
def served() -> Iterator[Served]:
    with _served() as server:
        yield server


def _told(server: Served) -> dict[str, Any]:
    with urllib.request.urlopen(server.url + "told", timeout=30) as answer:
        return json.load(answer)


def _over(told: dict[str, Any]) -> dict[str, Any]:
    """What is left more of than is kept."""
    return {kind: told[kind] for kind, most in KEPT.items() if told[kind] > most}


def _told_at_rest(server: Served, seconds: float = 8) -> dict[str, Any]:
    """What is left once sessions have had time to end."""
    until = time.monotonic() + seconds
    while _over(told := _told(server)) and time.monotonic() < until:
        time.sleep(0.5)
    return told


def _visit(
    server: Served, *ticks: tuple[str, list[str]], tab: str = "fruit", look: str = "page"
) -> list[str]:
    return asyncio.run(visit(server.url, *ticks, query=f"?v=1&tab={tab}&look={look}"))


def _visits(server: Served, numbers: range) -> dict[str, Any]:
    """What is left of so many visits, each to the next tab in the next look."""
    for number in numbers:
        where = {"tab": TABS[number % len(TABS)], "look": LOOKS[number % len(LOOKS)]}
        _visit(server, ("flesh_colour", ["white"]), ("fruit_type", ["peach"]), **where)
    return _told_at_rest(server)


def test_visits_leave_no_state_no_page_and_no_document(served):
    left = _visits(served, range(3))
    assert _over(left) == {}


@pytest.mark.slow
@pytest.mark.parametrize("visits", [20, 100])
def test_visits_leave_no_memory(served, visits):
    settled = _visits(served, range(SETTLED))
    left = _visits(served, range(SETTLED, visits))
    assert _over(left) == {}
    assert left["memory_mb"] - settled["memory_mb"] < GROWTH


def test_the_second_visitor_who_asks_the_same_computes_nothing(served):
    question = ("stone", ["free"]), ("status", ["released"])
    before = _told(served)["computed"]
    first = _visit(served, *question)
    between = _told(served)["computed"]
    second = _visit(served, *question)
    assert between != before, "the first visitor's question was meant to be a new one"
    assert _told(served)["computed"] == between
    assert [_words(answer) for answer in second] == [_words(answer) for answer in first]


@pytest.mark.slow
def test_without_the_cut_every_page_stays():
    """The count sees a page that is kept; green here means the cut in the page is still needed: a matter of a new Panel, not of each day."""
    with _served("--tied") as server:
        for _ in range(2):
            _visit(server, tab="records")
        assert _told_at_rest(server, 3)["Page"] == 2


def _words(answer: str) -> list:
    """What the server said, without the numbers it gives to things."""
    return [event.get("new") for event in json.loads(answer)["events"]]
