"""A tray from its files to the records, into a folder and into a store, and back."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from dashboard.records import all_or_none, read
from dashboard.records.importing.aside import read_corrections
from dashboard.records.importing.mapping import read_answers
from dashboard.records.store.bringing import bring
from dashboard.records.trays import folders
from dashboard.records.trays import tray as trays
from dashboard.records.trays.desk import Desk, desk_of, digest, tables_in
from dashboard.records.trays.keeping import CHANGED, keep
from dashboard.records.trays.kept import came_in, undone
from dashboard.records.trays.looked import look
from dashboard.records.trays.tray import TrayError
from dashboard.records.workbooks import read_grids
from tests.records.small import tables, write_folder, write_workbook

WEEK = "Variety,Site,Picked,Fruit,Sut,Cross (mm),Brix\n"
ROWS = "Alvane,low,3/7/2024,1,60,61,11\nAlvane,low,3/7/2024,2,62,61,n/a\n"
HOW = {
    "unit": "mm", "order": "day/month", "is": "", "Variety": "cultivar", "Fruit": "fruit number", "Sut": "suture", "Brix": "ssc",
    "n/a": "nothing",
}  # fmt: skip


@pytest.fixture
def desk(tmp_path) -> Desk:
    return desk_of(write_folder(tmp_path / "trial", tables()))


@pytest.fixture
def store(tmp_path) -> Desk:
    place = tmp_path / "trial.store"
    bring(place, write_folder(tmp_path / "trial", tables()), "Ann")
    return desk_of(place)


def brought(desk: Desk, text: str, name: str = "week 27.csv", who: str = "Ann") -> str:
    one = trays.new_tray(desk, who)
    add(desk, one.id, name, text.encode())
    return one.id


def add(desk: Desk, which: str, name: str, content: bytes) -> None:
    one = trays.tray(desk, which)
    place = trays.place_for(one, trays.file_name(name), len(content))
    place.write_bytes(content)
    trays.take_in(desk, one, trays.file_name(name), place)


def answered(desk: Desk, which: str, **how: str) -> trays.Tray:
    """Read it until nothing is asked any more."""
    said = HOW | how
    one = look(desk, which)
    for _ in range(8):
        if one.stage != trays.ASKED:
            return one
        given = {}
        for question in one.found["questions"]:
            *_, before, last = ("", *question["path"])
            given[tuple(question["path"])] = said.get(before if last == "is" else last) or question["offer"]
            assert given[tuple(question["path"])], question
        one = look(desk, which, given)
    raise AssertionError(one.found)


def test_a_sheet_is_asked_about_looked_at_and_kept(desk):
    before = {path.name: digest(path) for path in tables_in(desk.place)}
    name = brought(desk, WEEK + ROWS)
    first = look(desk, name)
    assert first.stage == trays.ASKED
    asked = {tuple(question["path"][-1:]) for question in first.found["questions"]}
    assert ("order",) in asked
    order = next(question for question in first.found["questions"] if question["path"][-1] == "order")
    assert order["shown"][0].startswith("  “3/7/2024” → month/day: 2024-03-07; day/month: 2024-07-03")
    one = answered(desk, name)
    assert one.stage == trays.READ
    assert one.found["counts"] == {"filled": 21, "read": 21, "aside": 0, "unused": 0}
    assert one.found["came"]["fruit"] == 2
    assert {path.name: digest(path) for path in tables_in(desk.place)} == before  # only looked at
    kept, said = keep(desk, name, "Ann")
    assert (kept.stage, said, kept.kept["number"]) == (trays.KEPT, "", 1)
    new = read(desk.place).tables["fruit"].iloc[12:]
    assert new["suture_mm"].tolist() == [60, 62]
    assert new["ssc_brix"].isna().tolist() == [False, True]
    assert str(read(desk.place).tables["samples"].iloc[-1]["date"])[:10] == "2024-07-03"
    assert keep(desk, name, "Ann")[0].kept["number"] == 1  # pressed twice
    (came,) = came_in(desk)
    assert (came.who, came.file, came.new) == ("Ann", "week 27.csv", 3)


def test_answers_are_used_again_next_week_and_not_for_another_shape(desk):
    keep(desk, answered(desk, brought(desk, WEEK + ROWS)).id, "Ann")
    next_week = brought(desk, WEEK + ROWS.replace("3/7", "10/7"), "week 28.csv")
    assert look(desk, next_week).stage == trays.READ
    other = look(
        desk, brought(desk, WEEK.replace("Brix", "Brix,Taster") + "Alvane,low,3/7/2024,1,60,61,11,x\n")
    )
    assert other.stage == trays.ASKED
    assert "another shape than before: “Taster” is new" in other.found["told"][0]


def test_the_same_sheet_twice_changes_nothing(desk):
    keep(desk, answered(desk, brought(desk, WEEK + ROWS)).id, "Ann")
    before = digest(desk.place / "fruit.csv")
    one, _ = keep(desk, look(desk, brought(desk, WEEK + ROWS)).id, "Bob")
    assert one.kept == {"number": 0, "said": "Nothing was new: the records have all of it already."}
    assert digest(desk.place / "fruit.csv") == before
    assert len(came_in(desk)) == 1


def test_two_technicians_do_not_mix(desk):
    """Each has a tray; who keeps second is shown the records as they became, and then keeps."""
    one, other = brought(desk, WEEK + ROWS), brought(desk, WEEK + ROWS.replace("3/7", "9/7"), who="Bob")
    answered(desk, one)
    assert answered(desk, other).found["came"]["samples"] == 1
    keep(desk, one, "Ann")
    again, said = keep(desk, other, "Bob")
    assert (again.stage, said) == (trays.READ, CHANGED)
    assert keep(desk, other, "Bob")[0].kept["number"] == 2
    days = read(desk.place).tables["samples"]["date"].astype(str).tolist()
    assert days[-2:] == ["2024-07-03", "2024-07-09"]
    assert [(came.number, came.who) for came in came_in(desk)] == [(2, "Bob"), (1, "Ann")]


def test_answers_of_both_are_kept(desk):
    """Two new shapes at once: the mapping holds both, and the first one's names."""
    one = brought(desk, WEEK + ROWS)
    other = brought(desk, "Cultivar,Site,Date,Fruit,Suture (in)\nAlvanne,low,2024-07-08,1,2.5\n", who="Bob")
    answered(desk, one)
    answered(desk, other, Alvanne="Alvane")
    keep(desk, one, "Ann")
    keep(desk, other, "Bob")
    keep(desk, other, "Bob")
    answers = read_answers(desk.mapping)
    assert len(answers.layouts) == 2
    assert answers.at(("cultivars", "Alvanne")) == "Alvane"
    assert look(desk, brought(desk, WEEK + ROWS.replace("3/7", "11/7"))).stage == trays.READ


def test_what_was_set_aside_is_corrected_and_read_again(desk):
    name = brought(desk, WEEK + ROWS.replace("62,61", "620,61"))
    one = answered(desk, name)
    assert one.found["counts"]["aside"] == 1
    assert one.found["heaps"]["mend"]["places"] == 1
    assert one.found["aside"]
    keep(desk, name, "Ann")
    grid = read_grids(trays.tray(desk, name).folder / "set_aside.xlsx")[0]["set aside"]
    assert grid[1][3] == "620"
    corrected = write_workbook(
        desk.folder / "mended.xlsx", {"set aside": [grid[0], [*grid[1][:6], "62"]]}, None
    )
    assert read_corrections(corrected)[0]
    again = brought(desk, WEEK + ROWS.replace("62,61", "620,61"))
    add(desk, again, "set_aside (1).xlsx", corrected.read_bytes())
    assert look(desk, again).found["counts"]["aside"] == 0
    keep(desk, again, "Ann")
    assert read(desk.place).tables["fruit"]["suture_mm"].tolist()[-2:] == [60, 62]


def test_an_answer_that_is_none_is_asked_again_with_what_was_written(desk):
    name = brought(desk, WEEK + ROWS)
    first = look(desk, name)
    order = next(tuple(question["path"]) for question in first.found["questions"] if question["path"][-1] == "order")  # fmt: skip
    again = look(desk, name, {order: "sideways", ("layout", 0, "planted"): "x"})
    asked = {tuple(question["path"]): question["not_understood"] for question in again.found["questions"]}
    assert asked[order] == "sideways"
    assert "planted" not in trays.tray(desk, name).mapping.read_text()


def test_a_new_season_is_refused_and_taken_when_somebody_says_so(desk):
    name = brought(desk, WEEK + ROWS.replace("2024", "2026"))
    one = answered(desk, name)
    assert one.stage == trays.REFUSED
    assert one.found["seasons"] == [2023, 2026]
    assert "no day in it is of this trial" in " ".join(one.found["said"])
    look(desk, name, longer=True)
    one = answered(desk, name)
    assert one.stage == trays.READ
    assert keep(desk, name, "Ann")[0].kept["number"] == 1
    assert json.loads((desk.place / "datapackage.json").read_text())["orchard_slate"]["seasons"] == [2023, 2026]  # fmt: skip
    assert read(desk.place).tables["samples"]["date"].max().year == 2026


def test_an_import_into_a_folder_is_taken_back_as_a_whole(desk):
    before = {path.name: path.read_bytes() for path in tables_in(desk.place)}
    keep(desk, answered(desk, brought(desk, WEEK + ROWS)).id, "Ann")
    keep(desk, look(desk, brought(desk, WEEK + ROWS.replace("3/7", "9/7"))).id, "Bob")
    with pytest.raises(
        TrayError, match=r"Import 1 stays: .*fruit.csv.* changed since; take back import 2 first"
    ):
        undone(desk, 1, "Ann")
    undone(desk, 2, "Ann")
    undone(desk, 1, "Ann")
    assert {path.name: path.read_bytes() for path in tables_in(desk.place)} == before
    with pytest.raises(TrayError, match=r"is taken back already"):
        undone(desk, 1, "Ann")


@pytest.mark.alike(3)
@pytest.mark.parametrize("at", ["laid ready", "first", "second"])
def test_an_import_that_is_killed_midway_is_read_whole_and_gone_on_with(desk, monkeypatch, at):
    one = answered(desk, brought(desk, WEEK + ROWS))
    real, stands = all_or_none.put, []

    def killed(place: Path, content: bytes) -> None:
        if place.parent == desk.place or (at == "laid ready" and place.suffix == ".csv"):
            stands.append(place.name)
            if len(stands) == (2 if at == "second" else 1):
                raise KeyboardInterrupt
        real(place, content)

    monkeypatch.setattr(all_or_none, "put", killed)
    with pytest.raises(KeyboardInterrupt):
        keep(desk, one.id, "Ann")
    monkeypatch.setattr(all_or_none, "put", real)
    found = read(desk.place).tables
    assert (len(found["samples"]), len(found["fruit"])) == ((4, 12) if at == "laid ready" else (5, 14))
    folders.finish(desk)
    assert len(read(desk.place).tables["fruit"]) == 14
    assert not folders.imports(desk)[0].going
    folders.take_back(desk, 1, "Ann")
    assert len(read(desk.place).tables["fruit"]) == 12


def test_the_same_into_a_store_and_back(store):
    name = brought(store, WEEK + ROWS.replace("62,61", "620,61"))
    one = answered(store, name)
    assert one.found["counts"] == {"filled": 21, "read": 20, "aside": 1, "unused": 0}
    assert keep(store, name, "Ann")[0].kept["number"] == 2
    newest, first = came_in(store)
    assert (newest.who, newest.file, newest.new, newest.left_out) == ("Ann", "week 27.csv", 3, 1)
    assert first.number == 1
    assert len(read(store.place).tables["fruit"]) == 14
    assert store.aside.exists()
    assert store.folder.name == "trial.store-importing"
    assert "is taken back by import 3" in undone(store, 2, "Ann")
    assert len(read(store.place).tables["fruit"]) == 12
    assert came_in(store)[1].undone == "import 3"


def test_a_season_is_added_to_a_store(store):
    name = brought(store, WEEK + ROWS.replace("2024", "2026"))
    assert answered(store, name).stage == trays.REFUSED
    look(store, name, longer=True)
    answered(store, name)
    keep(store, name, "Ann")
    assert read(store.place).tables["samples"]["date"].max().year == 2026


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("../../etc/passwd.csv", "passwd.csv"),
        (r"C:\sheets\week.xlsx", "week.xlsx"),
        ("<img src=x onerror=alert(1)>.csv", "-img src=x onerror=alert(1)-.csv"),
        ("a\x00b\n.csv", "ab.csv"),
        ("..csv", None),
        (".csv", None),
        ("week.exe", None),
        ("x" * 300 + ".CSV", "x" * 96 + ".CSV"),
        ("桃" * 300 + ".csv", "桃" * 78 + ".csv"),
        ("", None),
    ],
)
def test_a_file_keeps_its_name_and_no_more(said, name):
    if name is None:
        with pytest.raises(TrayError, match=r"save the sheet as .xlsx or as CSV"):
            trays.file_name(said)
    else:
        assert trays.file_name(said) == name


def test_what_is_too_much_is_refused_before_it_is_sent(desk, monkeypatch):
    one = trays.new_tray(desk, "Ann")
    with pytest.raises(TrayError, match=r"a.csv has 201 MB, more than the 200 MB that are read"):
        trays.place_for(one, "a.csv", 201_000_000)
    monkeypatch.setattr(trays, "MOST_FILES", 0)
    with pytest.raises(TrayError, match=r"keep these first"):
        trays.place_for(one, "a.csv", 1)
    monkeypatch.setattr(trays, "MOST_TRAYS", 1)
    with pytest.raises(TrayError, match=r"keep or leave some"):
        trays.new_tray(desk, "Bob")


def test_a_broken_file_is_told_and_nothing_of_the_tray_is_kept(desk):
    one = look(desk, brought(desk, "PK\x03\x04 broken", "book.xlsx"))
    assert one.stage == trays.REFUSED or one.found["counts"]["filled"] == 0
    assert "book.xlsx" in json.dumps(one.found)


def test_no_other_folder_is_a_tray(desk):
    for name in ("..", "0" * 16, "x", "../trays"):
        with pytest.raises(TrayError, match=r"not here any more"):
            trays.tray(desk, name)


def test_records_that_nothing_can_come_into_are_told(tmp_path):
    with pytest.raises(ValueError, match=r"folder of .csv tables or a store"):
        desk_of(tmp_path / "book.xlsx")
    with pytest.raises(ValueError, match=r"--desk FOLDER"):
        desk_of("postgresql+psycopg://machine/trial")
    assert desk_of("postgresql+psycopg://machine/trial", str(tmp_path)).folder == tmp_path


def test_the_desk_is_no_part_of_the_records(desk):
    keep(desk, answered(desk, brought(desk, WEEK + ROWS)).id, "Ann")
    assert not [problem for problem in read(desk.place).problems if "importing" in problem.sentence]
