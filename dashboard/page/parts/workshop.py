"""A process beside the server for work that would hold everybody, and a question as it is sent there.

The process reads the records once, from the same folder, and answers nothing from other records than the page shows.
"""

from __future__ import annotations

import logging
import multiprocessing
import os
import signal
import threading
from collections.abc import Callable
from concurrent.futures import Executor, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from multiprocessing.connection import wait
from typing import Any

from dashboard.answers.brought import brought
from dashboard.answers.catalogue import load
from dashboard.answers.my_site import MySite
from dashboard.answers.question import QUESTION, Question
from dashboard.market import Market
from dashboard.site.station import Station

log = logging.getLogger(__name__)


@dataclass(frozen=True)
class Sent:
    """What a process needs to know of a question; ``version`` and ``base`` say which records and market the page shows."""

    source: str
    version: str
    base: Market | None
    asked: dict[str, object]
    own: tuple[Station, str] | None = None  # the place whose weather the visitor brought

    @classmethod
    def of(cls, asked: Question) -> Sent | None:
        """None where a process could not know all of it: what a notebook brought along, and records that are in no folder."""
        known = asked.catalogue
        if brought(known) or not known.source:
            return None
        own = None if asked.weather is None else (asked.weather.station, asked.weather.key)
        every = {field: getattr(asked, field) for field in QUESTION}
        return cls(known.source, known.version, known.markets.get(asked.market), every, own)

    def question(self) -> Question | None:
        """In the process: None where its records or markets are not those of the page."""
        known = load(self.source)
        own = None if self.own is None else MySite(known, *self.own)
        asked = Question(known, weather=own, **self.asked)  # type: ignore[arg-type]
        if known.version != self.version or known.markets.get(asked.market) != self.base:
            log.warning("the records at %s are others than when the server was started", self.source)
            return None
        return asked


class TooLongError(Exception):
    """The work took longer than it was given, and was ended with its process."""


class Workshop:
    """The process, started when it is first needed; until ``opened`` there is none. ``what`` is done within the server where none can be
    started; with ``nice`` it gives way to everybody else's work."""

    def __init__(self, what: str, nice: int = 0) -> None:
        self._what, self._nice = what, nice
        self._pool: Executor | None = None
        self._pid = 0
        self._opened = False
        self._lock = threading.Lock()

    def open(self) -> None:
        self._opened = True

    def close(self) -> None:
        with self._lock:
            pool, self._pool, self._opened = self._pool, None, False
        if pool is not None:
            pool.shutdown(cancel_futures=True)

    def done(self, work: Callable[..., Any], *args: Any, within: float | None = None) -> Any:
        """What the process made of it; None where there is no process. BrokenProcessPool where that was ended meanwhile, TooLongError where
        it took longer than ``within`` seconds."""
        pool = self._running()
        if pool is None:
            return None
        try:
            asked = pool.submit(work, *args)
            return asked.result(within)
        except BrokenProcessPool:  # it was ended while it worked: the next finds a new one
            with self._lock:
                self._pool = None
            raise
        except TimeoutError:
            if asked.done():  # of the work itself
                return asked.result()
            self._end(pool)
            raise TooLongError from None

    def _end(self, pool: Executor) -> None:
        """The process ends whatever it is doing: the next finds a new one."""
        with self._lock:
            self._pool = None
        for process in multiprocessing.active_children():
            if process.pid == self._pid:
                process.kill()
        pool.shutdown(cancel_futures=True)

    def _running(self) -> Executor | None:
        with self._lock:
            if self._opened and self._pool is None:
                try:
                    self._pool, self._pid = started(self._nice)
                except Exception as fault:  # every system has its own way to refuse a process
                    self._opened = False
                    log.warning(
                        "no process can be started (%s): %s within the server, which answers more slowly meanwhile",
                        fault,
                        self._what,
                    )
            return self._pool


def started(nice: int) -> tuple[Executor, int]:
    """A process that has shown that it works, and its number. It is begun afresh, not split off: the server has threads, which a split would tear."""
    spawned = multiprocessing.get_context("spawn")
    pool = ProcessPoolExecutor(1, mp_context=spawned, initializer=_begin, initargs=(nice,))
    return pool, pool.submit(os.getpid).result()


def _begin(nice: int) -> None:
    """In the process: it ends with the server, however that ends, and leaves the keyboard to it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if nice and hasattr(os, "nice"):
        os.nice(nice)
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=lambda: (wait([parent.sentinel]), os._exit(1)), daemon=True).start()
