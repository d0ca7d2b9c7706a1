"""A kill at any moment leaves the state before or the state after, never one between; the next import goes on."""

from __future__ import annotations

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
from tests.records.small import tables, write_folder
from tests.records.store.killed import WHOLE

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


def kills(place, small, folder, count: int, seed: int, straight: bool = False) -> list[int]:
    """How many imports more stood after each kill. Every second comes within the time that a step takes, the others as long after one was
    said to be whole; that time is measured all along, on this database and machine, as busy as it is now."""
    chance = random.Random(seed)
    bring(place, small, "Ada")
    before = state(place)
    bring(folder / "after.store", small, "Ada")
    coming = write_folder(folder / "week", week(), None)
    bring(folder / "after.store", coming, "Ada")
    after = state(folder / "after.store")
    stood, more, took = 1, [], 0.0
    with working(place, coming, straight) as process:
        for kill in range(count):
            print(file=process.stdin, flush=True)
            child, begun, said = int(process.stdout.readline()), time.perf_counter(), []
            if kill % 2 == 0:
                said.append(process.stdout.readline())
                took = time.perf_counter() - begun
            time.sleep(chance.uniform(0, took))
            os.kill(child, signal.SIGKILL)
            said += iter(process.stdout.readline, f"{signal.SIGKILL:d}\n")
            assert set(said) <= {WHOLE}, "it had ended by itself"
            imports = brought_in(place)
            last = imports[-1]
            assert [one.number for one in imports] == list(range(1, len(imports) + 1))
            assert state(place) == (after if last.number > 1 and not last.undoes else before)
            more.append(len(imports) - stood)
            stood = len(imports)
            assert len(said) <= more[-1] <= len(said) + 1  # what was said to be whole stands
    return more


@contextmanager
def working(place, week, straight: bool) -> Iterator[subprocess.Popen]:
    command = [sys.executable, "-m", "tests.records.store.killed", str(place), str(week)]
    command += ["straight"] * straight
    process = subprocess.Popen(
        command, cwd=PACKAGE.parent, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    try:
        yield process
    finally:
        process.kill()
        process.communicate()


def test_a_dozen_kills_leave_before_or_after(either, small, tmp_path):
    more = kills(either, small, tmp_path, 12, 20261129)
    write_folder(tmp_path / "last", {"sites": [*tables()["sites"], ["hill", "Hill", "39.9", "grower"]]}, None)
    assert bring(either, tmp_path / "last", "Ada").number == 1 + sum(more) + 1


@pytest.mark.slow
def test_two_hundred_kills_leave_before_or_after(either, small, tmp_path):
    whole = sum(map(bool, kills(either, small, tmp_path, 200, 7)))
    assert (
        100 <= whole < 180
    )  # a step was whole before half of the kills, and many others came into the first


def test_a_dozen_kills_while_it_is_laid_straight_into_the_file_leave_before_or_after(store, small, tmp_path):
    more = kills(store, small, tmp_path, 12, 20261130, straight=True)
    assert bring(store, small, "Ada").number == 0  # it has all of that
    assert sum(map(bool, more))


@pytest.mark.slow
def test_two_hundred_kills_while_it_is_laid_straight_into_the_file_leave_before_or_after(store, small, tmp_path):  # fmt: skip
    whole = sum(map(bool, kills(store, small, tmp_path, 200, 11, straight=True)))
    assert 100 <= whole < 180
