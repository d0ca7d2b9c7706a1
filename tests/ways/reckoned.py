"""How long an import takes a technician: every word read at 240 a minute, 3 seconds an answer, four keys a second. And what the machine took."""

from __future__ import annotations

import io
import sys
import time
from argparse import Namespace
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path
from unittest.mock import patch

from dashboard.records.importing import command, terminal
from dashboard.records.importing.together import Put, Together
from tests.ways.technician import NotKnown, Technician
from tests.ways.truth import Compared, compared
from tests.ways.way import Made, Way

WORDS_A_MINUTE, SECONDS_AN_ANSWER, KEYS_A_SECOND = 240, 3.0, 4.0


@dataclass(frozen=True)
class Reckoned:
    way: Way
    shown: str  # all that stood on the terminal
    typed: tuple[str, ...]
    asked: tuple[str, ...]
    machine: float
    compared: Compared

    @property
    def words(self) -> int:
        return len(self.shown.split())

    @property
    def keys(self) -> int:
        return sum(len(said) + 1 for said in self.typed)

    @property
    def seconds(self) -> float:
        return self.words * 60 / WORDS_A_MINUTE + SECONDS_AN_ANSWER * len(self.typed) + self.keys / KEYS_A_SECOND  # fmt: skip


def brought_in(way: Way, made: Made, folder: Path, trial: Path) -> Reckoned:
    technician = Technician(way.known, made.called)
    screen = io.StringIO()
    began = time.perf_counter()
    try:
        with _at_the_terminal(technician, screen):
            for files in way.commands(folder):
                command.run(Namespace(files=list(map(str, files)), into=str(trial), answers=None))
    except NotKnown as fault:
        raise AssertionError(f"{way.name}: {fault}\n{screen.getvalue()[-3000:]}") from None
    machine = time.perf_counter() - began
    return Reckoned(way, screen.getvalue(), tuple(technician.typed), tuple(technician.asked), machine, compared(made.truth, trial))  # fmt: skip


@contextmanager
def _at_the_terminal(technician: Technician, screen: io.StringIO) -> Iterator[None]:
    really = terminal.asked_together

    def asked_together(group: Together, put: Put) -> bool:
        technician.expect(group)
        go_on = really(group, put)
        technician.done()
        return go_on

    with (
        patch.object(terminal, "asked_together", asked_together),
        patch("builtins.input", technician.input),
        patch.object(sys.stdin, "isatty", lambda: True, create=True),
        redirect_stdout(screen),
        redirect_stderr(screen),
    ):
        yield
