"""What a server shows of a store: worked out once for each import, the old one until the new one is ready."""

from __future__ import annotations

import threading
import time

import pytest

from dashboard.records import RecordError
from dashboard.records.store import newest
from dashboard.records.store.bringing import bring
from dashboard.records.store.kept import source_of
from tests.records.small import write_folder

PATIENCE = 20.0


def until(true) -> None:
    end = time.monotonic() + PATIENCE
    while not true():
        assert time.monotonic() < end
        time.sleep(0.01)


def week(folder, number: int):
    return write_folder(
        folder / f"week{number}",
        {"fruit": [["sample", "fruit", "suture_mm"], ["S1", str(number), "60"]]},
        None,
    )


def fruit(place) -> tuple[int]:
    return (len(source_of(place).sheets["fruit"]),)


def test_without_a_server_the_newest_is_made_when_it_is_asked_for_and_once(store, small, tmp_path):
    bring(store, small, "Ada")
    first = newest.newest(store, fruit)
    assert first == (12,)
    assert newest.newest(str(store), fruit) is first
    bring(store, week(tmp_path, 4), "Ada")
    assert newest.newest(store, fruit) == (13,)


def test_a_folder_is_read_once(small):
    made = []
    for _ in range(2):
        newest.newest(small, made.append)
    assert len(made) == 1


def test_whoever_comes_gets_the_old_until_the_new_is_ready(either, small, tmp_path):
    bring(either, small, "Ada")
    begun, ready, made = threading.Event(), threading.Event(), []

    def slowly(place):
        found = fruit(place)
        made.append(found)
        if len(made) > 1:
            begun.set()
            assert ready.wait(PATIENCE)
        return found

    first = newest.newest(either, slowly)
    end = newest.follow(either, slowly, every=0.01)
    try:
        bring(either, week(tmp_path, 4), "Ada")
        assert begun.wait(PATIENCE)
        assert newest.newest(either, slowly) is first  # and does not wait
        ready.set()
        until(lambda: newest.newest(either, slowly) == (13,))
        assert made == [(12,), (13,)]
    finally:
        ready.set()
        end()


def test_what_cannot_be_shown_leaves_what_is_shown(store, small, tmp_path, caplog):
    bring(store, small, "Ada")

    def refusing(place):
        if fruit(place) != (12,):
            raise RecordError([])
        return "shown"

    assert newest.newest(store, refusing) == "shown"
    end = newest.follow(store, refusing, every=0.01)
    try:
        bring(store, week(tmp_path, 4), "Ada")
        until(lambda: "cannot be shown" in caplog.text)
        assert newest.newest(store, refusing) == "shown"
        assert caplog.text.count("cannot be shown") == 1  # not every two seconds
    finally:
        end()


def test_a_store_that_is_not_there_is_told_as_records_are(tmp_path):
    (tmp_path / "new.store").touch()
    with pytest.raises(RecordError, match="holds no records yet; bring some in with"):
        newest.newest(tmp_path / "new.store", fruit)
