"""What a workbook may be, and what it may not."""

from __future__ import annotations

import io
import os
import zipfile
from datetime import date, datetime

import pytest
import xlsxwriter

from dashboard.records.sheets import MAX_BYTES
from dashboard.records.workbooks import read_grids


def written(tmp_path, fill):
    path = tmp_path / "book.xlsx"
    with xlsxwriter.Workbook(path) as book:
        fill(book)
    return path


def packed(tmp_path, members: dict[str, bytes]):
    path = tmp_path / "book.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as file:
        for name, content in members.items():
            file.writestr(name, content)
    return path


def test_cells_come_out_as_a_person_would_write_them(tmp_path):
    def fill(book):
        sheet = book.add_worksheet("samples")
        day = book.add_format({"num_format": "yyyy-mm-dd"})
        for place, value in enumerate((12, 12.5, 0.1, -3, 1e20)):
            sheet.write_number(0, place, value)
        sheet.write_string(1, 0, "=cmd")
        sheet.write_boolean(1, 1, True)
        sheet.write_boolean(1, 2, False)
        sheet.write_datetime(1, 3, date(2024, 7, 3), day)
        sheet.write_datetime(1, 4, datetime(2024, 7, 3, 14, 30), day)

    grids, problems, _ = read_grids(written(tmp_path, fill))
    assert problems == []
    assert grids["samples"] == [
        ["12", "12.5", "0.1", "-3", "1e+20"],
        ["=cmd", "yes", "no", "2024-07-03", "2024-07-03 14:30:00"],
    ]


def test_rows_before_the_first_filled_one_are_counted(tmp_path):
    grids, _, _ = read_grids(
        written(tmp_path, lambda book: book.add_worksheet("fruit").write_string(2, 1, "x"))
    )
    assert grids["fruit"] == [["", ""], ["", ""], ["", "x"]]


def test_formulas_are_read_as_their_last_result_and_told(tmp_path):
    def fill(book):
        book.add_worksheet("fruit").write_formula(0, 0, "=1+1", None, 2)

    grids, problems, _ = read_grids(written(tmp_path, fill))
    assert grids["fruit"] == [["2"]]
    assert [(problem.severity, "formulas" in problem.rule) for problem in problems] == [("flag", True)]


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "the file is empty"),
        (b"sample,note\n", "is not a workbook"),
        (b"\xd0\xcf\x11\xe0" + bytes(600), "is an old workbook (.xls) or has a password"),
        (b"PK\x03\x04" + b"x" * 200, "is not a workbook"),
    ],
)
def test_a_file_that_is_something_else_gets_one_sentence(tmp_path, content, said):
    path = tmp_path / "book.xlsx"
    path.write_bytes(content)
    grids, problems, _ = read_grids(path)
    assert grids == {}
    assert len(problems) == 1
    assert said in problems[0].sentence


def test_another_zip_file_is_not_a_workbook(tmp_path):
    _, problems, _ = read_grids(packed(tmp_path, {"readme.txt": b"hello"}))
    assert "is not a workbook" in problems[0].sentence


@pytest.mark.parametrize("encoding", ["UTF-2", "big5", "x\u20ac"])
def test_a_part_in_an_encoding_that_is_not_read_is_told(encoding, tmp_path):
    content = f'<?xml version="1.0" encoding="{encoding}"?><workbook/>'.encode()
    _, problems, _ = read_grids(packed(tmp_path, {"xl/workbook.xml": content}))
    assert [problem.rule for problem in problems] == [
        "the file ends in .xlsx but is not a workbook, or is damaged"
    ]


def test_macros_are_refused(tmp_path):
    _, problems, _ = read_grids(
        packed(tmp_path, {"xl/workbook.xml": b"<workbook/>", "xl/vbaProject.bin": b"x"})
    )
    assert "holds macros" in problems[0].sentence


def test_a_workbook_that_unpacks_to_far_more_is_refused_unopened(tmp_path):
    path = packed(
        tmp_path, {"xl/workbook.xml": b"<workbook/>", "xl/worksheets/sheet1.xml": bytes(50_000_000)}
    )
    assert path.stat().st_size < 200_000
    _, problems, _ = read_grids(path)
    assert "unpacks to 50 MB" in problems[0].sentence


def test_a_member_that_lies_about_its_size_is_refused(tmp_path):
    path = packed(tmp_path, {"xl/workbook.xml": b"<workbook/>", "xl/worksheets/sheet1.xml": b"x" * 5000})
    raw = path.read_bytes().replace((5000).to_bytes(4, "little"), (50).to_bytes(4, "little"))
    path.write_bytes(raw)
    grids, problems, _ = read_grids(path)
    assert (grids, len(problems)) == ({}, 1)


def test_a_cell_at_the_far_corner_does_not_fill_the_memory(tmp_path):
    def fill(book):
        sheet = book.add_worksheet("fruit")
        sheet.write_string(0, 0, "sample")
        sheet.write_string(1_048_575, 16_383, "x")

    grids, problems, _ = read_grids(written(tmp_path, fill))
    assert grids == {}
    assert "cells far away from its table" in problems[0].sentence


def test_a_damaged_workbook_gets_one_sentence(tmp_path):
    whole = io.BytesIO()
    with xlsxwriter.Workbook(whole) as book:
        book.add_worksheet("fruit").write_string(0, 0, "sample")
    raw = bytearray(whole.getvalue())
    path = tmp_path / "book.xlsx"
    for place in range(0, len(raw), max(1, len(raw) // 60)):
        damaged = bytearray(raw)
        damaged[place] ^= 0xFF
        path.write_bytes(damaged)
        grids, problems, _ = read_grids(path)
        assert grids or len(problems) == 1


def test_a_file_too_large_is_refused_without_reading_it(tmp_path):
    path = tmp_path / "book.xlsx"
    path.touch()
    os.truncate(path, MAX_BYTES + 1)
    _, problems, raw = read_grids(path)
    assert raw == b""
    assert "more than the 200 MB" in problems[0].sentence
