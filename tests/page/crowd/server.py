"""The page as the command serves it, on a few invented cultivars, with one fault planted: ``python -m tests.page.crowd.server PORT FAULT``.

``furnish``: a page cannot be furnished. ``make``: not even begun. ``slow``: every change takes two seconds. ``none``: no fault.
/heap tells what the collector has left to do: how many objects that nobody holds any more, and how often it went through the whole heap.
"""

from __future__ import annotations

import gc
import json
import sys
import time

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


def _break(*_parts, **_how):
    raise RuntimeError("a planted fault")


def main(port: str, fault: str) -> int:
    known = invented.catalogue(20)
    catalogue.load = lambda _folder: known
    leaving.REST = 0.5
    gc.callbacks.append(
        lambda phase, told: phase == "stop" and told["generation"] == 2 and whole.append(time.monotonic())
    )
    if fault == "furnish":
        app.candidates = _break
    if fault == "make":
        app.State = _break
    if fault == "slow":
        choose = State.choose
        State.choose = lambda self, **choices: (time.sleep(SLOW), choose(self, **choices))
    serve = pn.serve

    def telling(pages, **how):
        return serve(
            pages, extra_patterns=[("/heap", Heap)], **{**how, "check_unused_sessions_milliseconds": 200}
        )

    pn.serve = telling
    return cli.main(["serve", "--port", port])


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
