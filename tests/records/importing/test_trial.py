"""The trial that sheets come into: opened whole, or refused so that nothing is lost."""

from __future__ import annotations

import json

import pytest

from dashboard.records import read, reading
from dashboard.records.importing.trial import TrialError, opened_trial
from tests.records.small import tables, write_folder


def test_what_stands_is_read_and_what_may_be_odd_there_is_not_looked_for(tmp_path, monkeypatch):
    trial = write_folder(tmp_path / "trial", tables())
    whole = read(trial)

    def asked(*_):
        raise AssertionError

    for name in ("suspect", "suspect_photos", "bring_to_20"):
        monkeypatch.setattr(reading, name, asked)
    found = opened_trial(trial)
    assert found.frames["fruit"]["suture_mm"].tolist() == whole.tables["fruit"]["suture_mm"].tolist()
    assert found.declaration == whole.declaration
    with pytest.raises(AssertionError):
        read(trial)


def test_a_row_written_twice_counts_once_and_rows_set_aside_let_nothing_in(tmp_path):
    rows = tables()
    rows["fruit"].append(rows["fruit"][1])
    assert len(opened_trial(write_folder(tmp_path / "twice", rows)).cells["fruit"]) == 13
    rows["fruit"][-1] = [*rows["fruit"][1][:2], "99", *rows["fruit"][1][3:]]
    with pytest.raises(TrialError, match=r"fruit\.csv: rows of it are set aside"):
        opened_trial(write_folder(tmp_path / "differ", rows))


def test_a_table_that_is_declared_as_not_used_lets_nothing_in(tmp_path):
    trial = write_folder(tmp_path / "trial", tables())
    (trial / "means.csv").write_text("sample,n,size_mm\nS1,10,62\n")
    package = json.loads((trial / "datapackage.json").read_text())
    package["orchard_slate"]["not_used"] = ["means.csv"]
    (trial / "datapackage.json").write_text(json.dumps(package))
    with pytest.raises(TrialError, match=r"means\.csv: rows of it are set aside"):
        opened_trial(trial)


def test_a_trial_that_cannot_be_read_says_why(tmp_path):
    rows = tables()
    rows["cultivars"][0][0] = "name"
    with pytest.raises(TrialError, match=r"is not a trial that can be read; .* cultivars\.csv"):
        opened_trial(write_folder(tmp_path / "trial", rows))
