"""Broken copies of the demo: none ends in a traceback, none takes the machine with it, no row is lost without a line."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import time

import pytest

from dashboard.records import read
from tests.broken import copies
from tests.broken.copies import LARGE, broken, kinds, names, outcome

COPIES = 300
SECONDS, MEGABYTES = 10, 500
SAMPLES = 60  # of the short form


@pytest.mark.alike(3)
@pytest.mark.parametrize(
    ("seed", "kind"),
    [pytest.param(seed, kind, marks=[pytest.mark.slow] * (seed % 2)) for seed, kind in names(len(kinds()) - len(LARGE), large=False)],
    ids=lambda told: str(told),
)  # fmt: skip
def test_a_broken_copy_of_a_part_of_the_demo_is_told_in_sentences(seed, kind, tmp_path):
    copy = broken(tmp_path, seed, kind, SAMPLES)
    begun = time.process_time()
    found = outcome(copy)
    assert found.fault == ""
    assert found.lost == []
    assert time.process_time() - begun < SECONDS
    for line in found.lines:
        assert line.isprintable(), line


def test_one_row_gone_in_silence_is_missed(tmp_path, monkeypatch):
    """Although of the same table other rows are told: the fruit of samples that are not in this part of the demo."""
    copy = broken(tmp_path, 0, "descriptor no JSON", SAMPLES)
    assert outcome(copy).lost == []

    def forgetful(place):
        records = read(place)
        records.tables["fruit"] = records.tables["fruit"].iloc[:-1]
        return records

    monkeypatch.setattr(copies, "read", forgetful)
    assert outcome(copy).lost == ["fruit"]


def test_every_kind_is_among_the_copies():
    assert {kind for _, kind in names(COPIES)} == set(kinds())


@pytest.mark.slow
def test_none_of_300_broken_copies_costs_more_than_it_may(tmp_path):
    """Each in a process of its own; what it costs is that process's own seconds and memory."""
    faults = []
    worst = {"seconds": 0.0, "peak_mb": 0.0}
    for seed, kind in names(COPIES):
        copy = broken(tmp_path, seed, kind)
        command = [
            sys.executable,
            "-m",
            "tests.broken.copies",
            str(copy.path),
            str(seed),
            copy.name,
            json.dumps(copy.held),
        ]
        done = subprocess.run(command, capture_output=True, text=True, timeout=300)
        shutil.rmtree(tmp_path / f"{seed}")
        if done.returncode:
            faults.append(f"{seed} {copy.name}: ended with {done.returncode}: {done.stderr[-300:]}")
            continue
        found = json.loads(done.stdout)
        print(
            f"{seed:>3} {copy.name:<50} {found['seconds']:5.1f} s {found['peak_mb']:5.0f} MB {found['lines']:>5} {str(found['first'])[:150]}"
        )
        worst = {key: max(most, found[key]) for key, most in worst.items()}
        if found["fault"] or found["lost"] or found["seconds"] > SECONDS or found["peak_mb"] > MEGABYTES:
            faults.append(f"{seed} {copy.name}: {found}")
    print(f"\nof {COPIES}: at most {worst['seconds']:.1f} s and {worst['peak_mb']:.0f} MB")
    assert not faults, "\n".join(faults)
