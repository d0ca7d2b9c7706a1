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


@pytest.fixture(scope="module")
def noticed(tmp_path_factory) -> list[str]:
    """By fault the test that failed; found in a process of its own, where nothing of this run is imported."""
    place = tmp_path_factory.mktemp("mutation") / "known.json"
    run = tried("--known", str(place))
    assert run.returncode == 0, run.stdout + run.stderr
    return json.loads(place.read_text(encoding="utf-8"))


def tried(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "tests.mutation", *words],
        cwd=ROOT, env={**os.environ, "OPENBLAS_NUM_THREADS": "1"}, capture_output=True, text=True, check=False,
    )  # fmt: skip


@pytest.mark.parametrize(
    "place", range(len(KNOWN)), ids=[f"{Path(fault[0]).stem}: {fault[2]}" for fault in KNOWN]
)
def test_a_known_fault_is_noticed(noticed, place):
    assert noticed[place].startswith("tests/")


def test_what_changes_nothing_is_noticed_by_nobody(noticed):
    """Else the trial itself would make tests fail."""
    assert noticed[len(KNOWN) :] == [""] * len(NOTHING)


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
