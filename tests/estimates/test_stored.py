"""Answers on disk: the same as worked out, safe with two writers, a kill while writing and damaged files."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from dataclasses import fields
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from dashboard.estimates import stored, worth
from tests.estimates.trials import trial

TRAITS_KEPT = ("size", "sugar")  # one that is measured, one that is not


@pytest.fixture(scope="module")
def found():
    frame = trial(8, 2, 3)
    return {trait: worth(frame, trait, frozenset({"C000"})) for trait in TRAITS_KEPT}


def same(one, other) -> None:
    assert list(one) == list(other)
    for trait in one:
        for field in fields(one[trait]):
            if (
                field.name == "signal"
            ):  # only until the traits are told together, which they are before they are kept
                continue
            left, right = (getattr(side[trait], field.name) for side in (one, other))
            if isinstance(left, pd.DataFrame):
                pd.testing.assert_frame_equal(left, right)
            elif isinstance(left, np.ndarray):
                np.testing.assert_array_equal(left, right)
            elif field.name == "at":
                assert list(left) == list(right)
                for site in left:
                    pd.testing.assert_frame_equal(left[site], right[site])
            elif field.name == "variance_se":
                assert left == pytest.approx(right, nan_ok=True)
            else:
                assert left == right


def test_what_is_read_is_what_was_written(found, tmp_path):
    stored.write(tmp_path / "worths-1.npz", found)
    same(found, stored.read(tmp_path / "worths-1.npz"))
    assert [path.name for path in tmp_path.iterdir()] == ["worths-1.npz"]


def test_the_second_start_fits_nothing(tmp_path, monkeypatch):
    monkeypatch.setenv(stored.FOLDER, str(tmp_path / "kept"))
    frame = trial(6, 1, 2)
    first = stored.stored_worths("v1", frame, ("C000",))
    monkeypatch.setattr(stored, "worths", lambda *_: pytest.fail("fitted again"))
    same(first, stored.stored_worths("v1", frame, ("C000",)))


@pytest.mark.parametrize("change", ["records", "checks", "code"])
def test_other_records_other_checks_and_other_code_are_worked_out_anew(tmp_path, monkeypatch, change):
    monkeypatch.setenv(stored.FOLDER, str(tmp_path))
    frame, calls = trial(6, 1, 2), []

    def counted(summaries, checks, relatives, shapes):
        calls.append(checks)
        return {"size": worth(summaries, "size", frozenset(checks))}

    monkeypatch.setattr(stored, "worths", counted)
    stored.stored_worths("v1", frame, ("C000",))
    if change == "code":
        monkeypatch.setattr(stored, "_code", lambda: "other")
    stored.stored_worths(
        "v2" if change == "records" else "v1", frame, () if change == "checks" else ("C000",)
    )
    assert len(calls) == 2
    assert len(list(tmp_path.glob("worths-*.npz"))) == 2


@pytest.mark.parametrize("damage", ["cut", "empty", "other", "flipped", "folder"])
def test_a_damaged_file_is_ignored_and_written_again(found, tmp_path, monkeypatch, damage):
    monkeypatch.setenv(stored.FOLDER, str(tmp_path))
    monkeypatch.setattr(stored, "worths", lambda *_: found)
    stored.stored_worths("v1", trial(8, 2, 3), ())
    (place,) = tmp_path.glob("worths-*.npz")
    whole = place.read_bytes()
    if damage == "folder":
        place.unlink()
        place.mkdir()
    else:
        middle = len(whole) // 2
        flipped = (
            whole[:middle] + bytes(255 - byte for byte in whole[middle : middle + 64]) + whole[middle + 64 :]
        )
        broken = {"cut": whole[:middle], "empty": b"", "other": b"not an archive", "flipped": flipped}
        place.write_bytes(broken[damage])
    same(found, stored.stored_worths("v1", trial(8, 2, 3), ()))
    if damage != "folder":
        same(found, stored.read(place))


def test_a_folder_that_cannot_be_written_costs_time_alone(found, tmp_path, monkeypatch):
    in_the_way = tmp_path / "file"
    in_the_way.write_text("mine")
    monkeypatch.setenv(stored.FOLDER, str(in_the_way))
    monkeypatch.setattr(stored, "worths", lambda *_: found)
    same(found, stored.stored_worths("v1", trial(8, 2, 3), ()))
    assert in_the_way.read_text() == "mine"


def test_nothing_is_kept_when_told_so(found, tmp_path, monkeypatch):
    monkeypatch.setenv(stored.FOLDER, "off")
    assert stored.cache_folder() is None
    monkeypatch.setattr(stored, "worths", lambda *_: found)
    same(found, stored.stored_worths("v1", trial(8, 2, 3), ()))


def test_the_folder_is_where_the_system_keeps_such_things(tmp_path, monkeypatch):
    monkeypatch.delenv(stored.FOLDER, raising=False)
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert stored.cache_folder() == tmp_path / "orchard-slate"
    monkeypatch.setenv(
        "XDG_CACHE_HOME", "not/absolute"
    )  # to be ignored, says the XDG Base Directory Specification
    assert stored.cache_folder() == Path.home() / ".cache" / "orchard-slate"
    monkeypatch.setattr(sys, "platform", "win32")
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path))
    assert stored.cache_folder() == tmp_path / "orchard-slate" / "cache"


def test_the_folder_where_nothing_is_said_of_it(tmp_path, monkeypatch):
    """As each system's own guides have it: Apple's file system guide, Microsoft's known folders, the XDG specification."""
    for name in (stored.FOLDER, "XDG_CACHE_HOME", "LOCALAPPDATA"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    for system, folder in (
        ("darwin", "Library/Caches/orchard-slate"),
        ("win32", "AppData/Local/orchard-slate/cache"),
        ("linux", ".cache/orchard-slate"),
    ):
        monkeypatch.setattr(sys, "platform", system)
        assert stored.cache_folder() == tmp_path / folder
    monkeypatch.setenv(stored.FOLDER, "OFF")
    assert stored.cache_folder() is None
    monkeypatch.setenv(stored.FOLDER, str(tmp_path / "mine"))
    assert stored.cache_folder() == tmp_path / "mine"


@pytest.mark.parametrize("room", ["mixed", "estimates", "records", "terms"])
def test_another_line_anywhere_that_answers_come_from_is_other_code(tmp_path, monkeypatch, room):
    for name in ("mixed", "estimates", "records", "terms", "page"):
        (tmp_path / name / "inner").mkdir(parents=True)
        (tmp_path / name / "inner" / "lines.py").write_text("one")
    monkeypatch.setattr(stored, "PACKAGE", tmp_path)
    code = stored._code.__wrapped__
    first = code()
    (tmp_path / "page" / "inner" / "lines.py").write_text("other")  # nothing is worked out there
    (tmp_path / room / "notes.txt").write_text("no code")
    assert code() == first
    (tmp_path / room / "inner" / "lines.py").write_text("other")
    changed = code()
    assert changed != first
    (tmp_path / room / "inner" / "lines.py").rename(tmp_path / room / "inner" / "words.py")
    assert code() not in (first, changed)
    monkeypatch.setattr(stored.np, "__version__", "0")
    assert code() != changed


def test_checks_are_the_same_in_any_order_and_records_without_a_version_are_not_kept(
    found, tmp_path, monkeypatch
):
    assert stored._name("v1", ["b", "a"]) == stored._name("v1", ("a", "b")) != stored._name("v1", ["a"])
    monkeypatch.setenv(stored.FOLDER, str(tmp_path))
    monkeypatch.setattr(stored, "worths", lambda *_: found)
    same(found, stored.stored_worths("", trial(8, 2, 3), ()))
    assert list(tmp_path.iterdir()) == []


def test_what_a_killed_writer_left_is_gone_after_a_day(found, tmp_path):
    place = tmp_path / "worths-1.npz"
    stored.write(place, found)
    newest = place.stat().st_mtime
    for name, age in (
        (".writing-old.npz", 86_400 + 60),
        (".writing-young.npz", 86_400 - 60),
        ("notes.npz", 1e6),
    ):
        (tmp_path / name).write_bytes(b"")
        os.utime(tmp_path / name, (newest - age, newest - age))
    stored._thin_out(tmp_path)
    assert sorted(path.name for path in tmp_path.iterdir()) == [".writing-young.npz", "notes.npz", place.name]


def test_old_files_give_way(found, tmp_path):
    for number in range(stored.KEPT + 3):
        place = tmp_path / f"worths-{number}.npz"
        place.write_bytes(b"old")
        os.utime(place, (number, number))
    stored.write(tmp_path / "worths-new.npz", found)
    left = {path.name for path in tmp_path.iterdir()}
    assert len(left) == stored.KEPT
    assert "worths-new.npz" in left
    assert "worths-0.npz" not in left


WRITER = """
import sys
from pathlib import Path
from dashboard.estimates import stored, worth
from tests.estimates.trials import trial
found = {"size": worth(trial(8, 2, 3), "size")}
print("ready", flush=True)
while True:
    stored.write(Path(sys.argv[1]), found)
"""


def writer(place: Path) -> subprocess.Popen:
    started = subprocess.Popen(
        [sys.executable, "-c", WRITER, str(place)], stdout=subprocess.PIPE, cwd=Path(__file__).parents[2]
    )
    assert started.stdout is not None
    assert started.stdout.readline() == b"ready\n"
    return started


@pytest.mark.slow
def test_two_writers_and_a_kill_leave_a_whole_file(tmp_path):
    place = tmp_path / "worths-1.npz"
    writers = [writer(place), writer(place)]
    try:
        until = time.monotonic() + 20
        while not place.exists() and time.monotonic() < until:
            time.sleep(0.01)
        seen = [stored.read(place) for _ in range(50)]
    finally:
        for started in writers:
            started.send_signal(signal.SIGTERM if sys.platform == "win32" else signal.SIGKILL)
            started.wait()
            started.stdout.close()
    assert all(one is not None for one in seen)
    assert stored.read(place) is not None
