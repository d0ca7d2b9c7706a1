"""A .csv file read as rows of text, or one sentence on why it cannot be.

What it may hold is looked at in its bytes, before a single cell is made of them: a file that asks for more costs
little more than its own size.
"""

from __future__ import annotations

import codecs
import hashlib
import io
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from dashboard.records.problems import Problem
from dashboard.records.sheets import MAX_BYTES, Sheet, sheet_of, too_wide
from dashboard.records.taken_apart import DELIMITERS, first_row, taken_apart

LONGEST_LINE = 1_000_000  # characters
MAX_ROWS = 10_000_000
MAX_CELLS = 50_000_000  # seven million fruit

# First bytes of files that are something else, whatever their name ends in.
SIGNATURES = (
    (b"PK\x03\x04", "a zip file or workbook", "save the sheet as CSV (UTF-8)"),
    (b"\xd0\xcf\x11\xe0", "an old workbook (.xls)", "save the sheet as CSV (UTF-8)"),
    (b"%PDF", "a PDF", "save the table as CSV (UTF-8)"),
    (b"\x89PNG", "a picture", "put the table there instead"),
    (b"\xff\xd8\xff", "a picture", "put the table there instead"),
    (b"\x1f\x8b", "a compressed file", "unpack it first"),
    (b"\xff\xfe", "text in UTF-16, not UTF-8", "save it as CSV UTF-8"),
    (b"\xfe\xff", "text in UTF-16, not UTF-8", "save it as CSV UTF-8"),
)

Refusal = tuple[str, str]  # rule and suggestion

NOT_TEXT = (
    "the file is not text: it is damaged, or another kind of file under this name",
    "open it in the program that made it, or take it out of the folder",
)
_CONTROLS = bytes({*range(32), 127} - {*b"\t\n\v\f\r\x1a\x1b"})  # no table has them but by accident
_MOST_CONTROLS = 20  # of so many bytes one; of bytes by chance it is one in ten


def read_csv(path: Path, table: str) -> tuple[Sheet | None, list[Problem], bytes]:
    """The sheet (None when the file is refused), what was wrong, and a hash of the bytes read (empty where none were).

    UTF-8 with or without a byte-order mark; comma, semicolon or tab between cells, told from the headings.
    A row's number is the one a spreadsheet shows: a cell of several lines counts as one row.
    OSError where the file cannot be opened.
    """
    with path.open("rb") as file:
        size = path.stat().st_size
        raw = b"" if size > MAX_BYTES else file.read(MAX_BYTES + 1)
    version = hashlib.sha256(raw).digest() if raw else b""
    return *sheet_in(raw, path.name, table, max(size, len(raw))), version


def sheet_in(
    raw: bytes, file: str, table: str, size: int | None = None
) -> tuple[Sheet | None, list[Problem]]:
    """``read_csv`` of the bytes of a file; ``size`` is what the whole of it has."""
    refusal = _too_large(len(raw) if size is None else size) or _something_else(raw) or _beyond_bounds(raw)
    if refusal:
        return None, [Problem("error", file, rule=refusal[0], suggestion=refusal[1])]
    grid, numbers, faults, torn = taken_apart(lambda: _lines(raw), file, raw.count(b"\n"))
    sheet = replace(sheet_of(table, file, "", grid, numbers), torn=torn)
    return sheet, faults + _without_rows(sheet)


def _too_large(size: int) -> Refusal | None:
    if size <= MAX_BYTES:
        return None
    return (
        f"the file has {size / 1e6:,.0f} MB, more than the {MAX_BYTES / 1e6:.0f} MB that are read",
        "split the records by season",
    )


def _something_else(raw: bytes) -> Refusal | None:
    """Why the bytes are no text in UTF-8 with anything in it."""
    start = raw[:10_000].removeprefix(codecs.BOM_UTF8)
    if not start.strip() and not raw[len(start) :].removeprefix(codecs.BOM_UTF8).strip():
        return "the file is empty", "write the headings and rows, or remove the file"
    for mark, what, suggestion in SIGNATURES:
        if raw.startswith(mark):
            return f"the file ends in .csv but is {what}", suggestion
    return NOT_TEXT if not_text(raw) else None


def not_text(raw: bytes) -> bool:
    """Whether bytes are of no text in any encoding that has one byte for a plain letter."""
    return len(raw) - len(raw.translate(None, _CONTROLS)) > len(raw) // _MOST_CONTROLS


def _beyond_bounds(raw: bytes) -> Refusal | None:
    """Why the text is not taken apart: more of something than any table has, or not UTF-8."""
    lines = max(raw.count(b"\n"), raw.count(b"\r")) + (not raw.endswith((b"\n", b"\r")))
    cells = lines + max(raw.count(mark.encode()) for mark in DELIMITERS)
    if lines > MAX_ROWS or cells > MAX_CELLS:
        return (
            f"the file has {lines:,} lines and {cells:,} cells, more than the {MAX_ROWS:,} and {MAX_CELLS:,} that are read",
            "split the records by season",
        )
    try:
        long = _too_long_line(raw)
        columns = len(first_row(_lines(raw)))
    except UnicodeDecodeError:
        line, byte = no_utf8(raw)
        return f"the text is not UTF-8 (line {line} has the byte {byte:#04x})", "save it as CSV UTF-8"
    if long:
        return (
            f"line {long} has more than {LONGEST_LINE:,} characters",
            "see whether its line breaks were lost, and save the table as CSV (UTF-8) again",
        )
    return too_wide(columns, lines)


def _too_long_line(raw: bytes) -> int:
    """Number of the first line that is longer than any row of a table; 0 where none is."""
    for number, line in enumerate(_lines(raw), 1):
        if len(line) > LONGEST_LINE:
            return number
    return 0


def _text(raw: bytes) -> io.TextIOWrapper:
    return io.TextIOWrapper(io.BytesIO(raw), encoding="utf-8-sig", newline="")


def _lines(raw: bytes) -> Iterator[str]:
    """The lines with their ends, decoded as they are asked for."""
    text = _text(raw)
    while line := text.readline(LONGEST_LINE + 1):
        yield line


def no_utf8(raw: bytes) -> tuple[int, int]:
    """Line and value of the first byte that is no UTF-8."""
    decoder = codecs.getincrementaldecoder("utf-8")()
    step, lines = 1_000_000, 1
    for start in range(0, len(raw), step):
        part = raw[start : start + step]
        try:
            decoder.decode(part, final=start + step >= len(raw))
        except UnicodeDecodeError as error:
            return lines + error.object.count(b"\n", 0, error.start), error.object[error.start]
        lines += part.count(b"\n")
    raise ValueError("the text is UTF-8")


def _without_rows(sheet: Sheet) -> list[Problem]:
    """A table of one line: figures among the headings are rows whose line breaks were lost."""
    figure = next((heading for heading in sheet.headings if _is_number(heading)), "")
    if len(sheet) or sheet.torn or not figure:
        return []
    return [
        Problem("error", sheet.file, row=1, value=figure, rule="stands among the headings and no row stands below them",
                suggestion="see whether the line breaks or the headings were lost, and save the table as CSV (UTF-8) again")
    ]  # fmt: skip


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True
