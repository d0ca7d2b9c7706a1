"""A .csv file read as rows of text, or one sentence on why it cannot be."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from pathlib import Path

from dashboard.records.problems import Problem
from dashboard.records.sheets import MAX_BYTES, Sheet, sheet_of

Torn = tuple[int, tuple[str, ...]]  # the number of a row, and its cells as far as they can be told

# First bytes of files that are something else, whatever their name ends in.
_SIGNATURES = (
    (b"PK\x03\x04", "a zip file or workbook", "save the sheet as CSV (UTF-8)"),
    (b"\xd0\xcf\x11\xe0", "an old workbook (.xls)", "save the sheet as CSV (UTF-8)"),
    (b"%PDF", "a PDF", "save the table as CSV (UTF-8)"),
    (b"\x89PNG", "a picture", "put the table there instead"),
    (b"\xff\xd8\xff", "a picture", "put the table there instead"),
    (b"\x1f\x8b", "a compressed file", "unpack it first"),
    (b"\xff\xfe", "text in UTF-16, not UTF-8", "save it as CSV UTF-8"),
    (b"\xfe\xff", "text in UTF-16, not UTF-8", "save it as CSV UTF-8"),
)


def read_csv(path: Path, table: str) -> tuple[Sheet | None, list[Problem], bytes]:
    """The sheet (None when the file is refused), what was wrong, and the bytes read.

    UTF-8 with or without a byte-order mark; comma, semicolon or tab between cells, told from the headings.
    A row's number is the one a spreadsheet shows: a cell of several lines counts as one row.
    """

    def refused(rule: str, suggestion: str) -> tuple[None, list[Problem], bytes]:
        return None, [Problem("error", path.name, rule=rule, suggestion=suggestion)], raw

    raw = b""
    size = path.stat().st_size
    if size > MAX_BYTES:
        return refused(
            f"the file has {size / 1e6:,.0f} MB, more than the {MAX_BYTES / 1e6:.0f} MB that are read",
            "split the records by season",
        )
    raw = path.read_bytes()
    if not raw.strip():
        return refused("the file is empty", "write the headings and rows, or remove the file")
    for start, what, suggestion in _SIGNATURES:
        if raw.startswith(start):
            return refused(f"the file ends in .csv but is {what}", suggestion)
    if raw.count(b"\0") > len(raw) // 20:
        return refused("the file ends in .csv but is not text", "save the table as CSV (UTF-8)")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        return refused(
            f"the text is not UTF-8 (line {line} has the byte {raw[error.start]:#04x})",
            "save it as CSV UTF-8",
        )
    grid, numbers, faults, torn = _grid(text, path.name)
    return replace(sheet_of(table, path.name, "", grid, numbers), torn=tuple(torn)), faults, raw


def _grid(text: str, file: str) -> tuple[list[list[str]], list[int], list[Problem], list[Torn]]:
    """Rows of cells, their numbers, and the rows that could not be taken apart with what is wrong with each."""
    first = text.split("\n", 1)[0]
    delimiter = max(",;\t", key=first.count)
    grid: list[list[str]] = []
    faults: list[Problem] = []
    torn: list[Torn] = []
    try:
        grid = list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True))
        numbers = list(range(1, len(grid) + 1))
        width = len(grid[0])
        unclosed = any(len(row) != width and any("\n" in cell for cell in row) for row in grid)
    except csv.Error:
        unclosed = True
    if unclosed:  # a lone quotation mark would swallow the rows after it: take line by line instead
        grid, numbers, faults, torn = _line_by_line(text, delimiter, file)
    return _fitted(grid, numbers, faults, torn, file)


def _line_by_line(
    text: str, delimiter: str, file: str
) -> tuple[list[list[str]], list[int], list[Problem], list[Torn]]:
    grid: list[list[str]] = []
    numbers: list[int] = []
    faults: list[Problem] = []
    torn: list[Torn] = []
    for number, line in enumerate(text.splitlines(), 1):
        try:
            grid.extend(list(csv.reader([line], delimiter=delimiter, strict=True)) or [[]])
            numbers.append(number)
        except csv.Error:
            faults.append(
                Problem("error", file, row=number, value=line, rule="has a quotation mark that is not closed; the row is set aside",
                        suggestion='write the mark twice ("") inside a quoted cell, or take it out')
            )  # fmt: skip
            torn.append((number, _bare(line.split(delimiter))))
    return grid, numbers, faults, torn


def _fitted(
    grid: list[list[str]], numbers: list[int], faults: list[Problem], torn: list[Torn], file: str
) -> tuple[list[list[str]], list[int], list[Problem], list[Torn]]:
    """Rows with more filled cells than headings are set aside: their cells may stand under the wrong heading.

    Rows that end before the last heading are read, and told: a file may have been cut short in them.
    """
    width = len(grid[0]) if grid else 0
    kept: list[list[str]] = []
    rows: list[int] = []
    for row, number in zip(grid, numbers, strict=True):
        if len(row) > width and any(cell.strip() for cell in row[width:]):
            faults.append(
                Problem("error", file, row=number, value=", ".join(row), rule=f"has {len(row)} cells under {width} headings; the row is set aside",
                        suggestion='put a cell that holds a comma between quotation marks (")')
            )  # fmt: skip
            torn.append((number, _bare(row)))
        else:
            if 0 < len(row) < width and any(cell.strip() for cell in row):
                faults.append(
                    Problem("flag", file, row=number, value=", ".join(row), rule=f"has {len(row)} cells under {width} headings; those that are not there are taken as empty",
                            suggestion="look whether the row was cut short")
                )  # fmt: skip
            kept.append(row)
            rows.append(number)
    return kept, rows, faults, torn


def _bare(cells: list[str]) -> tuple[str, ...]:
    return tuple(cell.strip(' \t"') for cell in cells)
