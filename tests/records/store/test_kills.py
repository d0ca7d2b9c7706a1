"""A kill at any moment leaves the state before or the state after, never one between; the next import goes on."""

from __future__ import annotations

import itertools
import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from dashboard.places import PACKAGE
from dashboard.records.store.bringing import bring
from dashboard.records.store.history import brought_in
from dashboard.records.store.kept import source_of
from dashboard.records.store.undoing import undo
from tests.records.small import tables, write_folder

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="a process cannot be split off on Windows")
SAMPLES, FRUIT = 60, 5


def week() -> dict[str, list[list[str]]]:
    """New samples with their fruit, and cells that the store has empty: new blocks and renewed ones."""
    samples = [[f"K{one}", "Alvane", "low", "2024-07-02", "1"] for one in range(SAMPLES)]
    fruit = [[f"K{one}", str(number), "60.5"] for one in range(SAMPLES) for number in range(1, FRUIT + 1)]
    return {
        "samples": [["sample", "cultivar", "site", "date", "pick"], *samples],
        "fruit": [["sample", "fruit", "suture_mm"], *fruit, ["S1", "7", "64"]],
        "cultivars": [["cultivar", "flesh_texture"], ["Alvane", "melting"]],
    }


def state(place) -> tuple:
    return tuple(
        (name, len(sheet), int(sheet.filled.sum())) for name, sheet in source_of(place).sheets.items()
    )


def kills(place, small, folder, count: int, seed: int) -> list[int]:
    """How many imports stood after each kill."""
    chance = random.Random(seed)
    bring(place, small, "Ada")
    before = state(place)
    bring(folder / "after.store", small, "Ada")
    coming = write_folder(folder / "week", week(), None)
    bring(folder / "after.store", coming, "Ada")
    after = state(folder / "after.store")
    begun = time.perf_counter()
    bring(place, coming, "Ada")
    took = time.perf_counter() - begun  # on this database and machine, as busy as it is now
    undo(place, 2, "Ada")
    assert state(place) == before
    stood = []
    with working(place, coming) as process:
        for _ in range(count):
            print(file=process.stdin, flush=True)
            child = int(process.stdout.readline())
            time.sleep(chance.uniform(0, 5 * took))
            os.kill(child, signal.SIGKILL)
            assert int(process.stdout.readline()) == signal.SIGKILL, "it had ended by itself"
            imports = brought_in(place)
            last = imports[-1]
            assert [one.number for one in imports] == list(range(1, len(imports) + 1))
            assert state(place) == (after if last.number > 1 and not last.undoes else before)
            stood.append(len(imports))
    return stood


@contextmanager
def working(place, week) -> Iterator[subprocess.Popen]:
    command = [sys.executable, "-m", "tests.records.store.killed", str(place), str(week)]
    process = subprocess.Popen(
        command, cwd=PACKAGE.parent, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    try:
        yield process
    finally:
        process.kill()
        process.communicate()


def test_a_dozen_kills_leave_before_or_after(either, small, tmp_path):
    stood = kills(either, small, tmp_path, 12, 20261129)
    assert stood[-1] > 3, "no import was ever whole: the kills come too early to tell anything"
    write_folder(tmp_path / "last", {"sites": [*tables()["sites"], ["hill", "Hill", "39.9", "grower"]]}, None)
    assert bring(either, tmp_path / "last", "Ada").number == stood[-1] + 1


@pytest.mark.slow
def test_two_hundred_kills_leave_before_or_after(either, small, tmp_path):
    stood = kills(either, small, tmp_path, 200, 7)
    whole = sum(later > earlier for earlier, later in itertools.pairwise(stood))
    assert 20 < whole < 200  # both happened often
