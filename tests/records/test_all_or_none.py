"""Several files of a folder stand together, or none of them, wherever the writing is killed; and so they are read, without a file being written."""

from __future__ import annotations

import csv
import io

import pytest

from dashboard.records import RecordError, read
from dashboard.records import all_or_none as together
from dashboard.records.earlier import earlier, has_earlier
from dashboard.records.importing.changed import HEADINGS, LOG
from dashboard.records.importing.incoming import bring_in
from dashboard.records.importing.right import EVERYWHERE
from dashboard.records.report import check
from dashboard.records.sources import read_source
from dashboard.records.store.coming import hashed
from tests.records.importing.test_right import _nothing_odd_is_looked_for, folder, sheet, values
from tests.records.small import tables, write_folder, write_workbook

__all__ = ["_nothing_odd_is_looked_for"]

MADE = {
    "samples.csv": b"new samples",
    "fruit.csv": b"new fruit",
    "importing/changed.csv": b"a line",
    "means.csv": None,
}
OLD = {"samples.csv": b"old samples", "fruit.csv": b"old fruit", "means.csv": b"old means"}
LAID = 4  # steps: three laid ready, and the list of them


class Killed(BaseException):
    pass


def _killed_at(step, monkeypatch):
    """Every file that is put or goes is a step; killed before one of them."""
    real, gone, done = together.put, together.Path.unlink, []

    def one_more():
        done.append(0)
        if len(done) == step:
            raise Killed

    def put(place, content):
        one_more()
        real(place, content)

    def unlink(self, missing_ok=False):
        if self.suffix in (".csv", ".json"):
            one_more()
        gone(self, missing_ok)

    monkeypatch.setattr(together, "put", put)
    monkeypatch.setattr(together.Path, "unlink", unlink)


def _held(place):
    return {name: (place / name).read_bytes() for name in MADE if (place / name).exists()}


def _files(place):
    return {str(path): path.read_bytes() for path in place.rglob("*") if path.is_file()}


@pytest.mark.parametrize("step", range(1, 11))
def test_killed_before_any_of_its_steps_it_is_before_or_after(tmp_path, monkeypatch, step):
    for name, content in OLD.items():
        (tmp_path / name).write_bytes(content)
    with monkeypatch.context() as patched:
        _killed_at(step, patched)
        if step < 10:  # three put, one goes, the list of them goes
            with pytest.raises(Killed):
                together.put_together(tmp_path, MADE)
        else:
            together.put_together(tmp_path, MADE)
    after = {name: content for name, content in MADE.items() if content is not None}
    wanted = after if step > LAID else OLD
    there = together.pending(tmp_path)
    read_so = {name: place.read_bytes() for name in MADE if there.files.get(name, tmp_path) is not None and (place := there.place(tmp_path, name)).exists()}  # fmt: skip
    assert read_so == wanted
    assert together.go_on(tmp_path) == ()
    assert _held(tmp_path) == wanted
    assert not together.unfinished(tmp_path)
    together.put_together(tmp_path, MADE)
    assert _held(tmp_path) == after
    assert not list((tmp_path / "importing").glob(".*"))


@pytest.mark.alike(3)
@pytest.mark.parametrize("step", [*range(1, 9), 12])
def test_a_trial_is_read_as_before_an_import_or_as_after_it_wherever_it_was_killed(tmp_path, monkeypatch, step):  # fmt: skip
    trial = write_folder(tmp_path / "trial", tables())
    (trial / "importing").mkdir()
    before = read(trial)
    new = tables()
    new["fruit"][1][2], new["samples"][1][8] = "62.5", "measured again"
    line = ["2024-07-14T08:15:00Z", "Ann", "week.csv", "fruit", "S1; 1", "suture_mm", "61.5", "62.5"]
    made = {f"{name}.csv": _text(new[name]) for name in ("samples", "fruit")} | {LOG: _text([[*HEADINGS], line])}  # fmt: skip
    with monkeypatch.context() as patched:
        _killed_at(step, patched)
        if step < 9:
            with pytest.raises(Killed):
                together.put_together(trial, made)
        else:
            together.put_together(trial, made)
    stands = _files(trial)
    found, sha = read(trial), hashed(trial)
    assert [(one.was, one.who) for one in earlier(trial, "S1")] == ([("61.5", "Ann")] if step > LAID else [])
    assert has_earlier(trial) == (step > LAID)
    assert _files(trial) == stands
    first = found.tables["fruit"]["suture_mm"][0], found.tables["samples"]["note"].fillna("")[0]
    assert first == ((62.5, "measured again") if step > LAID else (61.5, ""))
    told = [one for one in found.problems if "was stopped before" in one.rule]
    assert len(told) == (LAID < step < 7)  # then the log alone is to come
    together.go_on(trial)
    assert read(trial).version == found.version
    assert hashed(trial) == sha
    assert (found.version == before.version) == (step <= LAID)
    assert not [one for one in read(trial).problems if "stopped" in one.rule]


def test_a_new_trial_and_one_that_loses_a_table_are_read_whole(tmp_path, monkeypatch):
    whole = {f"{name}.csv": _text(rows) for name, rows in tables().items()}
    with monkeypatch.context() as patched:
        _killed_at(len(whole) + 2, patched)  # of a new trial nothing is put yet
        with pytest.raises(Killed):
            together.put_together(tmp_path / "trial", whole)
    assert not list((tmp_path / "trial").glob("*.csv"))
    assert set(read_source(tmp_path / "trial").sheets) == set(tables())
    together.go_on(tmp_path / "trial")
    with monkeypatch.context() as patched:
        patched.setattr(together, "go_on", lambda _: ())
        together.put_together(tmp_path / "trial", {"bloom.csv": None, "weather.csv": None})
    assert (tmp_path / "trial" / "bloom.csv").exists()
    assert set(tables()) - set(read_source(tmp_path / "trial").sheets) == {"bloom", "weather"}


def test_nothing_is_pending_of_a_workbook(tmp_path):
    book = write_workbook(tmp_path / "trial.xlsx", tables())
    assert together.pending(book) == together.Pending()
    assert not has_earlier(book)
    assert earlier(book, "S1") == []


def test_a_folder_that_is_written_while_it_is_read_is_read_once_more(tmp_path):
    trial = write_folder(tmp_path / "trial", tables())
    tries = []

    def reading(_, writes):
        tries.append(0)
        found = (trial / "samples.csv").read_bytes(), (trial / "fruit.csv").read_bytes()
        if len(tries) <= writes:
            together.put_together(trial, {"samples.csv": b"s%d" % len(tries), "fruit.csv": b"f%d" % len(tries)})  # fmt: skip
            if len(tries) == 1:
                raise RecordError([])
        return found

    assert together.as_one(trial, lambda at: reading(at, 2), (".csv",)) == (b"s2", b"f2")
    assert len(tries) == 3
    with pytest.raises(RecordError):
        together.as_one(trial, lambda at: read_source(tmp_path), (".csv",))
    tries.clear()
    with pytest.raises(BlockingIOError):
        together.as_one(trial, lambda at: reading(at, 99), (".csv",))


def test_an_import_that_was_killed_is_gone_on_with_and_what_somebody_wrote_since_stays_and_is_told(tmp_path, monkeypatch):  # fmt: skip
    trial = folder(tmp_path)
    files = [
        sheet(tmp_path / "in" / "fruit.csv", {(1, 2): "62.5"}),
        sheet(tmp_path / "in" / "samples.csv", {(1, 6): "7"}, "samples"),
    ]
    monkeypatch.setattr(together, "go_on", lambda _: ())
    assert len(bring_in(files, trial, said=EVERYWHERE).replaced) == 2
    assert together.unfinished(trial)
    assert values(trial)[1][2] == "61.5"
    mine = (trial / "samples.csv").read_text().replace("some bruised", "by hand")
    (trial / "samples.csv").write_text(mine)
    monkeypatch.undo()
    said, code = check(trial)
    assert code == 1
    assert "error  samples.csv: was changed here after an import was stopped, so what that import has for it is left out; bring in the same file again." in said  # fmt: skip
    assert "flag   fruit.csv: an import was stopped before it was put here; it is read as that import has it" in said  # fmt: skip
    again = bring_in(files, trial, said={})
    assert again.code == 1
    assert again.text.startswith("error  samples.csv: was changed here after an import was stopped")
    assert {one.old for one in again.differing} == {"6.5", "by hand"}
    assert values(trial)[1][2] == "62.5"
    assert (trial / "samples.csv").read_text() == mine
    assert "stopped" not in bring_in(files, trial, said={}).text


def _text(rows):
    text = io.StringIO(newline="")
    csv.writer(text, lineterminator="\n").writerows(rows)
    return text.getvalue().encode("utf-8")
