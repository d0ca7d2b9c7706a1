"""The command ``orchard-slate serve`` that also tells at /watched how it fared since it was last asked: pauses, processor, memory.

``python -m tests.load.watched PORT [OPTIONS OF THE COMMAND]``
"""

from __future__ import annotations

import gc
import json
import sys
import time

import panel as pn
import psutil
from tornado.ioloop import IOLoop
from tornado.web import RequestHandler

from dashboard import cli

BEAT = 0.01  # seconds between two looks at the event loop
LATE = 0.02  # seconds the loop must be late to be noted

collections: list[tuple[int, float]] = []  # generation, the processor's seconds
stalls: list[
    tuple[float, float]
] = []  # seconds for which nothing else was done, and the processor's seconds of them


class Watched(RequestHandler):
    def get(self) -> None:
        own = psutil.Process()
        spent = own.cpu_times()
        self.write(
            json.dumps(
                {
                    "collections": collections,
                    "stalls": stalls,
                    "processor": spent.user + spent.system,
                    "memory": own.memory_info().rss,
                }
            )
        )
        collections.clear()
        stalls.clear()


def main(port: str, *options: str) -> int:
    gc.callbacks.append(_Timed())
    serve = pn.serve

    def watched(pages, **how):
        IOLoop.current().add_callback(_beat, time.perf_counter(), time.thread_time())
        how["extra_patterns"] = [*how.get("extra_patterns", []), ("/watched", Watched)]
        return serve(pages, **how)

    pn.serve = watched
    return cli.main(["serve", "--port", port, *options])


class _Timed:
    def __call__(self, phase: str, told: dict[str, int]) -> None:
        if phase == "start":
            self._since = time.thread_time()
        else:
            collections.append((told["generation"], time.thread_time() - self._since))


def _beat(due: float, spent: float) -> None:
    """A machine that is busy with something else makes the loop late, too: the processor's time is told beside the clock's."""
    late = time.perf_counter() - due
    if late > LATE:
        stalls.append((late, time.thread_time() - spent))
    IOLoop.current().call_later(BEAT, _beat, time.perf_counter() + BEAT, time.thread_time())


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
