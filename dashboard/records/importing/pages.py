"""A file as pages of cells, as they stand in it: a sheet of a workbook, or a text file whole.

Nothing is known yet of headings and columns. What cannot be taken apart into cells is told with its place and takes nothing with it.
"""

from __future__ import annotations

import codecs
import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import zip_longest
from pathlib import Path

import numpy as np
from python_calamine import CalamineError, load_workbook

from dashboard.records.comma_files import LONGEST_LINE, MAX_CELLS, MAX_ROWS, NOT_TEXT, SIGNATURES, not_text
from dashboard.records.how_far import counted
from dashboard.records.problems import Problem
from dashboard.records.sheets import MAX_BYTES, MAX_COLUMNS
from dashboard.records.taken_apart import DELIMITERS, one_of_each
from dashboard.records.workbooks import grids_of

ENDINGS = (".xlsx", ".csv", ".txt", ".tsv")
# Of bytes that are no UTF-8: nothing in the file says which it is, so whoever knows the names in it does.
ENCODINGS = ("windows-1252", "windows-1250", "mac-roman")
_LOOKED_AT = 200  # lines from which the mark between cells is told
_BROKEN = 2  # line breaks in one cell, from which on a quotation mark is taken for a lone one


@dataclass(frozen=True, eq=False)
class Page:
    """``cells`` (rows, columns) object of str, stripped, "" where nothing stands; ``rows`` (rows,) the numbers a person sees."""

    file: str
    sheet: str  # empty for a text file
    cells: np.ndarray
    rows: np.ndarray
    merged: tuple[tuple[int, int, int, int], ...] = ()  # first row, first column, last row, last column
    torn: Mapping[int, str] = field(default_factory=dict)  # rows whose cells are uncertain, and why
    short: tuple[int, ...] = ()  # rows of a text file that end before the others
    days: frozenset[tuple[int, int]] = (
        frozenset()
    )  # row and column of cells that hold a date, and no text that reads like one
    part: str = ""  # which columns it has, where tables stand side by side

    @property
    def name(self) -> str:
        return (f"{self.file}: {self.sheet}" if self.sheet else self.file) + (self.part and f", {self.part}")

    @property
    def stem(self) -> str:
        """The name of the file without its ending."""
        return self.file.rpartition(".")[0]

    def holders(self, rows: np.ndarray, column: int) -> np.ndarray:
        """(n,) the row whose cell holds for each of ``rows``, itself or where it is merged into one above; -1 where none does."""
        own = np.where(self.cells[rows, column] != "", rows, -1)
        for top, left, bottom, _ in self.merged:
            if left == column and bottom > top and self.cells[top, left]:
                own[(rows > top) & (rows <= bottom) & (own < 0)] = top
        return own


@dataclass
class Opened:
    pages: list[Page] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    unknown: dict[str, list[str]] = field(
        default_factory=dict
    )  # by file of unknown encoding, cells to know it by


def opened(files: Sequence[Path], encodings: Mapping[str, str]) -> Opened:
    """The pages of the files, in their order; ``encodings`` says by file how bytes that are no UTF-8 are to be read."""
    found = Opened()
    for path in files:
        try:
            size = path.stat().st_size
            raw = b"" if size > MAX_BYTES else path.read_bytes()
        except OSError as fault:
            _refuse(
                found,
                path,
                f"the file cannot be opened ({fault.strerror})",
                "see whether it is there, and who may read it",
            )
            continue
        if size > MAX_BYTES:
            rule = f"the file has {size / 1e6:,.0f} MB, more than the {MAX_BYTES / 1e6:.0f} MB that are read"
            _refuse(found, path, rule, "split it by season")
        elif path.suffix.lower() == ".xlsx":
            _workbook(path, raw, found)
        elif path.suffix.lower() in ENDINGS:
            _text_file(path, raw, encodings, found)
        else:
            _refuse(
                found,
                path,
                f"ends in {path.suffix or 'nothing'}, and such files are not read",
                "save it as .xlsx or as CSV",
            )
    return found


def column_letter(column: int) -> str:
    """A for 0, AB for 27."""
    letters = ""
    column += 1
    while column:
        column, last = divmod(column - 1, 26)
        letters = chr(65 + last) + letters
    return letters


def _refuse(found: Opened, path: Path, rule: str, suggestion: str) -> None:
    found.problems.append(Problem("error", path.name, rule=rule, suggestion=suggestion))


def _workbook(path: Path, raw: bytes, found: Opened) -> None:
    days: dict[str, set[tuple[int, int]]] = {}
    grids, problems = grids_of(raw, path.name, days)
    found.problems += problems
    if not grids:
        return
    merged = _merged(raw)
    for name, grid in grids.items():
        if any(any(row) for row in grid):
            _page(found, path, name, grid, range(1, len(grid) + 1), tuple(merged.get(name, ())), days=frozenset(days.get(name, ())))  # fmt: skip


def _merged(raw: bytes) -> dict[str, list[tuple[int, int, int, int]]]:
    try:
        with load_workbook(io.BytesIO(raw)) as book:
            return {
                name: [
                    (top, left, bottom, right)
                    for (top, left), (bottom, right) in book.get_sheet_by_name(name).merged_cell_ranges or ()
                ]
                for name in book.sheet_names
            }
    except (CalamineError, OSError, ValueError):
        return {}


def _text_file(path: Path, raw: bytes, encodings: Mapping[str, str], found: Opened) -> None:
    for mark, what, suggestion in SIGNATURES:
        if raw.startswith(mark) and "UTF-16" not in what:
            _refuse(found, path, f"the file ends in {path.suffix} but is {what}", suggestion)
            return
    text = _decoded(path, raw, encodings, found)
    if text is None:
        return
    lines = text.split("\n")
    if len(lines) > MAX_ROWS or max(map(len, lines)) > LONGEST_LINE:
        _refuse(found, path, "the file has more or longer lines than are read", "split it by season")
        return
    if not text.strip():
        _refuse(found, path, "the file is empty", "name the file that holds the records")
        return
    start = 1
    if lines[0].strip().lower().startswith("sep=") and len(lines[0].strip()) == 5:
        delimiter, start = lines[0].strip()[4], 2
    else:
        delimiter = _delimiter(lines[:_LOOKED_AT])
    rows, numbers, torn = _taken_apart(path.name, lines[start - 1 :], delimiter, start)
    if sum(map(len, rows)) > MAX_CELLS:
        _refuse(found, path, "the file has more cells than are read", "split it by season")
        return
    _page(found, path, "", rows, numbers, torn=torn)


def _decoded(path: Path, raw: bytes, encodings: Mapping[str, str], found: Opened) -> str | None:
    """The text with one kind of line end; None where it cannot be had yet."""
    encoding = "utf-16" if raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)) else "utf-8-sig"
    if encoding != "utf-16" and (not_text(raw) or b"\0" in raw):
        _refuse(found, path, *NOT_TEXT)
        return None
    try:
        text = raw.decode(encoding)
    except UnicodeDecodeError:
        if encoding == "utf-16":
            _refuse(found, path, "the text is damaged (it is no whole UTF-16)", "save it again as CSV UTF-8")
            return None
        said = str(encodings.get(path.name, ""))
        if said not in ENCODINGS:
            found.unknown[path.name] = _marked(raw)
            said = ENCODINGS[0]
        text = raw.decode(said, "replace")
    if text.count("\0"):
        _refuse(found, path, *NOT_TEXT)
        return None
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _marked(raw: bytes) -> list[str]:
    """The first lines with a letter that depends on the encoding, as each of them would have it."""
    lines = [line for line in raw.replace(b"\r", b"\n").split(b"\n") if not line.isascii()][:3]
    return [
        "; ".join(f"{name}: {line.decode(name, 'replace').strip()[:50]}" for name in ENCODINGS)
        for line in lines
    ]


def _delimiter(lines: Sequence[str]) -> str:
    """The mark that parts most lines into the same number of cells; of equals the one that stands most often."""

    def alike(mark: str) -> tuple[int, int]:
        counts = [line.count(mark) for line in lines if line.count(mark)]
        most = max(set(counts), key=counts.count, default=0)
        return counts.count(most), sum(counts)

    return max(DELIMITERS, key=alike)


def _taken_apart(
    file: str, lines: list[str], delimiter: str, start: int
) -> tuple[list[list[str]], list[int], dict[int, str]]:
    """Rows of cells, their numbers, and by place the rows with a quotation mark that is not closed.

    A row's number is the one a spreadsheet shows: a cell of several lines counts as one row.
    """
    try:
        read = csv.reader((line + "\n" for line in lines), delimiter=delimiter, strict=True)
        rows = list(map(one_of_each(), counted(read, file, len(lines))))
        whole = len(rows) == len(lines)  # no cell has a line break
        if whole or not any(cell.count("\n") >= _BROKEN for row in rows for cell in row):
            return rows, list(range(start, start + len(rows))), {}
    except csv.Error:
        pass
    rows, torn = [], {}
    for line in counted(lines, file, len(lines)):
        try:
            rows.append(next(csv.reader([line], delimiter=delimiter, strict=True), []))
        except csv.Error:
            torn[len(rows)] = "has a quotation mark that is not closed"
            rows.append([cell.strip(' "') for cell in line.split(delimiter)])
    return rows, list(range(start, start + len(rows))), torn


def _page(
    found: Opened,
    path: Path,
    sheet: str,
    rows: list[list[str]],
    numbers: Iterator[int] | Sequence[int],
    merged: tuple[tuple[int, int, int, int], ...] = (),
    torn: Mapping[int, str] | None = None,
    days: frozenset[tuple[int, int]] = frozenset(),
) -> None:
    width = max(map(len, rows), default=0)
    if width > 3 * MAX_COLUMNS or width * len(rows) > MAX_CELLS:
        rule = f"the table has {width:,} columns and {len(rows):,} rows, more than are read"
        found.problems.append(
            Problem("error", path.name, sheet, rule=rule, suggestion="take out what is no table")
        )
        return
    cells = np.full((len(rows), width), "", dtype=object)
    for place, column in enumerate(zip_longest(*rows, fillvalue="")):
        cells[:, place] = list(map(str.strip, column))
    usual = np.bincount([len(row) for row in rows if any(row)] or [0]).argmax()
    short = () if sheet else tuple(place for place, row in enumerate(rows) if 1 < len(row) < usual)
    found.pages.append(
        Page(path.name, sheet, cells, np.array(list(numbers)), merged, torn or {}, short, days)
    )
