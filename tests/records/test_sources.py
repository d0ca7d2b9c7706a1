"""From a path to tables: what is refused, in one sentence each, and what is left out and told."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
import xlsxwriter

from dashboard.records import RecordError, read
from dashboard.records.odd_samples import NO_FRUIT
from dashboard.records.rowless import NO_ROWS
from tests.records.small import DECLARED, tables, told, write_folder, write_workbook


def refusal(path) -> str:
    with pytest.raises(RecordError) as caught:
        read(path)
    assert len(caught.value.problems) == 1
    return caught.value.problems[0].sentence


def test_a_path_that_is_not_there(tmp_path):
    assert "there is no such folder or file" in refusal(tmp_path / "nowhere")


def test_an_empty_folder_says_what_belongs_there(tmp_path):
    assert "put cultivars.csv, sites.csv, samples.csv and fruit.csv there" in refusal(tmp_path)


def test_a_folder_with_only_a_workbook_names_it(tmp_path):
    write_workbook(tmp_path / "book.xlsx", tables())
    assert "name the workbook itself" in refusal(tmp_path)


def test_one_table_of_several_names_its_folder(tmp_path):
    write_folder(tmp_path, tables())
    assert f"name the folder that it lies in, “{tmp_path}”." in refusal(tmp_path / "fruit.csv")


@pytest.mark.parametrize("ending", [".xls", ".xlsm", ".ods"])
def test_other_workbooks_are_to_be_saved_as_xlsx(tmp_path, ending):
    path = tmp_path / f"book{ending}"
    path.write_bytes(b"x")
    assert "save it as .xlsx" in refusal(path)


def test_any_other_file_is_not_a_workbook(tmp_path):
    path = tmp_path / "notes.txt"
    path.write_text("x")
    assert "is not a workbook" in refusal(path)


def test_required_tables_that_are_missing_are_all_named(tmp_path):
    grids = tables()
    del grids["sites"], grids["fruit"]
    with pytest.raises(RecordError) as caught:
        read(write_folder(tmp_path / "folder", grids))
    assert [problem.file for problem in caught.value.problems] == ["sites.csv", "fruit.csv"]
    with pytest.raises(RecordError) as caught:
        read(write_workbook(tmp_path / "book.xlsx", grids))
    assert [problem.sheet for problem in caught.value.problems] == ["sites", "fruit"]


def test_an_empty_required_file_is_told_once(tmp_path):
    write_folder(tmp_path, tables())
    (tmp_path / "fruit.csv").write_bytes(b"")
    assert refusal(tmp_path).startswith("fruit.csv: the file is empty")


def test_an_empty_optional_file_is_told_and_the_rest_loads(tmp_path):
    write_folder(tmp_path, tables())
    (tmp_path / "bloom.csv").write_bytes(b"")
    records = read(tmp_path)
    assert [problem.sentence for problem in records.problems] == [
        "bloom.csv: the file is empty; write the headings and rows, or remove the file."
    ]
    assert len(records.tables["fruit"]) == 12
    assert records.set_aside["file"].tolist() == ["bloom.csv"]


def test_an_unknown_table_is_an_error_with_a_suggestion(tmp_path):
    grids = tables()
    grids["yield"] = [["a"], ["b"]]
    for path in (write_folder(tmp_path / "folder", grids), write_workbook(tmp_path / "book.xlsx", grids)):
        (problem,) = read(path).problems
        assert problem.severity == "error"
        assert "rename it if it is meant to be yields" in problem.sentence


def test_names_of_files_and_sheets_may_be_in_capitals(tmp_path):
    grids = tables()
    grids["Fruit"] = grids.pop("fruit")
    for path in (write_folder(tmp_path / "folder", grids), write_workbook(tmp_path / "book.xlsx", grids)):
        assert len(read(path).tables["fruit"]) == 12


@pytest.mark.alike(3)
@pytest.mark.parametrize(
    ("put", "said"),
    [
        (Path.mkdir, "is a folder, not a file"),
        (lambda path: path.symlink_to("nowhere.csv"), "is a link to a file that is not there"),
        (os.mkfifo, "is a pipe or a device, not a file"),
    ],
    ids=["a folder", "a link that leads nowhere", "a pipe"],
)
@pytest.mark.parametrize("name", ["trees.csv", "datapackage.json"])
def test_what_stands_in_the_place_of_a_file_is_told(tmp_path, name, put, said):
    write_folder(tmp_path, tables(), None if name == "datapackage.json" else DECLARED)
    put(tmp_path / name)
    (problem,) = told(read(tmp_path).problems, severity="error")
    assert problem.sentence.startswith(f"{name}: {said}; nothing was read from it")


@pytest.mark.parametrize("put", [Path.mkdir, lambda path: path.symlink_to("nowhere.csv"), os.mkfifo])
def test_what_stands_in_the_place_of_a_needed_table_is_told_and_not_called_absent(tmp_path, put):
    write_folder(tmp_path, tables())
    (tmp_path / "fruit.csv").unlink()
    put(tmp_path / "fruit.csv")
    assert refusal(tmp_path).startswith("fruit.csv: is a ")


@pytest.mark.alike(3)
@pytest.mark.parametrize("name", ["bloom.xlsx", "share.xlsx", "bloom.tsv", "trees.txt", "old.ods"])
def test_a_table_in_another_kind_of_file_is_told(tmp_path, name):
    write_folder(tmp_path, tables())
    (tmp_path / name).write_bytes(b"x")
    (problem,) = read(tmp_path).problems
    assert (problem.severity, problem.file) == ("error", name)
    assert f"declare “{name}” as not_used" in problem.suggestion


@pytest.mark.alike(3)
@pytest.mark.parametrize("name", ["README.txt", "notes.md", ".trees.csv", "~$bloom.xlsx"])
def test_a_file_that_is_no_table_by_name_is_passed_over(tmp_path, name):
    write_folder(tmp_path, tables())
    (tmp_path / name).write_bytes(b"x")
    assert read(tmp_path).problems == ()


def test_a_needed_table_of_headings_only_is_told(tmp_path):
    grids = tables()
    del grids["fruit"][1:]
    for path in (write_folder(tmp_path / "folder", grids), write_workbook(tmp_path / "book.xlsx", grids)):
        (problem,) = read(path).problems
        assert (problem.severity, problem.rule) == ("flag", "has headings and no rows")


def test_another_table_of_the_same_name_is_told_and_its_cells_are_counted(tmp_path):
    folder = write_folder(tmp_path, tables())
    (folder / "Bloom.CSV").write_text("cultivar,site,year\nAlvane,low,2024\n", encoding="utf-8")
    records = read(folder)
    assert "is a second table of bloom" in told(records.problems, severity="error")[0].rule
    assert sum(account.aside for account in records.accounts.values()) in (3, 4)  # whichever was read first


def test_an_item_that_stands_twice_on_the_sheet_about_is_told(tmp_path):
    path = tmp_path / "book.xlsx"
    with xlsxwriter.Workbook(path) as book:
        about = book.add_worksheet("about")
        for line, item in enumerate([("item", "value"), ("title", "One"), ("Tip mm", 8), ("tip_mm", 11)]):
            about.write_row(line, 0, item)
        for name, grid in tables().items():
            sheet = book.add_worksheet(name)
            for line, cells in enumerate(grid):
                sheet.write_row(line, 0, cells)
    records = read(path)
    (problem,) = records.problems
    assert (problem.severity, problem.row, problem.column, problem.value) == ("error", 4, "tip_mm", "11")
    assert records.declaration.tip_mm == 8


@pytest.mark.alike(3)
@pytest.mark.parametrize(
    "content", [b"{", b"[]", b"\xff\xfe", b'{"orchard_slate": 5}', b'{"orchard_slate": []}', b"[" * 100_000]
)
def test_a_declaration_that_cannot_be_read_is_told_and_the_records_load(tmp_path, content):
    write_folder(tmp_path, tables())
    (tmp_path / "datapackage.json").write_bytes(content)
    records = read(tmp_path)
    assert any(problem.file == "datapackage.json" for problem in records.problems)
    assert len(records.tables["fruit"]) == 12


def test_a_trial_of_means_alone_has_no_fruit_and_each_sample_without_means_is_told(tmp_path):
    grids = tables()
    del grids["fruit"][1:]
    grids["means"] = [
        ["sample", "n", "size_mm", "size_sd_mm"],
        ["S1", "9", "61", "2"],
        ["S2", "9", "62", "3"],
    ]
    problems = read(write_folder(tmp_path, grids)).problems
    assert NO_ROWS not in [problem.rule for problem in problems]
    assert {problem.value for problem in problems if problem.rule == NO_FRUIT} == {"S3", "S4"}
