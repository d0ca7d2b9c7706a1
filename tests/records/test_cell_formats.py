"""Cells of a workbook that show something else than they hold."""

from __future__ import annotations

import zipfile

import pytest
import xlsxwriter

from dashboard.records import read
from dashboard.records.report import check
from tests.records.small import DECLARED, tables, told

ABOUT = {name: value for name, value in DECLARED.items() if name != "seasons"}


def book(path, fill):
    """The small trial as a workbook, in which ``fill`` writes some cells anew: (sheet of samples, sheet of fruit, book)."""
    with xlsxwriter.Workbook(path, {"strings_to_numbers": True}) as made:
        about = made.add_worksheet("about")
        for line, item in enumerate([("item", "value"), *ABOUT.items()]):
            about.write_row(line, 0, item)
        sheets = {}
        for name, grid in tables().items():
            sheets[name] = made.add_worksheet(name)
            for line, cells in enumerate(grid):
                sheets[name].write_row(line, 0, cells)
        fill(sheets["samples"], sheets["fruit"], made)
    return path


def without_results(path, result: bytes = b"0"):
    """As programs write it that work nothing out: formulas with no value beside them."""
    with zipfile.ZipFile(path) as packed:
        members = {name: packed.read(name) for name in packed.namelist()}
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in members.items():
            packed.writestr(name, content.replace(b"</f><v>" + result + b"</v>", b"</f><v></v>"))
    return path


@pytest.mark.parametrize("form", ["0%", "0.00%", '0.0" "%'])
def test_a_cell_formatted_as_per_cent_is_told_and_not_read_as_its_part_of_1(tmp_path, form):
    def fill(samples, _fruit, made):
        samples.write_number(1, 7, 0.3, made.add_format({"num_format": form}))

    records = read(book(tmp_path / "book.xlsx", fill))
    (problem,) = records.problems
    assert (problem.severity, problem.sheet, problem.row, problem.column, problem.value) == ("error", "samples", 2, "split_pit_pct", "30%")  # fmt: skip
    assert "write 30 as a plain number" in problem.suggestion
    assert records.tables["samples"]["split_pit_pct"].isna()[0]


def test_a_rating_formatted_as_per_cent_is_told(tmp_path):
    def fill(samples, _fruit, made):
        samples.write_number(1, 5, 0.7, made.add_format({"num_format": "0%"}))

    (problem,) = read(book(tmp_path / "book.xlsx", fill)).problems
    assert (problem.column, problem.value) == ("shape", "70%")
    assert problem.rule == "is a per cent, and the column is not"


def test_a_format_with_a_quoted_sign_is_none(tmp_path):
    def fill(samples, _fruit, made):
        samples.write_number(1, 7, 30, made.add_format({"num_format": '0" %"'}))

    assert read(book(tmp_path / "book.xlsx", fill)).problems == ()


def test_a_formula_without_a_stored_result_is_told_with_its_place_and_counted(tmp_path):
    def fill(samples, fruit, _made):
        fruit.write_formula(1, 2, "=D2-1")
        fruit.write_formula(12, 6, "=G12+1")  # the last cell of the sheet
        samples.write_formula(1, 3, "=DATE(2023,7,1)")

    path = without_results(book(tmp_path / "book.xlsx", fill))
    records = read(path)
    found = told(records.problems, severity="error")
    assert [(p.sheet, p.row, p.column, p.value) for p in found] == [
        ("samples", 2, "date", "=DATE(2023,7,1)"),
        ("fruit", 2, "suture_mm", "=D2-1"),
        ("fruit", 2, "sample", "S1"),  # its fruit go with the sample
        ("fruit", 13, "ssc_brix", "=G12+1"),
    ]
    assert records.tables["fruit"]["ssc_brix"].isna().sum() == 1
    assert "; 150 filled cells: " in check(path)[0].splitlines()[-1]


def test_formulas_with_results_are_read_and_told_once_a_sheet_with_the_first(tmp_path):
    def fill(_samples, fruit, _made):
        fruit.write_formula(1, 2, "=61+0.5", None, 61.5)
        fruit.write_formula(2, 2, "=61+1.5", None, 62.5)

    (problem,) = read(book(tmp_path / "book.xlsx", fill)).problems
    assert (problem.severity, problem.sheet) == ("flag", "fruit")
    assert "2 cells hold formulas, the first in C2" in problem.rule


def test_a_formula_whose_result_is_an_empty_text_is_an_empty_cell(tmp_path):
    def fill(samples, _fruit, _made):
        samples.write_formula(1, 8, '=IF(1,"","x")', None, "gone")

    records = read(without_results(book(tmp_path / "book.xlsx", fill), b"gone"))
    assert [problem.severity for problem in records.problems] == ["flag"]
    assert records.tables["samples"]["note"].isna()[0]
