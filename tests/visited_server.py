"""The page as the command serves it, on 60 invented cultivars, telling at /told what visitors have left behind.

``python -m tests.visited_server PORT [--tied]``; ``--tied`` leaves out the cut that lets pages go.
"""

from __future__ import annotations

import functools
import gc
import json
import sys

import panel as pn
import psutil
from bokeh.document import Document
from panel_material_ui import Page
from tornado.web import RequestHandler

from dashboard import cli
from dashboard.answers import catalogue
from dashboard.page.patches import untied
from dashboard.visit.state import State
from tests.benchmarks import invented

CULTIVARS = 60
KEPT = (State, Document, Page)
REMEMBERED = type(functools.cache(len))  # what it makes of a function


class Told(RequestHandler):
    """What is alive after a collection, what has been computed, and the memory held."""

    def get(self) -> None:
        for _ in range(3):
            gc.collect()
        alive = gc.get_objects()
        told = {kind.__name__: sum(isinstance(thing, kind) for thing in alive) for kind in KEPT}
        told["computed"] = computed()
        told["memory_mb"] = psutil.Process().memory_info().rss / 1e6
        self.write(json.dumps(told))


def computed() -> dict[str, int]:
    """How often each remembered function of the package has really been worked out."""
    counts = {}
    for name, module in list(sys.modules.items()):
        if name.split(".")[0] == "dashboard":
            for thing in vars(module).values():
                if isinstance(thing, REMEMBERED):
                    counts[f"{thing.__module__}.{thing.__qualname__}"] = thing.cache_info().misses
    return counts


def main(port: str, *further: str) -> int:
    known = invented.catalogue(CULTIVARS)
    catalogue.load = lambda _folder: known
    if "--tied" in further:
        untied.from_the_busy_flag = lambda _shell: None
    serve = pn.serve

    def told_too(pages, **options):
        """Sessions end soon, so that a test need not wait; everything else as the command asks."""
        brief = {"unused_session_lifetime_milliseconds": 1000, "check_unused_sessions_milliseconds": 100}
        return serve(pages, extra_patterns=[("/told", Told)], **{**options, **brief})

    pn.serve = told_too
    return cli.main(["serve", "--port", port])


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
