"""A list of names that somebody pastes or sends, as cultivars of the records: what is meant for certain is taken, nothing is guessed.

Case, spaces, hyphens and accents are free. What is then no name of the records, or may be several, is told with its place and the
nearest spellings; whoever sent it says which was meant.
"""

from __future__ import annotations

import csv
import io
import re
import struct
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from urllib.parse import unquote_plus

from dashboard.records.comma_files import SIGNATURES, no_utf8, not_text
from dashboard.records.names import nearest, plain
from dashboard.records.plain_text import without_mark
from dashboard.records.taken_apart import DELIMITERS
from dashboard.records.workbooks import grids_of

LARGEST = 120_000  # bytes of a file or of what is pasted: what the page sends in one piece
MOST = 10_000  # names of one list
UNPACKED = 20_000_000  # bytes of a workbook that is to hold a list: some hundred times the largest
TITLES = 10  # rows among which the heading of a table is looked for
HEADINGS = ("cultivar", "cultivars", "cultivarname", "variety", "varieties", "name", "names")
_LINK = re.compile(r"\?(?:[^\s#]*&)?(?:v=\d+|shortlist=)[^\s#]*")
NUMBER = re.compile(r"[-+]?\d+([.,]\d+)*\s*%?")
_MONTH = r"(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?"
DATE = re.compile(
    rf"\d{{4}}-\d\d?-\d\d?([ T].*)?|\d\d?([./])\d\d?\2(\d\d|\d{{4}})|\d\d?[ -]{_MONTH}([ -]\d+)?|{_MONTH}[ -]\d+", re.I
)  # fmt: skip

Cell = tuple[str, str]  # where it stands, and what
Refusal = tuple[str, str]  # rule and suggestion
Spelled = dict[str, list[str]]  # names by their letters and digits


@dataclass(frozen=True)
class Unmatched:
    """``text`` at its ``place`` names no cultivar for certain: ``why`` (a number, a date, several, no), and the ``several`` it may be."""

    place: str
    text: str
    why: str
    several: tuple[str, ...] = ()

    def near(self, names: Iterable[str]) -> tuple[str, ...]:
        """What it was likeliest meant for: the several it may be, else the nearest spelling where one is near."""
        if self.several:
            return self.several
        one = nearest(self.text, names)
        return (one,) if one else ()


@dataclass(frozen=True)
class NameList:
    """``names`` in their order, each once; ``again``: those that stood there more than once; ``of``: what was read, where that is
    not all ("the column Cultivar of the sheet ranking"); ``refused``: why nothing was, and what to do."""

    names: tuple[str, ...] = ()
    unmatched: tuple[Unmatched, ...] = ()
    again: tuple[str, ...] = ()
    of: str = ""
    refused: Refusal | None = None


def of_file(raw: bytes, file: str, known: Sequence[str]) -> NameList:
    """The names of a file: text, a table with a column of cultivars, a workbook, or a link to a slate."""
    if refused := too_large(len(raw)):
        return NameList(refused=refused)
    if raw.startswith(b"PK"):
        return _of_workbook(raw, file, known)
    for mark, what, _ in SIGNATURES:
        if raw.startswith(mark) and "UTF-16" not in what:
            return NameList(refused=(f"it is {what}", "save the names as .csv or .xlsx"))
    wide = raw.startswith((b"\xff\xfe", b"\xfe\xff"))
    if not wide and not_text(raw):
        return NameList(refused=("it is no text", "save the names as .csv or .xlsx"))
    try:
        text = raw.decode("utf-16" if wide else "utf-8-sig")
    except UnicodeDecodeError:
        if wide:
            return NameList(refused=("its text is damaged", "save it as CSV UTF-8"))
        line, byte = no_utf8(raw)
        return NameList(refused=(f"its text is not UTF-8 (line {line} has the byte {byte:#04x})", "save it as CSV UTF-8"))  # fmt: skip
    return of_text(text, known)


def of_text(text: str, known: Sequence[str]) -> NameList:
    """The names of a text: one a line or several parted by tabs, semicolons or commas, a table, or a link to a slate."""
    if refused := too_large(len(text.encode("utf-8", "replace"))):
        return NameList(refused=refused)
    if not text.strip():
        return NameList(refused=("it is empty", "write a name on each line"))
    if (link := _LINK.search(text)) and len(text.split()) == 1:
        return _of_link(link[0], known)
    lines = text.splitlines()
    spelled = _spelled(known)
    if table := _table(lines, spelled):
        return _matched(table[1], spelled, table[0])
    return _matched(_cells(lines, spelled), spelled)


def too_large(size: int) -> Refusal | None:
    if size <= LARGEST:
        return None
    return (
        f"it has {size:,} bytes, more than the {LARGEST // 1000} kB a list of names may be",
        "bring the names alone",
    )


def _of_link(link: str, known: Sequence[str]) -> NameList:
    listed = re.search(r"[?&]shortlist=([^&]*)", link)
    if not listed:
        return NameList(
            refused=("the link carries no slate", "put cultivars on the slate, then copy the link")
        )
    items = [unquote_plus(item) for item in listed[1].split(",")]
    return _matched([("in the link", item) for item in items], _spelled(known), "the slate of the link")


def _of_workbook(raw: bytes, file: str, known: Sequence[str]) -> NameList:
    if (unpacked := _unpacked(raw)) > UNPACKED:
        return NameList(refused=(f"it unpacks to {unpacked / 1e6:,.0f} MB, far more than a list of names", "bring the names alone"))  # fmt: skip
    grids, faults = grids_of(raw, file)
    if not grids and faults:
        return NameList(refused=(faults[0].rule, faults[0].suggestion))
    spelled = _spelled(known)
    heads = [(found, sheet) for sheet, grid in grids.items() if (found := _head(grid, spelled))]
    if heads:
        (_, row, column), sheet = min(heads, key=lambda one: one[0][0])
        rows = enumerate(grids[sheet][row + 1 :], row + 2)
        cells = [(f"{sheet}, row {number}", line[column]) for number, line in rows if column < len(line)]
        head = _short(grids[sheet][row][column])
        return _matched(cells, spelled, f"the column {head} of the sheet {_short(sheet)}")
    sheet, grid = next(((name, grid) for name, grid in grids.items() if any(map(any, grid))), ("", []))
    if not grid:
        return NameList(refused=("it has no cell with anything in it", "write a name in each row"))
    every = ((f"{sheet}, row {number}", cell) for number, line in enumerate(grid, 1) for cell in line)
    return _matched(every, spelled, f"the sheet {_short(sheet)}" if len(grids) > 1 else "")


def _unpacked(raw: bytes) -> int:
    """Bytes that the parts of a workbook say they have; 0 where it is none: its reader tells that."""
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as packed:
            return sum(part.file_size for part in packed.infolist())
    except (zipfile.BadZipFile, zipfile.LargeZipFile, struct.error, NotImplementedError, EOFError, OSError, ValueError):  # fmt: skip
        return 0


def _table(lines: list[str], spelled: Spelled) -> tuple[str, list[Cell]] | None:
    """What was read, and the cells of the column of cultivars, where the lines are a table that has one."""
    for mark in DELIMITERS:
        try:
            reader = csv.reader((line + "\n" for line in lines), delimiter=mark)
            rows = [(reader.line_num, row) for row in reader]
        except csv.Error:
            continue
        grid = [row for _, row in rows]
        if not (found := _head(grid, spelled)):
            continue
        _, at, column = found
        head, below = f"the column {_short(grid[at][column].strip())}", rows[at + 1 :]
        if len(grid[at]) > 1:
            return head, [(f"line {number}", row[column]) for number, row in below if column < len(row)]
        if not any(other in grid[at][0] for other in DELIMITERS):  # a heading over lines of names
            start = rows[at][0]
            return head, list(_cells(lines[start:], spelled, start + 1))
    return None


def _head(grid: list[list[str]], spelled: Spelled) -> tuple[int, int, int] | None:
    """How good a heading of names, its row and column: below nothing but titles; a cultivar's own name is no heading."""
    for at, row in enumerate(grid[:TITLES]):
        heads = [plain(cell) for cell in row]
        if any(head in spelled for head in heads):
            return None
        for rank, word in enumerate(HEADINGS):
            if word in heads:
                return rank, at, heads.index(word)
    return None


def _cells(lines: Iterable[str], spelled: Spelled, first: int = 1) -> Iterator[Cell]:
    """Each name with its line; a name with a comma in it is not taken apart."""
    for number, line in enumerate(lines, first):
        place = f"line {number}"
        if any(set(DELIMITERS) & set(name) for name in spelled.get(plain(line), ())):
            yield place, line
            continue
        for quoted, bare in re.findall(
            rf'"((?:[^"]|"")*)"(?=\s*(?:[{DELIMITERS}]|$))|([^{DELIMITERS}]+)', line
        ):
            yield place, quoted.replace('""', '"') or bare


def _matched(cells: Iterable[Cell], spelled: Spelled, of: str = "") -> NameList:
    known = {name for names in spelled.values() for name in names}
    found: dict[str, int] = {}
    unmatched: list[Unmatched] = []
    for count, (place, cell) in enumerate(_filled(cells)):
        if count >= MOST:
            return NameList(refused=(f"it has more than {MOST:,} names", "bring a shorter list"))
        one = _meant(cell, spelled, known)
        if isinstance(one, str):
            found[one] = found.get(one, 0) + 1
        else:
            unmatched.append(Unmatched(place, cell, *one))
    if not found and not unmatched:
        return NameList(refused=("it holds no name", "write a name on each line"))
    again = tuple(name for name, count in found.items() if count > 1)
    return NameList(tuple(found), tuple(dict.fromkeys(unmatched)), again, of)


def _filled(cells: Iterable[Cell]) -> Iterator[Cell]:
    for place, cell in cells:
        text = without_mark(" ".join(cell.split()))  # without a spreadsheet's own mark
        if text:
            yield place, text


def _meant(text: str, spelled: Spelled, known: set[str]) -> str | tuple[str, tuple[str, ...]]:
    """The cultivar, or why it is none for certain."""
    if text in known:
        return text
    same = tuple(spelled.get(plain(text), ()))
    close = [name for name in same if name.casefold() == text.casefold()]
    if len(close) == 1:
        return close[0]
    if DATE.fullmatch(text):
        return "date", same
    if NUMBER.fullmatch(text):
        return "number", same
    return same[0] if len(same) == 1 else ("several" if same else "no", same)


def _spelled(known: Iterable[str]) -> Spelled:
    told: Spelled = {}
    for name in known:
        told.setdefault(plain(name), []).append(name)
    return told


def _short(text: str) -> str:
    return text if len(text) <= 40 else text[:39] + "…"
