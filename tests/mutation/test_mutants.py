"""The tests notice faults: a fixed few of each area each day, a share of a sample in the long run. And the trial itself is fair."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.mutation.known import KNOWN, NOTHING
from tests.mutation.mutants import AREAS, ROOT, sample

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="forks processes, which this system cannot")
LEAST = 0.85  # of the mutants of an area


DAILY = 6  # of the known faults one in so many is tried each day, all of them in the long run


@pytest.fixture(scope="module", params=[DAILY, pytest.param(1, marks=pytest.mark.slow)])
def every(request) -> int:
    return request.param


@pytest.fixture(scope="module")
def noticed(tmp_path_factory, every) -> list[str]:
    """By fault the test that failed; found in a process of its own, where nothing of this run is imported."""
    place = tmp_path_factory.mktemp("mutation") / "known.json"
    run = tried("--known", str(place), "--every", str(every))
    assert run.returncode == 0, run.stdout + run.stderr
    return json.loads(place.read_text(encoding="utf-8"))


def tried(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "tests.mutation", *words],
        cwd=ROOT, env={**os.environ, "OPENBLAS_NUM_THREADS": "1"}, capture_output=True, text=True, check=False,
    )  # fmt: skip


def test_the_known_faults_are_noticed(noticed, every):
    names = (f"{Path(fault[0]).stem}: {fault[2]}" for fault in KNOWN[::every])
    told = zip(names, noticed, strict=False)  # behind them stand those that change nothing
    assert [fault for fault, by in told if not by.startswith("tests/")] == []


def test_what_changes_nothing_is_noticed_by_nobody(noticed, every):
    """Else the trial itself would make tests fail."""
    assert noticed[len(KNOWN[::every]) :] == [""] * len(NOTHING)


def test_the_lot_is_the_same_each_time_and_every_mutant_differs():
    one, count = sample("season", 20, 3)
    assert one == sample("season", 20, 3)[0] != sample("season", 20, 4)[0]
    assert count > 300
    for mutant in one:
        assert mutant.source != (ROOT / mutant.file).read_text(encoding="utf-8")


@pytest.mark.slow
@pytest.mark.parametrize("area", AREAS)
def test_the_tests_notice_most_faults(area):
    run = tried(area, "--least", str(LEAST))
    print(run.stdout)
    assert run.returncode == 0, run.stdout + run.stderr
