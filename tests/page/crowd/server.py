"""The page as the command serves it, on a few invented cultivars, where a visitor may plant a fault in his own page by its address:
``python -m tests.page.crowd.server PORT``.

``?fault=furnish``: the page cannot be furnished. ``make``: it is not even begun. ``slow``: every change takes two seconds.
/heap tells what the collector has left to do: how many objects that nobody holds any more, and how often it went through the whole heap.
"""

from __future__ import annotations

import gc
import json
import sys
import time
from urllib.parse import parse_qs
from weakref import WeakKeyDictionary

import panel as pn
from tornado.web import RequestHandler

from dashboard import cli
from dashboard.answers import catalogue
from dashboard.page import app
from dashboard.page.crowd import leaving
from dashboard.visit.state import State
from tests.benchmarks import invented

SLOW = 2.0  # seconds
whole: list[float] = []


class Heap(RequestHandler):
    """Asked with ``?free``, it frees what nobody holds and tells how much that was."""

    def get(self) -> None:
        passes = len(whole)
        freed = gc.collect() if self.get_argument("free", None) is not None else 0
        self.write(json.dumps({"passes": passes, "freed": freed, "states": _alive()}))


def _alive() -> int:
    return sum(isinstance(thing, State) for thing in gc.get_objects())


def _planted(made, furnished) -> None:
    """``made`` and ``furnished``: what begins a page, and what fills its first tab."""
    faults: WeakKeyDictionary[State, str] = WeakKeyDictionary()

    def begun(known, asked: str, *rest) -> State:
        fault = "".join(parse_qs(asked.lstrip("?")).get("fault", []))
        if fault == "make":
            raise RuntimeError("a planted fault")
        state = made(known, asked, *rest)
        faults[state] = fault
        return state

    def filled(state: State):
        if faults[state] == "furnish":
            raise RuntimeError("a planted fault")
        return furnished(state)

    choose = State.choose

    def chosen(state: State, **choices):
        if faults[state] == "slow":
            time.sleep(SLOW)
        return choose(state, **choices)

    app.State, app.candidates, State.choose = begun, filled, chosen


def main(port: str) -> int:
    known = invented.catalogue(20)
    catalogue.load = lambda _folder: known
    leaving.REST = 0.5
    gc.callbacks.append(
        lambda phase, told: phase == "stop" and told["generation"] == 2 and whole.append(time.monotonic())
    )
    _planted(app.State, app.candidates)
    serve = pn.serve

    def telling(pages, **how):
        return serve(
            pages, extra_patterns=[("/heap", Heap)], **{**how, "check_unused_sessions_milliseconds": 200}
        )

    pn.serve = telling
    return cli.main(["serve", "--port", port])


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
