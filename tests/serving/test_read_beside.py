"""New records read by a process beside the server: the same, faults too."""

from __future__ import annotations

import pytest

from dashboard.answers.catalogue import read_catalogue
from dashboard.page.parts import workshop
from dashboard.records import RecordError
from dashboard.records.store.bringing import bring
from dashboard.serving import read_beside
from tests.records.small import tables, write_folder


def test_what_a_process_read_is_what_the_server_would_have_read(tmp_path, monkeypatch, caplog):
    store = tmp_path / "trial.store"
    bring(store, write_folder(tmp_path / "small", tables()), "Ada")
    here, there = read_catalogue(store), read_beside.read_beside(store)
    assert there.version == here.version
    assert there.cultivars.to_csv() == here.cultivars.to_csv()
    assert there.summaries.to_csv() == here.summaries.to_csv()
    assert [one.sentence for one in there.problems] == [one.sentence for one in here.problems]
    with pytest.raises(RecordError, match="no such folder or file") as told:
        read_beside.read_beside(tmp_path / "gone")
    assert told.value.problems[0].suggestion
    monkeypatch.setattr(workshop, "started", lambda _: 1 / 0)
    assert read_beside.read_beside(store).version == here.version
    assert "new records are read within the server" in caplog.text
