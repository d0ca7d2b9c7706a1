"""Files that visitors take home, made beside the server: in a process of its own where one can be started, one after the other.

A handout of a hundred pages takes a processor seconds; within the server they would be everybody's. The process reads the
records once, from the same folder, and makes nothing from other records than the page shows. What a notebook brought along it does
not know: then they are made within.
"""

from __future__ import annotations

import logging
import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Mapping
from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from functools import partial
from multiprocessing.connection import wait

from dashboard.answers.brought import brought
from dashboard.answers.catalogue import load
from dashboard.answers.my_site import MySite
from dashboard.answers.question import QUESTION, Question
from dashboard.handout import booklet, tables, workbook
from dashboard.market import Market
from dashboard.site.station import Station
from dashboard.slate import publishing

# By the name under which a file is kept: what is made.
FILES: Mapping[str, Callable[[Question], bytes]] = {
    "orchard-slate-shortlist.csv": partial(tables.csv, part="shortlist"),
    "orchard-slate-shortlist.xlsx": partial(tables.xlsx, part="shortlist"),
    "orchard-slate-ranking.csv": partial(tables.csv, part="ranking"),
    "orchard-slate-ranking.xlsx": partial(tables.xlsx, part="ranking"),
    "orchard-slate-handout.pdf": booklet.pdf,
    "orchard-slate-handout.xlsx": workbook.xlsx,
    "orchard-slate-weeks.csv": tables.weeks_csv,
    "orchard-slate-page.html": publishing.html,
}
MOST = {
    "pdf": 100,
    "xlsx": 5_000,
    "csv": 5_000,
    "html": 5_000,
}  # cultivars; a page each on paper takes a processor 0.05 s: a choice of ours
MOST_WAITING = 20  # files asked for and not made yet, of all visitors
FAILED = (
    "The file could not be made; the reason is in the server's log. Try again, or ask for fewer cultivars."
)
CROWDED = "Many files are being made just now; try again in a minute."

NO_BUYER = "This page is made for a buyer: choose who you sell to first."

_PLACES = threading.BoundedSemaphore(MOST_WAITING)

log = logging.getLogger(__name__)


class MakingError(Exception):
    """Why a file is not made, in a sentence for whoever asked."""


@dataclass(frozen=True)
class _Order:
    """What a process needs to know; ``version`` and ``base`` say which records and market the page shows."""

    source: str
    version: str
    base: Market | None
    question: dict[str, object]
    file: str
    own: tuple[Station, str] | None = None  # the place whose weather the visitor brought


def ordered(asked: Question, file: str) -> Callable[[], bytes]:
    """What makes the file, in its turn; MakingError where too many wait already."""
    if not _PLACES.acquire(blocking=False):
        raise MakingError(CROWDED)

    def make() -> bytes:
        try:
            return made(asked, file)
        finally:
            _PLACES.release()

    return make


def made(asked: Question, file: str) -> bytes:
    """The file of that name in FILES; MakingError, one sentence. Waits for it: not to be called where others wait, too."""
    _refuse_too_many(asked, file)
    try:
        content = None if brought(asked.catalogue) else _WORKSHOP.made(_order(asked, file))
        return FILES[file](asked) if content is None else content
    except Exception as fault:
        log.error("%s could not be made", file, exc_info=fault)
        raise MakingError(FAILED) from fault


def _refuse_too_many(asked: Question, file: str) -> None:
    kind = file.rpartition(".")[2]
    if "weeks" in file:  # a row a class
        return
    if kind == "html":
        if asked.profile is None:
            raise MakingError(NO_BUYER)
        count, where = len(asked.catalogue.cultivars), "are in these records"
    elif "ranking" in file:
        count, where = len(asked.ranking), "pass your filters"
    else:
        count, where = len(asked.shortlist), "are on my slate"
    if count > MOST[kind]:
        raise MakingError(
            f"{count:,} cultivars {where}, and this file holds at most {MOST[kind]:,}; choose fewer."
        )


def _order(asked: Question, file: str) -> _Order:
    known = asked.catalogue
    question = {field: getattr(asked, field) for field in QUESTION}
    own = None if asked.weather is None else (asked.weather.station, asked.weather.key)
    return _Order(known.source, known.version, known.markets.get(asked.market), question, file, own)


class _Workshop:
    """The process beside the server, started when it is first needed; until ``opened`` there is none."""

    def __init__(self) -> None:
        self._pool: Executor | None = None
        self._opened = False
        self._lock = threading.Lock()

    def open(self) -> None:
        self._opened = True

    def close(self) -> None:
        with self._lock:
            pool, self._pool, self._opened = self._pool, None, False
        if pool is not None:
            pool.shutdown(cancel_futures=True)

    def made(self, order: _Order) -> bytes | None:
        """What the process made; None where there is no process, or it finds other records than the page shows."""
        pool = self._running() if order.source else None
        if pool is None:
            return None
        try:
            return pool.submit(_make, order).result()
        except BrokenProcessPool:  # it was ended while it worked: the next file finds a new one
            with self._lock:
                self._pool = None
            raise

    def _running(self) -> Executor | None:
        with self._lock:
            if self._opened and self._pool is None:
                try:
                    self._pool = _started()
                except Exception as fault:  # every system has its own way to refuse a process
                    self._opened = False
                    log.warning(
                        "no process can be started (%s): files are made within the server, which answers more slowly meanwhile",
                        fault,
                    )
            return self._pool


def _started() -> Executor:
    """A process that has shown that it works. It is begun afresh, not split off: the server has threads, which a split would tear."""
    pool = ProcessPoolExecutor(1, mp_context=multiprocessing.get_context("spawn"), initializer=_begin)
    pool.submit(os.getpid).result()
    return pool


def _begin() -> None:
    """In the process: it ends with the server, however that ends, and leaves the keyboard to it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=lambda: (wait([parent.sentinel]), os._exit(1)), daemon=True).start()


def _make(order: _Order) -> bytes | None:
    """In the process: None where its records or markets are not those of the page."""
    known = load(order.source)
    own = None if order.own is None else MySite(known, *order.own)
    asked = Question(known, weather=own, **order.question)  # type: ignore[arg-type]
    if known.version != order.version or known.markets.get(asked.market) != order.base:
        log.warning("the records at %s are others than when the server was started", order.source)
        return None
    return FILES[order.file](asked)


_WORKSHOP = _Workshop()
open_workshop = _WORKSHOP.open
close_workshop = _WORKSHOP.close
QUEUE = ThreadPoolExecutor(max_workers=1, thread_name_prefix="taken home")  # who waits for the process
