"""Very much at once is laid straight into the file of a store where nobody else has it open, else by way of the log."""

from __future__ import annotations

import sqlite3
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack

import pytest

from dashboard.records.store import bringing, opening
from dashboard.records.store.bringing import bring
from dashboard.records.store.kept import source_of
from dashboard.records.store.opening import StoreError, reading, writing
from tests.records.small import tables, write_folder


def way(connection) -> str:
    return connection.exec_driver_sql("PRAGMA journal_mode").scalar()


def lasting(store) -> str:
    """How the file says that changes come into it."""
    connection = sqlite3.connect(store)
    (found,) = connection.execute("PRAGMA journal_mode").fetchone()
    connection.close()
    return found


def fruit(store) -> int:
    return len(source_of(store).sheets["fruit"])


@pytest.fixture
def more(tmp_path):
    """A fruit that the store has not."""
    return write_folder(
        tmp_path / "more", {"fruit": [["sample", "fruit", "suture_mm"], ["S1", "7", "64"]]}, None
    )


def test_it_is_written_once_and_the_next_goes_by_the_log(store, small, more, monkeypatch):
    bring(store, small, "Ada")
    before = fruit(store)
    with writing(store, much=True) as connection:
        assert way(connection) == "truncate"
    assert lasting(store) == "wal"
    monkeypatch.setattr(bringing, "MUCH", 0)
    assert bring(store, more, "Ada").new == {"fruit": 1}
    assert fruit(store) == before + 1
    assert lasting(store) == "wal"


def test_beside_a_reader_it_goes_by_the_log_and_he_keeps_his_state(store, small):
    bring(store, small, "Ada")
    with reading(store) as early:
        with writing(store, much=True) as connection:
            assert way(connection) == "wal"
            connection.exec_driver_sql("UPDATE imports SET who = 'Bo'")
        assert early.exec_driver_sql("SELECT who FROM imports").scalar() == "Ada"
    with reading(store) as late:
        assert late.exec_driver_sql("SELECT who FROM imports").scalar() == "Bo"


def test_who_comes_meanwhile_sees_before_or_after(store, small, more, monkeypatch):
    bring(store, small, "Ada")
    before = fruit(store)
    monkeypatch.setattr(bringing, "MUCH", 0)
    with ThreadPoolExecutor(3) as threads:
        seen = [threads.submit(fruit, store) for _ in range(3)]
        brought = bring(store, more, "Ada")
        seen += [threads.submit(fruit, store) for _ in range(3)]
        assert {one.result() for one in seen} <= {before, before + 1}
    assert brought.new == {"fruit": 1}
    assert fruit(store) == before + 1


def test_a_reader_who_came_meanwhile_and_stays_is_waited_for_and_then_nothing_came_in(
    store, small, monkeypatch
):
    bring(store, small, "Ada")
    monkeypatch.setattr(opening, "WAIT_S", 0.2)

    def both() -> None:
        with writing(store, much=True) as connection:
            connection.exec_driver_sql("UPDATE imports SET who = 'Bo'")
            early.enter_context(reading(store)).exec_driver_sql("SELECT who FROM imports").scalar()

    with ExitStack() as early, pytest.raises(StoreError, match="nothing of yours came in"):
        both()
    with reading(store) as late:
        assert late.exec_driver_sql("SELECT who FROM imports").scalar() == "Ada"
    assert bring(store, write_folder(store.parent / "again", tables()), "Ada").number == 0
    assert lasting(store) == "wal"
