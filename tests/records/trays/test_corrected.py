"""Values that a lot of files has otherwise than the records: looked at, said to be right, kept, taken back; of a folder and of a store."""

from __future__ import annotations

from contextlib import suppress

import pytest

from dashboard.records import read
from dashboard.records.came_from import CAME
from dashboard.records.earlier import earlier, has_earlier
from dashboard.records.importing.changed import LOG, changes_in
from dashboard.records.importing.right import RIGHT
from dashboard.records.store.bringing import bring
from dashboard.records.trays import folders, keeping
from dashboard.records.trays import tray as trays
from dashboard.records.trays.desk import Desk, tables_in
from dashboard.records.trays.keeping import CHANGED, keep
from dashboard.records.trays.kept import came_in, undone
from dashboard.records.trays.looked import copy_records, look
from tests.records.importing.test_right import _nothing_odd_is_looked_for
from tests.records.small import tables, write_folder
from tests.records.trays.test_trays import brought, desk, store

__all__ = ["_nothing_odd_is_looked_for", "desk", "store"]
HEAD = "sample,cultivar,site,date,pick,shape,red,split_pit_pct,note\n"
RED = HEAD + "S1,Alvane,low,2023-07-01,1,8,7,10,\n"
RED_AND_NOTE = HEAD + 'S1,Alvane,low,2023-07-01,1,8,7,10,\nS2,Alvane,high,2024-07-05,1,7,6,,"=1+1 <b>"\n'


def of(place) -> list[float]:
    return read(place).tables["samples"]["red"].tolist()


def right(which: Desk, text: str = RED, who: str = "Ann") -> str:
    """A lot that is looked at, and said to be right as a whole."""
    name = brought(which, text, "samples.csv", who)
    (file,) = look(which, name).found["differing"]
    look(which, name, differing={file["whole"]: RIGHT})
    return name


def test_a_file_that_is_right_replaces_is_logged_and_is_taken_back(desk):
    before = {path.name: path.read_bytes() for path in tables_in(desk.place)}
    name = brought(desk, RED_AND_NOTE, "samples.csv")
    one = look(desk, name)
    (file,) = one.found["differing"]
    assert (file["file"], file["count"], file["right"]) == ("samples.csv", 2, 0)
    assert [(value["where"], value["old"], value["new"]) for value in file["values"]] == [("S1, red", "6.5", "7"), ("S2, note", "some bruised", "=1+1 <b>")]  # fmt: skip
    assert one.found["heaps"]["mend"]["lines"] == []
    look(desk, name, differing={file["whole"]: RIGHT})
    assert trays.tray(desk, name).found["replaced"] == 2
    assert {path.name: path.read_bytes() for path in tables_in(desk.place)} == before
    assert keep(desk, name, "Ann")[0].kept["number"] == 1
    assert of(desk.place)[0] == 7
    assert [(one.who, one.file, one.key, one.old) for one in changes_in(desk.place)] == [
        ("Ann", "samples.csv", "S1", "6.5"), ("Ann", "samples.csv", "S2", "some bruised"),
    ]  # fmt: skip
    again = brought(desk, RED_AND_NOTE, "samples.csv")
    undone(desk, 1, "Bob")
    assert {path.name: path.read_bytes() for path in tables_in(desk.place)} == before
    assert changes_in(desk.place) == []
    (file,) = look(desk, again).found["differing"]  # the same files again, and nothing by itself
    assert file["right"] == 0
    assert "differing" not in desk.mapping.read_text()


def test_two_technicians_who_correct_the_same_value(desk):
    """Who keeps second is shown what stands now, and has to say once more that it is wrong."""
    one, other = right(desk), right(desk, RED.replace(",7,10", ",9,10"), "Bob")
    keep(desk, one, "Ann")
    again, said = keep(desk, other, "Bob")
    (file,) = again.found["differing"]
    assert (said, file["right"], file["values"][0]["old"], file["values"][0]["new"]) == (CHANGED, 0, "7", "9")
    assert keep(desk, other, "Bob")[0].kept["number"] == 0
    assert of(desk.place)[0] == 7
    assert [(one.who, one.was) for one in earlier(desk.place, "S1")] == [("Ann", "6.5")]


@pytest.mark.parametrize("way", ["in", "back"])
@pytest.mark.parametrize("at", range(1, 5))
def test_killed_midway_it_is_before_or_after(desk, monkeypatch, way, at):
    """Its note of what it does, the log, the table: wherever it is killed, the next that opens the desk finds all or nothing."""
    trial = desk.place.parent / "copy"
    copy_records(desk, trial)
    new = (trial / "samples.csv").read_text().replace("6.5", "7")
    (trial / "samples.csv").write_text(new)
    (trial / "importing").mkdir(exist_ok=True)
    (trial / LOG).write_text("when,who,file,table,key,column,old,new\nx,Ann,a.csv,samples,S1,red,6.5,7\n")

    def put_in() -> None:
        folders.put_in(desk, trial, "", "Ann", "a.csv", 0, 0)

    def take_back() -> None:
        folders.take_back(desk, 1, "Ann")

    if way == "back":
        put_in()
    real, done = folders.put, []

    def killed(place, content) -> None:
        done.append(place)
        if len(done) == at:
            raise KeyboardInterrupt
        real(place, content)

    monkeypatch.setattr(folders, "put", killed)
    with suppress(KeyboardInterrupt):
        put_in() if way == "in" else take_back()
    monkeypatch.setattr(folders, "put", real)
    folders.finish(desk)
    logged = bool(changes_in(desk.place))
    assert logged == ((desk.place / "samples.csv").read_text() == new)
    assert logged == ((at > 1) == (way == "in"))


def test_the_same_in_a_store_with_its_history(store):
    name = right(store, RED_AND_NOTE)
    assert keep(store, name, "Ann")[0].kept["number"] == 2
    assert of(store.place)[0] == 7
    (one,) = earlier(store.place, "S1")
    assert (one.heading, one.was, one.who, one.file, one.number) == ("red", "6.5", "Ann", "samples.csv", 2)
    assert came_in(store)[0].new == 0
    undone(store, 2, "Bob")
    assert of(store.place)[0] == 6.5
    assert [(one.was, one.number) for one in earlier(store.place, "S1")] == [("7", 3), ("6.5", 2)]
    assert earlier(store.place, "S3") == earlier(store.place, "<b>") == []


def test_a_store_that_changed_since_is_looked_at_again(store, monkeypatch):
    """Between the last look and the writing: what comes in is then of another state, and would bring old values back."""
    name, real = right(store), keeping.state

    def changed(which: Desk) -> str:
        found = real(which)
        rows = tables()
        rows["samples"][1][6] = "9"
        if of(store.place)[0] == 6.5:
            bring(store.place, write_folder(store.folder / "other", rows), "Bob", changes=True)
        return found

    monkeypatch.setattr(keeping, "state", changed)
    again, said = keep(store, name, "Ann")
    assert (again.stage, said) == (trays.READ, CHANGED)
    assert of(store.place)[0] == 9
    assert again.found["replaced"] == 0


def test_nothing_is_known_of_a_folder_without_a_log(tmp_path):
    place = write_folder(tmp_path / "trial", tables())
    assert not has_earlier(place)
    assert not has_earlier(tmp_path / "none.xlsx")
    assert earlier(place, "S1") == []
    (place / LOG).parent.mkdir()
    (place / LOG).write_text(
        "when,who,file,table,key,column,old,new\nx,Ann,a.csv,fruit,S1; 2,suture_mm,1,2\n"
    )
    assert has_earlier(str(place))
    assert [(one.fruit, one.was) for one in earlier(place, "S1")] == [("2", "1")]
    assert earlier(place, "S") == []


def test_where_rows_came_from_is_kept_and_taken_back_with_them(desk):
    keep(desk, right(desk), "Ann")
    assert ",samples.csv,," in (desk.place / CAME).read_text()
    folders.take_back(desk, 1, "Ann")
    assert not (desk.place / CAME).exists()
