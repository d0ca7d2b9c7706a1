"""Several files of a folder stand together, or none of them, wherever the writing is killed."""

from __future__ import annotations

import pytest

from dashboard.records.importing import all_or_none as together
from dashboard.records.importing.incoming import bring_in
from dashboard.records.importing.right import EVERYWHERE
from tests.records.importing.test_right import _nothing_odd_is_looked_for, folder, sheet, values

__all__ = ["_nothing_odd_is_looked_for"]

MADE = {"samples.csv": b"new samples", "fruit.csv": b"new fruit", "importing/changed.csv": b"a line"}


@pytest.mark.parametrize("at", range(1, 9))
def test_killed_before_any_of_its_files_it_is_before_or_after(tmp_path, monkeypatch, at):
    (tmp_path / "samples.csv").write_bytes(b"old samples")
    (tmp_path / "fruit.csv").write_bytes(b"old fruit")
    real, done = together.put, []

    def killed(place, content):
        done.append(place)
        if len(done) == at:
            raise KeyboardInterrupt
        real(place, content)

    monkeypatch.setattr(together, "put", killed)
    if at < 8:  # three laid ready, the list of them, and three put
        with pytest.raises(KeyboardInterrupt):
            together.put_together(tmp_path, MADE)
    else:
        together.put_together(tmp_path, MADE)
    monkeypatch.setattr(together, "put", real)
    together.go_on(tmp_path)
    after = {name: (tmp_path / name).read_bytes() for name in MADE if (tmp_path / name).exists()}
    assert after == (MADE if at > 4 else {"samples.csv": b"old samples", "fruit.csv": b"old fruit"})
    assert not together.unfinished(tmp_path)
    together.put_together(tmp_path, MADE)
    assert {name: (tmp_path / name).read_bytes() for name in MADE} == MADE
    assert not list((tmp_path / "importing").glob(".*"))


def test_an_import_that_was_killed_is_gone_on_with_and_what_somebody_wrote_since_stays(tmp_path, monkeypatch):
    trial = folder(tmp_path)
    files = [
        sheet(tmp_path / "in" / "fruit.csv", {(1, 2): "62.5"}),
        sheet(tmp_path / "in" / "samples.csv", {(1, 6): "7"}, "samples"),
    ]
    monkeypatch.setattr(together, "go_on", lambda _: None)
    assert len(bring_in(files, trial, said=EVERYWHERE).replaced) == 2
    assert together.unfinished(trial)
    assert values(trial)[1][2] == "61.5"
    mine = (trial / "samples.csv").read_text().replace("some bruised", "by hand")
    (trial / "samples.csv").write_text(mine)
    monkeypatch.undo()
    assert {one.old for one in bring_in(files, trial, said={}).differing} == {"6.5", "by hand"}
    assert values(trial)[1][2] == "62.5"
    assert (trial / "samples.csv").read_text() == mine
