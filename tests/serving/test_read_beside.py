"""New records taken up: read by a process beside the server, the same, faults too."""

from __future__ import annotations

import sys
from dataclasses import replace

import pytest

from dashboard.answers.catalogue import Catalogue, read_catalogue
from dashboard.page.parts import workshop
from dashboard.records import Problem, RecordError
from dashboard.records.store.bringing import bring
from dashboard.serving import read_beside
from tests.records.small import tables, write_folder


@pytest.fixture
def store(tmp_path):
    bring(tmp_path / "trial.store", write_folder(tmp_path / "small", tables()), "Ada")
    return tmp_path / "trial.store"


def same(there: Catalogue, here: Catalogue) -> bool:
    assert there.version == here.version
    assert there.cultivars.to_csv() == here.cultivars.to_csv()
    assert there.summaries.to_csv() == here.summaries.to_csv()
    return there.problems == here.problems


@pytest.mark.slow
def test_what_a_process_read_is_what_the_server_would_have_read(store, tmp_path, monkeypatch, caplog):
    here, usual = read_catalogue(store), sys.getswitchinterval()
    assert same(read_beside.taken_up(store), here)
    assert not caplog.text
    assert sys.getswitchinterval() == usual
    with pytest.raises(RecordError, match="no such folder or file") as told:
        read_beside.read_beside(tmp_path / "gone")
    assert told.value.problems[0].suggestion
    monkeypatch.setattr(workshop, "started", lambda _: 1 / 0)
    assert read_beside.read_beside(store).version == here.version
    assert "new records are read within the server" in caplog.text


def test_many_problems_come_over_in_their_order(store, monkeypatch):
    told = tuple(Problem("flag", "fruit.csv", row=row) for row in range(2, 2 + 1_234))
    known = replace(read_catalogue(store), problems=told)
    monkeypatch.setattr(read_beside, "read_catalogue", lambda _: known)
    monkeypatch.setattr(workshop.Workshop, "done", lambda _self, work, *args: work(*args))
    assert same(read_beside.read_beside(store), known)


def test_records_are_shown_though_their_first_page_cannot_be_worked_out(store, monkeypatch, caplog):
    monkeypatch.setattr(workshop.Workshop, "done", lambda _self, work, *args: work(*args))
    monkeypatch.setattr(read_beside, "work_out", lambda _: 1 / 0)
    assert list(read_beside.taken_up(store).cultivars.index)
    assert "ZeroDivisionError" in caplog.text
