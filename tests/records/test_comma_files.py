"""What a .csv may be, and what it may not."""

from __future__ import annotations

import os
import random

import pytest

from dashboard.records.comma_files import not_text, read_csv
from dashboard.records.sheets import MAX_BYTES

PLAIN = "sample,note\nS1,good\nS2,\n"


def opened(tmp_path, content: str | bytes):
    path = tmp_path / "samples.csv"
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    sheet, problems, _ = read_csv(path, "samples")
    return sheet, problems


def rows(sheet) -> list[list[str]]:
    return [list(row) for row in zip(*sheet.cells, strict=True)]


@pytest.mark.parametrize(
    "content",
    [
        PLAIN,
        "\ufeff" + PLAIN,
        PLAIN.replace("\n", "\r\n"),
        PLAIN.replace("\n", "\r"),
        PLAIN.replace(",", ";"),
        PLAIN.replace(",", "\t"),
        PLAIN.replace("S1", '"S1"'),
        PLAIN.rstrip("\n"),
        PLAIN.replace("good", " good "),
        PLAIN + "\n\n,\n",
    ],
    ids=["plain", "byte-order mark", "CRLF", "CR", "semicolons", "tabs", "quoted", "no last line end", "spaces", "empty rows"],
)  # fmt: skip
def test_the_ways_programs_write_a_table_read_the_same(tmp_path, content):
    sheet, problems = opened(tmp_path, content)
    assert problems == []
    assert sheet.headings == ("sample", "note")
    assert rows(sheet) == [["S1", "good"], ["S2", ""]]
    assert sheet.rows.tolist() == [2, 3]


def test_row_numbers_count_empty_rows_and_take_a_cell_of_two_lines_as_one(tmp_path):
    sheet, _ = opened(tmp_path, 'sample,note\n\nS1,"two\nlines"\nS2,x\n')
    assert sheet.rows.tolist() == [3, 4]


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "the file is empty"),
        (b" \r\n\n", "the file is empty"),
        (b"PK\x03\x04" + b"x" * 50, "is a zip file or workbook"),
        (b"\xd0\xcf\x11\xe0" + b"x" * 50, "is an old workbook"),
        (b"%PDF-1.7", "is a PDF"),
        (b"\x89PNG\r\n", "is a picture"),
        ("sample,note\nS1,x\n".encode("utf-16"), "UTF-16"),
        ("sample,note\nS1,x\n".encode("utf-16-le"), "is not text"),
        (bytes(1000), "is not text"),
        (
            random.Random(1).randbytes(3000),
            "open it in the program that made it, or take it out of the folder",
        ),
        ("sample,note\nS1,gel\xe9e\n".encode("latin-1"), "not UTF-8 (line 2 has the byte 0xe9)"),
    ],
)
def test_a_file_that_is_something_else_gets_one_sentence(tmp_path, content, said):
    sheet, problems = opened(tmp_path, content)
    assert sheet is None
    assert len(problems) == 1
    assert said in problems[0].sentence
    assert problems[0].severity == "error"
    assert problems[0].suggestion


@pytest.mark.parametrize("encoding", ["windows-1252", "windows-1250", "mac-roman", "shift-jis", "iso2022-jp"])
def test_real_text_is_told_apart_from_bytes_by_chance(encoding):
    letters = "桃、ネクタリン" if encoding in ("shift-jis", "iso2022-jp") else "é, ü, ö"
    assert not not_text(f"sample,note\r\nS1,{letters}\r\n".encode(encoding))
    chance = random.Random(2)
    assert all(not_text(chance.randbytes(size)) for size in (500, 3000, 100_000) for _ in range(20))


def test_a_file_too_large_is_refused_without_reading_it(tmp_path):
    path = tmp_path / "fruit.csv"
    path.touch()
    os.truncate(path, MAX_BYTES + 1)  # takes no room on the disk
    sheet, problems, raw = read_csv(path, "fruit")
    assert (sheet, raw) == (None, b"")
    assert "more than the 200 MB" in problems[0].sentence


@pytest.mark.parametrize("mark", ['S2,"open', 'S2,"a"b', '"S2,x'])
def test_a_lone_quotation_mark_costs_its_own_row_only(tmp_path, mark):
    sheet, problems = opened(tmp_path, f"sample,note\nS1,x\n{mark}\nS3,y\nS4,z\n")
    assert [row[0] for row in rows(sheet)] == ["S1", "S3", "S4"]
    assert [(problem.row, problem.value) for problem in problems] == [(3, mark)]
    assert [number for number, _ in sheet.torn] == [3]


def test_two_lone_marks_do_not_swallow_the_rows_between(tmp_path):
    sheet, problems = opened(tmp_path, 'sample,note\n"S1,x\nS2,y\nS3,z"\nS4,z\n')
    assert rows(sheet) == [["S2", "y"], ["S3", 'z"'], ["S4", "z"]]
    assert [problem.row for problem in problems] == [2]


def test_a_row_with_more_cells_than_headings_is_set_aside(tmp_path):
    sheet, problems = opened(tmp_path, "sample,note\nS1,soft, bruised\nS2,x,,\n")
    assert rows(sheet) == [["S2", "x"]]
    assert problems[0].row == 2
    assert "3 cells under 2 headings" in problems[0].sentence


def test_a_short_row_is_filled_with_empty_cells_and_told(tmp_path):
    sheet, problems = opened(tmp_path, "sample,note\nS1\n")
    assert rows(sheet) == [["S1", ""]]
    assert [(problem.severity, problem.row) for problem in problems] == [("flag", 2)]
    assert "has 1 cells under 2 headings" in problems[0].rule
