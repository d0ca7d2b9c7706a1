"""From a path to tables: what is refused, in one sentence each, and what is left out and told."""

from __future__ import annotations

import pytest

from dashboard.records import RecordError, read
from tests.records.small import tables, write_folder, write_workbook


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
    assert f"name the folder it lies in: {tmp_path}" in refusal(tmp_path / "fruit.csv")


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


def test_an_unknown_table_is_left_out_with_a_suggestion(tmp_path):
    grids = tables()
    grids["yield"] = [["a"], ["b"]]
    for path in (write_folder(tmp_path / "folder", grids), write_workbook(tmp_path / "book.xlsx", grids)):
        (problem,) = read(path).problems
        assert problem.severity == "flag"
        assert "rename it if it is meant to be yields" in problem.sentence


def test_names_of_files_and_sheets_may_be_in_capitals(tmp_path):
    grids = tables()
    grids["Fruit"] = grids.pop("fruit")
    for path in (write_folder(tmp_path / "folder", grids), write_workbook(tmp_path / "book.xlsx", grids)):
        assert len(read(path).tables["fruit"]) == 12


def test_a_folder_named_like_a_table_is_not_read(tmp_path):
    write_folder(tmp_path, tables())
    (tmp_path / "trees.csv").mkdir()
    assert read(tmp_path).tables["trees"].empty


@pytest.mark.parametrize(
    "content", [b"{", b"[]", b"\xff\xfe", b'{"orchard_slate": 5}', b'{"orchard_slate": []}', b"[" * 100_000]
)
def test_a_declaration_that_cannot_be_read_is_told_and_the_records_load(tmp_path, content):
    write_folder(tmp_path, tables())
    (tmp_path / "datapackage.json").write_bytes(content)
    records = read(tmp_path)
    assert any(problem.file == "datapackage.json" for problem in records.problems)
    assert len(records.tables["fruit"]) == 12
