"""What takes long, done beside the server: in a process of its own, one thing after the other, so that no page waits for it."""

from __future__ import annotations

import logging
import threading
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import Any

from dashboard.page.parts.workshop import TooLongError, Workshop
from dashboard.records.importing.mapping import MappingError
from dashboard.records.importing.right import RIGHT
from dashboard.records.problems import RecordError
from dashboard.records.store.opening import StoreError
from dashboard.records.trays.desk import Desk
from dashboard.records.trays.keeping import keep
from dashboard.records.trays.kept import undone
from dashboard.records.trays.looked import look
from dashboard.records.trays.sent import as_sent, named
from dashboard.records.trays.tray import FAILED, KEPT, READ, Tray, TrayError, tray
from dashboard.wording.figures import counted

BROKE_OFF = "Reading broke off; the server's log says why. Nothing came in. Try again, or leave these files."
TOO_LONG = "Reading took longer than {} and was stopped. Nothing came in, and your files are still here: read them again, or bring fewer at once."
LEAST_S, A_MB_S = (
    300.0,
    30.0,
)  # a reading may take: some twenty times what it takes of a machine that is not busy
MOST_WAITING = 20
CROWDED = "Many files wait to be read just now; try again in a minute."
TOLD = (TrayError, StoreError, MappingError, RecordError)  # what says itself why
log = logging.getLogger(__name__)


@dataclass
class Going:
    """``what`` is done with a tray: "reading" or "keeping", since when it was asked for; ``begun`` once its turn came."""

    what: str
    since: float
    begun: float = 0.0


class Work:
    """``kept`` is called, in its thread, after records came in or were taken back."""

    def __init__(self, desk: Desk, kept: Callable[[], None]) -> None:
        self.desk, self._kept = desk, kept
        self._workshop = Workshop("sheets are read", nice=5)
        self._queue = ThreadPoolExecutor(1, thread_name_prefix="sheets")
        self._going: dict[str, Going] = {}
        self._lock = threading.Lock()
        self.said: dict[str, str] = {}  # by tray, what is to be told once

    def open(self) -> None:
        self._workshop.open()

    def close(self) -> None:
        self._queue.shutdown(wait=False, cancel_futures=True)
        self._workshop.close()

    def going(self, name: str) -> Going | None:
        """What is being done with a tray, or waits for its turn."""
        return self._going.get(name)

    def ahead(self, name: str) -> int:
        """How many others come before it."""
        return list(self._going).index(name) if name in self._going else 0

    def read(
        self, name: str, said: dict[tuple, str] | None = None, longer: bool = False, differing: dict[str, str] | None = None
    ) -> bool:  # fmt: skip
        """Begin; False where something is being done with it already. TrayError where too much waits."""
        return self._begin(name, "reading", look, name, said or {}, longer, differing)

    def keep(self, name: str, who: str) -> bool:
        return self._begin(name, "keeping", keep, name, who)

    def take_back(self, number: int, who: str) -> str:
        """Waits for it. One sentence; raises as ``undone``."""
        told = self._queue.submit(self._done, undone, number, who).result()
        self._kept()
        return told

    def send(self, name: str, who: str, page: str = "", right: str = "") -> list[dict[str, Any]]:
        """Read and keep at once what needs no question. Waits for it. Gives back the values that still stand as the same ``page`` sent them before,
        and that differ now: they are replaced only where they are ``right`` by name."""
        return self._queue.submit(self._read_and_keep, name, who, page, right).result()

    def _read_and_keep(self, name: str, who: str, page: str, right: str) -> list[dict[str, Any]]:
        one = self._done(look, name)
        asked = self._done(as_sent, name, page) if one.stage == READ and one.found["differing"] else []
        if asked and right == named(asked):
            one, asked = self._done(look, name, {}, False, {value["name"]: RIGHT for value in asked}), []
        for _ in range(3):  # others may bring something in meanwhile
            if one.stage != READ:
                break
            one, _ = self._done(keep, name, who)
        if one.stage == KEPT:
            self._kept()
        return asked

    def _begin(self, name: str, what: str, work: Callable, *args: Any) -> bool:
        with self._lock:
            if name in self._going:
                return False
            if len(self._going) >= MOST_WAITING:
                raise TrayError(CROWDED)
            self._going[name] = Going(what, time.monotonic())
        self._queue.submit(self._run, name, work, *args)
        return True

    def _run(self, name: str, work: Callable, *args: Any) -> None:
        self._going[name].begun = time.monotonic()
        self.said.pop(name, None)
        try:
            told = self._done(work, *args)
            one, said = told if isinstance(told, tuple) else (told, "")
            if said:
                self.said[name] = said
            if one.stage == KEPT:
                self._kept()
        except TOLD as fault:
            self._failed(name, str(fault))
        except Exception as fault:
            log.error("sheets could not be read or kept", exc_info=fault)
            self._failed(name, BROKE_OFF)
        finally:
            with self._lock:
                self._going.pop(name, None)

    def _failed(self, name: str, said: str) -> None:
        try:
            one = tray(self.desk, name)
        except TrayError:  # it was left meanwhile
            return
        if one.stage != KEPT:
            one.stage, one.found = FAILED, {**one.found, "said": said.splitlines()}
            one.write()

    def _done(self, work: Callable, *args: Any) -> Any:
        within = longest(tray(self.desk, args[0])) if work is look else None
        try:
            told = self._workshop.done(_in_the_process, work, self.desk, *args, within=within)
        except TooLongError:
            assert within is not None
            raise TrayError(TOO_LONG.format(counted(max(1, round(within / 60)), "minute"))) from None
        return work(self.desk, *args) if told is None else told


def longest(one: Tray) -> float:
    """Seconds that reading a tray may take, by the size of its files. Keeping is not broken off: it writes."""
    return LEAST_S + A_MB_S * sum(path.stat().st_size for path in one.paths) / 1e6


def _in_the_process(work: Callable, *args: Any) -> Any:
    return work(*args)
