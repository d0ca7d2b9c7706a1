"""How far a long reading has come, for whoever waits at a terminal: one line, written over and over in its place, and gone at the end."""

from __future__ import annotations

import shutil
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import TextIO, TypeVar

from dashboard.records.problems import seen

_AT_ONCE = 10_000  # rows
_PATIENCE_S = 1.0  # what is done sooner needs no line
_BETWEEN_S = 0.1
_told: ContextVar[Callable[[str], None] | None] = ContextVar("told", default=None)
Row = TypeVar("Row")


def counted(rows: Iterable[Row], file: str, about: int) -> Iterable[Row]:
    """The same rows, counted for whoever waits; ``about``: so many there may be."""
    told = _told.get()
    return rows if told is None else _counted(rows, file, about, told)


def _counted(rows: Iterable[Row], file: str, about: int, told: Callable[[str], None]) -> Iterator[Row]:
    for number, row in enumerate(rows, 1):
        if number % _AT_ONCE == 0:
            told(_reading(file, number, about))
        yield row
    told("")


def reading(file: str, rows: int, about: int) -> None:
    """So many rows were read, to whoever waits."""
    tell(_reading(file, rows, about))


def _reading(file: str, rows: int, about: int) -> str:
    return f"reading {file}: {rows:,} of about {max(rows, about):,} rows"


def tell(doing: str) -> None:
    """What is done next, to whoever waits; "" where it is done."""
    told = _told.get()
    if told is not None:
        told(doing)


@contextmanager
def on_terminal(stream: TextIO) -> Iterator[None]:
    """Whatever is counted meanwhile stands on this terminal; elsewhere, in a file or a pipe, nothing."""
    if not stream.isatty():
        yield
        return
    line = _Line(stream)
    before = _told.set(line.write)
    try:
        yield
    finally:
        _told.reset(before)
        line.write("")


class _Line:
    def __init__(self, stream: TextIO):
        self.stream, self.stands = stream, ""
        self.next = time.monotonic() + _PATIENCE_S

    def write(self, text: str) -> None:
        now = time.monotonic()
        if text and now < self.next:
            return
        self.next = now + _BETWEEN_S
        text = seen(text)[
            : shutil.get_terminal_size().columns - 1
        ]  # a line that breaks cannot be written over
        if text or self.stands:
            end = "" if text else "\r"
            self.stream.write(f"\r{text:<{len(self.stands)}}{end}")
            self.stream.flush()
        self.stands = text
