"""What comes into a store, what does not, and what is told of it."""

from __future__ import annotations

import hashlib
import json
import subprocess

import pytest

from dashboard.records import RecordError, read
from dashboard.records.store.bringing import bring
from dashboard.records.store.history import brought_in, stayed_out
from dashboard.records.store.opening import StoreError, reading, writing
from tests.records.small import DECLARED, row, tables, write_folder, write_workbook

WEEK = {
    "samples": [["sample", "cultivar", "site", "date", "pick"], ["S5", "Brintel", "high", "2024-08-02", "2"]],
    "fruit": [["sample", "fruit", "suture_mm"], ["S5", "1", "60.50"], ["S5", "2", "61"], ["S4", "4", "70"]],
}


def typed(place) -> dict:
    records = read(place)
    return {name: frame.to_dict("list") for name, frame in records.tables.items()} | {
        "declared": records.declaration
    }


def same(one, other) -> bool:
    return repr(one) == repr(other)  # NaN is like NaN


def test_a_store_reads_as_the_folder_that_came_in(either, small):
    done = bring(either, small, "Ada")
    assert (done.number, done.why, done.changed) == (1, "", 0)
    assert done.new == {"cultivars": 3, "sites": 2, "samples": 4, "fruit": 12, "bloom": 1, "weather": 1}
    assert same(typed(either), typed(small))
    assert [problem.rule for problem in read(either).problems] == [
        problem.rule for problem in read(small).problems
    ]


def test_a_workbook_comes_in_as_the_folder_does(store, small, tmp_path):
    other = tmp_path / "other.store"
    bring(store, small, "Ada")
    bring(other, write_workbook(tmp_path / "book.xlsx", tables()), "Ada")
    assert same(typed(store), typed(other))


def test_every_import_has_who_when_file_and_hash(either, small):
    bring(either, small, "Ada")
    bring(either, write_folder(small.parent / "week", WEEK, None), "Béla")
    first, second = brought_in(either)
    assert (first.number, first.who, first.file, first.new) == (1, "Ada", "small", 23)
    assert (second.number, second.who, second.file, second.new) == (2, "Béla", "week", 4)
    assert first.at <= second.at
    assert first.at.endswith("Z")


def test_the_hash_is_that_of_a_known_tool(store, small, tmp_path):
    book = write_workbook(tmp_path / "book.xlsx", tables())
    bring(store, book, "Ada")
    assert brought_in(store)[0].sha256 == hashlib.sha256(book.read_bytes()).hexdigest()
    bring(store, write_folder(tmp_path / "week", WEEK, None), "Ada")
    printed = subprocess.run(
        "sha256sum *.csv | sha256sum", shell=True, cwd=tmp_path / "week", capture_output=True, text=True
    )
    if printed.returncode:
        pytest.skip("sha256sum is not to be had here")
    assert brought_in(store)[1].sha256 == printed.stdout.split()[0]


def test_a_week_alone_finds_its_cultivars_and_samples_in_the_store(store, small, tmp_path):
    bring(store, small, "Ada")
    done = bring(store, write_folder(tmp_path / "week", WEEK, None), "Ada")
    assert (done.number, done.problems, done.new) == (2, [], {"samples": 1, "fruit": 3})
    fruit = read(store).tables["fruit"]
    assert fruit[fruit["sample"] == "S4"]["suture_mm"].tolist() == [61.5, 62.5, 63.5, 70]


def test_the_same_once_more_changes_nothing(store, small, tmp_path):
    bring(store, small, "Ada")
    for again in (small, write_workbook(tmp_path / "again.xlsx", tables())):
        done = bring(store, again, "Ada")
        assert (done.number, done.changed, done.new) == (0, 0, {})
        assert "has all of it already" in done.why
    assert len(brought_in(store)) == 1


def test_the_same_value_written_otherwise_is_no_change(store, small, tmp_path):
    bring(store, small, "Ada")
    other = tables()
    row(other["samples"], 2)[3] = "2023-07-01"
    row(other["samples"], 2)[5] = "8.0"
    row(other["cultivars"], 2)[6] = "true"
    other["fruit"][0][2] = "suture_cm"
    for line in other["fruit"][1:]:
        line[2] = f"{float(line[2]) / 10:.2f}"
    done = bring(store, write_folder(tmp_path / "other", other), "Ada")
    assert (done.number, done.differing) == (0, [])


def test_a_changed_value_stays_out_unless_it_is_said(either, small, tmp_path):
    bring(either, small, "Ada")
    other = tables()
    row(other["fruit"], 3)[6] = "13.9"
    folder = write_folder(tmp_path / "other", other)
    before = typed(either)
    done = bring(either, folder, "Ada")
    assert done.number == 0
    assert "--changes" in done.why
    (said,) = done.differing
    assert said.sentence == (
        "fruit.csv, row 3, ssc_brix: “13.9” differs from what the store has, “13.2” (import 1); correct the one that is wrong."
    )
    assert same(typed(either), before)
    done = bring(either, folder, "Ada", changes=True)
    assert (done.number, done.changed, done.new) == (2, 1, {})
    assert read(either).tables["fruit"]["ssc_brix"].tolist()[:3] == [12.2, 13.9, 14.2]


def test_an_emptied_cell_is_a_change_and_a_filled_one_is_not(store, small, tmp_path):
    bring(store, small, "Ada")
    other = tables()
    row(other["samples"], 3)[8] = ""
    row(other["samples"], 3)[7] = "5"
    done = bring(store, write_folder(tmp_path / "other", other), "Ada")
    assert [(one.row, one.column, one.value) for one in done.differing] == [(3, "note", "")]
    row(other["samples"], 3)[8] = "some bruised"
    done = bring(store, write_folder(tmp_path / "other", other), "Ada")
    assert (done.number, done.filled, done.changed, done.differing) == (2, 1, 1, [])


def test_nothing_comes_in_with_a_fault_unless_it_is_said(store, small, tmp_path):
    bring(store, small, "Ada")
    week = {
        "samples": [*WEEK["samples"], ["S6", "Nobody", "high", "2024-08-02", "1"]],
        "fruit": [
            ["sample", "fruit", "suture_mm"],
            ["S5", "1", "sixty"],
            ["S5", "2", "61"],
            ["S6", "1", "60"],
        ],
    }
    folder = write_folder(tmp_path / "week", week, None)
    done = bring(store, folder, "Ada")
    assert (done.number, len(brought_in(store))) == (0, 1)
    assert "--despite-faults" in done.why
    done = bring(store, folder, "Ada", despite_faults=True)
    assert (done.number, done.new) == (2, {"samples": 1, "fruit": 2})
    assert {one["value"] or one["whole_row"] for one in stayed_out(store, 2)} == {"sixty", "Nobody", "S6"}
    assert "sixty" in {problem.value for problem in read(store).problems}  # it waits there to be corrected
    week["fruit"][1][2] = "60"
    done = bring(
        store, write_folder(tmp_path / "mended", {"fruit": week["fruit"][:3]}, None), "Ada", changes=True
    )
    assert (done.number, done.changed) == (3, 1)


def test_what_holds_for_the_whole_trial_is_kept_and_not_changed_unawares(store, small, tmp_path):
    bring(store, small, "Ada")
    quiet = write_folder(tmp_path / "week", WEEK, None)
    bring(store, quiet, "Ada")
    assert read(store).declaration == read(small).declaration
    (quiet / "datapackage.json").write_text(
        json.dumps({"orchard_slate": {"tip_mm": 11, "seasons": [2026, 2026]}})
    )
    done = bring(store, quiet, "Ada")
    assert [(one.column, one.value) for one in done.differing] == [("tip_mm", "11.0")]
    (quiet / "datapackage.json").write_text(json.dumps({"orchard_slate": {"seasons": [2026, 2026]}}))
    assert bring(store, quiet, "Ada").number == 3
    assert read(store).declaration.seasons == (2023, 2026)
    (quiet / "datapackage.json").write_text(json.dumps({"orchard_slate": {"tip_mm": "about eight"}}))
    done = bring(store, quiet, "Ada", despite_faults=True)
    assert done.number == 0
    assert "declared for the whole trial" in done.why


def test_a_scale_of_the_store_holds_for_what_comes_in(store, tmp_path):
    scaled = {**DECLARED, "ratings": {"shape": {"low": 1, "high": 9, "best": 9}}}
    bring(store, write_folder(tmp_path / "one", tables(), scaled), "Ada")
    week = {
        "samples": [
            ["sample", "cultivar", "site", "date", "shape"],
            ["S5", "Brintel", "high", "2024-08-02", "5"],
        ]
    }
    bring(store, write_folder(tmp_path / "week", week, None), "Ada")
    assert (
        read(store).tables["samples"]["shape"].tolist()[-1] == 5.0
    )  # the middle of 1 to 9 is that of 0 to 10


def test_a_second_writer_is_told_in_one_sentence_and_a_reader_goes_on(either, small, monkeypatch):
    monkeypatch.setattr("dashboard.records.store.opening.WAIT_S", 0.2)
    bring(either, small, "Ada")
    with writing(either):
        with pytest.raises(
            StoreError, match="somebody else is bringing records in; nothing of yours came in"
        ):
            bring(either, small, "Béla")
        assert len(read(either).tables["fruit"]) == 12


def test_two_writers_one_after_the_other_both_come_in(either, small, tmp_path):
    from threading import Thread

    bring(either, small, "Ada")
    folders = [
        write_folder(tmp_path / f"week{number}", {"fruit": [["sample", "fruit", "suture_mm"], ["S1", str(number), "60"]]}, None)
        for number in range(4, 8)
    ]  # fmt: skip
    at_once = [Thread(target=bring, args=(either, folder, folder.name)) for folder in folders]
    for one in at_once:
        one.start()
    for one in at_once:
        one.join()
    assert sorted(one.who for one in brought_in(either)[1:]) == [folder.name for folder in folders]
    fruit = read(either).tables["fruit"]
    assert sorted(fruit[fruit["sample"] == "S1"]["fruit"]) == [1, 2, 3, 4, 5, 6, 7]


def test_a_reader_keeps_the_state_it_began_with(either, small, tmp_path):
    from dashboard.records.store.kept import source_in

    bring(either, small, "Ada")
    with reading(either) as connection:
        before = source_in(connection, "x")
        bring(either, write_folder(tmp_path / "week", WEEK, None), "Ada")
        after = source_in(connection, "x")
    assert before.version == after.version
    assert len(after.sheets["fruit"]) == 12
    assert len(read(either).tables["fruit"]) == 15


def test_a_store_without_cultivars_says_what_is_missing(store, tmp_path):
    bring(store, write_folder(tmp_path / "sites", {"sites": tables()["sites"]}, None), "Ada")
    with pytest.raises(RecordError, match="sheet cultivars: the sheet is not there"):
        read(store)


def test_two_headings_of_one_column_are_refused_in_one_sentence(store, small, tmp_path):
    bring(store, small, "Ada")
    week = {"fruit": [["sample", "fruit", "suture_mm", "suture_in"], ["S4", "5", "60", ""]]}
    done = None
    with pytest.raises(StoreError, match="give each a heading of its own"):
        done = bring(store, write_folder(tmp_path / "week", week, None), "Ada", despite_faults=True)
    assert done is None
    assert len(brought_in(store)) == 1
