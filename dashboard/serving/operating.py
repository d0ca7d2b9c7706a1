"""What whoever runs the server sees of it: counts for a collector on this machine, and a log of one line of JSON an event.

Neither says who asked, or for what: an address holds every choice of a visitor.
"""

from __future__ import annotations

import argparse
import logging
import os
import sys
import time
from typing import Any

PAGES = {"/": "page", "/nursery": "nursery"}
MISSING = "{option} needs a library that is not installed; write  pip install '.[operate]'  in the project's folder."
_OWN_HANDLERS = ("panel", "bokeh")  # libraries that bring a way of logging of their own
log = logging.getLogger("orchard_slate")


def offer(command: argparse.ArgumentParser) -> None:
    """The options of the command that serves which concern whoever runs the server."""
    command.add_argument(
        "--drain",
        type=float,
        default=0,
        metavar="SECONDS",
        help="told to stop, open pages go on as long as this",
    )
    command.add_argument(
        "--metrics", type=int, metavar="PORT", help="counts for Prometheus, to this machine alone"
    )
    command.add_argument("--log", choices=("text", "json"), default="text", help="json: a line an event")


def watch(options: argparse.Namespace) -> Watch:
    """Begin what was asked for; ValueError with one sentence where it cannot be had."""
    if options.log == "json":
        log_as_json()
    return Watch(Counts(options.metrics) if options.metrics else None)


class Counts:
    """Told at http://127.0.0.1:``port``/metrics, in the text form of Prometheus, to this machine alone.

    ``orchard_slate_pages_open``; ``_opening_seconds`` and ``_change_seconds``, each a histogram with its count: making a page,
    following a choice; ``_answers_total`` by status; ``_faults_total``, errors logged, by who logged them.
    """

    def __init__(self, port: int):
        """ValueError with one sentence where the library is not there or the port is taken."""
        try:
            from prometheus_client import CollectorRegistry, Counter, Gauge, Histogram, start_http_server
        except ImportError:
            raise ValueError(MISSING.format(option="--metrics")) from None
        kept = CollectorRegistry()
        steps = (0.005, 0.01, 0.025, 0.05, 0.1, 0.2, 0.3, 0.5, 1, 2, 5, 10)
        self.pages_open = Gauge("orchard_slate_pages_open", "Pages open in a browser", registry=kept)
        self._openings = Histogram(
            "orchard_slate_opening_seconds", "Making a page", ["page"], registry=kept, buckets=steps
        )
        self._changes = Histogram(
            "orchard_slate_change_seconds", "Following a choice", registry=kept, buckets=steps
        )
        self._answers = Counter("orchard_slate_answers", "Requests answered", ["status"], registry=kept)
        self._faults = Counter("orchard_slate_faults", "Errors logged", ["logger"], registry=kept)
        try:
            start_http_server(port, addr="127.0.0.1", registry=kept)
        except (OSError, OverflowError):
            raise ValueError(f"--metrics {port}: the port is taken or not allowed; choose another.") from None
        logging.getLogger().addHandler(_Each(self._faults))
        for name in _OWN_HANDLERS:
            logging.getLogger(name).addHandler(_Each(self._faults))

    def answered(self, status: int, seconds: float, page: str) -> None:
        self._answers.labels(str(status)).inc()
        if page and status == 200:
            self._openings.labels(page).observe(seconds)

    def changed(self, seconds: float) -> None:
        self._changes.observe(seconds)


class _Each(logging.Handler):
    """Counts what is logged as an error."""

    def __init__(self, counter: Any):
        super().__init__(logging.ERROR)
        self._counter = counter

    def emit(self, record: logging.LogRecord) -> None:
        self._counter.labels(record.name.partition(".")[0]).inc()


def log_as_json(stream: Any = None) -> None:
    """From now on everything logged is one line of JSON each on ``stream`` (standard error); ValueError without the library."""
    try:
        from pythonjsonlogger.json import JsonFormatter
    except ImportError:
        raise ValueError(MISSING.format(option="--log json")) from None
    written = logging.StreamHandler(stream or sys.stderr)
    names = {"asctime": "time", "levelname": "level", "name": "logger"}
    form = JsonFormatter(
        "%(asctime)s %(levelname)s %(name)s %(message)s",
        rename_fields=names,
        static_fields={"pid": os.getpid()},
    )
    form.converter = time.gmtime
    form.default_time_format, form.default_msec_format = "%Y-%m-%dT%H:%M:%S", "%s.%03dZ"
    written.setFormatter(form)
    logging.getLogger().handlers[:] = [written]
    for name in _OWN_HANDLERS:
        one = logging.getLogger(name)
        one.handlers.clear()
        one.propagate = True
        one.setLevel(logging.WARNING)
    log.setLevel(logging.INFO)


class Watch:
    """What the server tells of each answer and each choice that was followed; ``counts`` may be missing."""

    def __init__(self, counts: Counts | None = None):
        self._counts = counts

    def answered(self, handler: Any) -> None:
        """For every answer but a websocket's, in the place of the library's own line, which repeats the address."""
        status, seconds = handler.get_status(), handler.request.request_time()
        page = PAGES.get(handler.request.path, "") if handler.request.method == "GET" else ""
        if self._counts is not None:
            self._counts.answered(status, seconds, page)
        if page or status >= 400:
            level = logging.INFO if status < 400 else logging.WARNING if status < 500 else logging.ERROR
            told = {"path": handler.request.path[:200], "status": status, "ms": round(1000 * seconds, 1)}
            log.log(level, "%(path)s answered with %(status)d", told, extra=told)

    def changed(self, seconds: float) -> None:
        if self._counts is not None:
            self._counts.changed(seconds)

    def visitors(self, server: Any) -> None:
        """Ask ``server`` how many pages are open whenever the counts are read."""
        if self._counts is not None:
            self._counts.pages_open.set_function(lambda: server.visitors)
