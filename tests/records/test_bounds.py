"""What is refused costs a sentence: what a file may ask for is looked at before a single cell is made of it.

Each file lies in a process of its own, whose own seconds and memory are measured. One that was taken apart first took from
20 seconds and 4 GB to all that the machine has.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from dashboard.records import RecordError, read
from dashboard.records.sheets import MAX_BEYOND, MAX_COLUMNS, WIDE, too_wide
from tests.records.small import tables, write_folder, write_workbook

SECONDS, MEGABYTES = 10, 500
MEASURED = """
import json, resource, sys
from dashboard.records.report import check
text, code = check(sys.argv[1])
used = resource.getrusage(resource.RUSAGE_SELF)
peak = next(int(line.split()[1]) for line in open("/proc/self/status") if line.startswith("VmHWM"))
print(json.dumps([code, text.splitlines(), used.ru_utime + used.ru_stime, peak / 1024]))
"""


def refused(path: Path) -> list[str]:
    """The lines ``check`` writes, in bounds of time and memory."""
    done = subprocess.run([sys.executable, "-c", MEASURED, str(path)], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    code, lines, seconds, megabytes = json.loads(done.stdout)
    assert code == 1
    assert seconds <= SECONDS
    assert megabytes <= MEGABYTES
    return lines[1:] if lines[0].startswith("to mend") else lines


FILES = {
    "columns": (lambda: b"sample,fruit" + b",x" * 5000 + b"\n" + (b"S1,1" + b",2" * 5000 + b"\n") * 8000, "the table has 5,002 columns"),
    "line breaks in quotation marks": (lambda: b"sample,fruit\n" + b'"\n\n\n"\n' * 4_000_000, "more than the 10,000,000"),
    "one cell of line breaks": (lambda: b'sample,fruit\n"' + b"\n" * 400_000 + b'"\n', "has a quotation mark that is not closed"),
    "one line": (lambda: b"sample,fruit " + b"S1,1,60.5,61.5 " * 100_000, "line 1 has more than 1,000,000 characters"),
    "empty cells": (lambda: b"sample,fruit\n" + (b"," * 99_999 + b"\n") * 900, "more than the 10,000,000 and 50,000,000"),
    "not UTF-8 at its end": (lambda: b"sample,fruit\n" + b"S1,1\n" * 9_000_000 + b"\xe9", "(line 9000002 has the byte 0xe9)"),
}  # fmt: skip


@pytest.mark.alike(3)
@pytest.mark.parametrize("name", FILES)
def test_a_comma_file_that_asks_for_too_much(name, tmp_path):
    content, told = FILES[name]
    folder = write_folder(tmp_path, tables())
    (folder / "fruit.csv").write_bytes(content())
    lines = refused(folder)
    assert told in lines[0]
    assert lines[0].startswith("error  fruit.csv")


MAIN = b'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
SHEET, STRINGS = "xl/worksheets/sheet5.xml", "xl/sharedStrings.xml"


def after(rows: bytes):
    return lambda content: content.replace(b"</sheetData>", rows + b"</sheetData>")


def one_text_in_many_cells(content: bytes) -> bytes:
    cells = b"".join(
        b"<row r='%d'><c r='A%d' t='s'><v>0</v></c></row>" % (row, row) for row in range(100, 4100)
    )
    return after(cells)(content)


BOOKS = {
    "far cell": ({SHEET: after(b'<row r="1000000"><c r="Z1000000"><v>1</v></c></row>')}, "the sheet fruit has cells far away"),
    "far cell in single quotes": ({SHEET: after(b"<row r='1048576'><c r='XFD1048576'><v>1</v></c></row>")}, "the sheet fruit has cells far away"),
    "far cell spelled out": ({SHEET: after(b"<row><c r='&#88;FD1048576'><v>1</v></c></row>")}, "the sheet fruit has cells far away"),
    "far cell without its place": ({SHEET: after(b"<row r='1048576'>" + b"<c/>" * 16_000 + b"<c><v>1</v></c></row>")}, "the sheet fruit has cells far away"),
    "far formula without a value": ({SHEET: after(b"<row r='1048576'><c r='XFD1048576'><f>1+1</f></c></row>")}, "the sheet fruit has cells far away"),
    "shared strings": ({STRINGS: lambda _: b"<sst " + MAIN + b">" + b"<si/>" * 2_500_000 + b"</sst>"}, "more texts than are read"),
    "a text used over and over": ({STRINGS: lambda content: content.replace(b"<t>", b"<t>" + b"x" * 32_000, 1), SHEET: one_text_in_many_cells}, "more than 50,000,000 characters"),
    "a text too long": ({STRINGS: lambda content: content.replace(b"<t>", b"<t>" + b"x" * 32_768, 1)}, "a cell has more than 32,767 characters"),
    "a document type": ({SHEET: lambda content: content.replace(b"<worksheet", b"<!DOCTYPE x><worksheet", 1)}, "is not a workbook, or is damaged"),
}  # fmt: skip


@pytest.mark.alike(3)
@pytest.mark.parametrize("name", BOOKS)
def test_a_workbook_that_asks_for_too_much(name, tmp_path):
    changes, told = BOOKS[name]
    sound = write_workbook(tmp_path / "sound.xlsx", tables())
    book = tmp_path / "book.xlsx"
    with zipfile.ZipFile(sound) as before, zipfile.ZipFile(book, "w") as packed:
        assert set(changes) <= set(before.namelist())
        for part in before.namelist():
            content = before.read(part)
            changed = changes[part](content) if part in changes else content
            assert part not in changes or changed != content
            packed.writestr(part, changed)
    lines = refused(book)
    assert told in lines[0]
    assert lines[1:] == ["1 error, 0 flags; nothing loaded"]


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b'{"orchard_slate": [' + b"1," * 3_000_000 + b"1]}", "it has more than 1 MB"),
        (b'{"a":' * 90_000, "stand in each other 20 times"),
        (b'{"orchard_slate": {"ratings": ' + b"[" * 900 + b"]" * 900 + b"}}", "stand in each other 20 times"),
    ],
    ids=["large", "deep", "deep and whole"],
)
def test_a_declaration_that_asks_for_too_much(content, told, tmp_path):
    folder = write_folder(tmp_path, tables())
    (folder / "datapackage.json").write_bytes(content)
    said = [problem.sentence for problem in read(folder).problems if problem.severity == "error"]
    assert len(said) == 1
    assert said[0].startswith("datapackage.json: cannot be read (")
    assert told in said[0]


def test_a_file_of_a_byte_order_mark_alone_is_empty(tmp_path):
    folder = write_folder(tmp_path, tables())
    (folder / "fruit.csv").write_bytes(b"\xef\xbb\xbf")
    assert "fruit.csv: the file is empty" in refusal(folder)


def test_rows_that_stand_in_the_line_of_the_headings_are_told(tmp_path):
    folder = write_folder(tmp_path, tables())
    lines = (folder / "fruit.csv").read_text().splitlines()
    (folder / "fruit.csv").write_text(",".join(lines[:4]))
    said = [problem.sentence for problem in read(folder).problems if problem.severity == "error"]
    assert any("“1” stands among the headings and no row stands below them" in sentence for sentence in said)


def refusal(path: Path) -> str:
    with pytest.raises(RecordError) as caught:
        read(path)
    assert len(caught.value.problems) == 1
    return caught.value.problems[0].sentence


def test_a_workbook_that_vanishes_or_may_not_be_read_is_told(tmp_path, monkeypatch):
    book = write_workbook(tmp_path / "book.xlsx", tables())
    real = Path.open

    def forbidden(path, *how, **more):
        if path == book:
            raise PermissionError(13, "Permission denied")
        return real(path, *how, **more)

    monkeypatch.setattr(Path, "open", forbidden)
    assert "book.xlsx: the file cannot be opened (Permission denied)" in refusal(book)
    monkeypatch.setattr(Path, "is_file", lambda path: True)
    assert "cannot be opened (No such file" in refusal(tmp_path / "gone.xlsx")


def test_a_folder_that_may_not_be_read_is_told(tmp_path, monkeypatch):
    def forbidden(path):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "iterdir", forbidden)
    assert f"{tmp_path}: cannot be opened (Permission denied)" in refusal(tmp_path)


def test_a_path_longer_than_there_are_is_told():
    assert "cannot be opened (File name too long)" in refusal(Path("x" * 5000))


@pytest.mark.parametrize("kind", ["folder", "link to nothing", "pipe", "device"])
@pytest.mark.parametrize("table", ["bloom", "weather", "fruit"])
def test_what_stands_in_the_place_of_a_table_is_told(kind, table, tmp_path):
    folder = write_folder(tmp_path, tables())
    file = folder / f"{table}.csv"
    file.unlink()
    if kind == "folder":
        file.mkdir()
    elif kind == "pipe":
        os.mkfifo(file)
    else:
        file.symlink_to("nowhere" if kind == "link to nothing" else "/dev/zero")
    if table == "fruit":
        assert refusal(folder).startswith("fruit.csv: is ")
    else:
        said = [problem.sentence for problem in read(folder).problems]
        assert len(said) == 1
        assert said[0].startswith(f"{table}.csv: is ")


def test_a_pipe_as_the_records_is_told(tmp_path):
    os.mkfifo(tmp_path / "records")
    assert "is neither a folder nor a file" in refusal(tmp_path / "records")


def test_a_long_table_may_not_be_wide_and_a_short_one_may():
    assert too_wide(WIDE, 10_000_000) is None
    assert too_wide(MAX_COLUMNS, MAX_BEYOND // (MAX_COLUMNS - WIDE)) is None
    assert too_wide(MAX_COLUMNS, MAX_BEYOND) is not None
    assert too_wide(MAX_COLUMNS + 1, 1) is not None


def test_of_very_many_torn_rows_a_thousand_get_a_line_and_the_rest_one(tmp_path):
    grids = tables()
    folder = write_folder(tmp_path, grids)
    whole = (folder / "fruit.csv").read_text()
    (folder / "fruit.csv").write_text(whole + "S1,9,60,60,40,40,11,x\n" * 1500)
    records = read(folder)
    errors = [problem for problem in records.problems if problem.severity == "error"]
    assert len(errors) == 1001
    assert (
        "500 more rows are set aside, for the same reasons as the 1,000 above (rows 1014, 1015"
        in errors[-1].sentence
    )
    assert len(records.tables["fruit"]) == 12
    assert records.rows_written["fruit"] == 1512
