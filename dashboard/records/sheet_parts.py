"""The parts of a workbook run through a parser of XML that keeps nothing but counts.

Office Open XML (ECMA-376, SpreadsheetML): a sheet lists its rows (``row``) and cells (``c``, at ``r``, of type ``t``) with their
value in ``v`` or ``is``; texts used by several cells stand once among the shared strings (``si``) and are named by number.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import BinaryIO
from xml.parsers import expat

from dashboard.records.plain_text import LONGEST

MAX_ELEMENTS = 10_000_000  # of the whole workbook; a cell with a value takes two
MAX_TEXT = 50_000_000  # characters of all cells together
MAX_STRINGS = 2_000_000
_SPARSE, _LITTLE = (
    10,
    1_000_000,
)  # a sheet is held whole, empty cells included: so many times the filled ones, and so many besides
_STEP = 1 << 18
_TOKEN = 1 << 21  # bytes between one mark and the next
_ROWS, _COLUMNS = 1_048_576, 16_384
_PARTS = ("row", "c", "v", "is", "t", "f", "si", "sheet", "Relationship")
_DIGITS = "0123456789"


class RefusedError(Exception):
    """A workbook that is not opened: ``rule`` and ``suggestion``."""

    def __init__(self, rule: str, suggestion: str):
        super().__init__(rule)
        self.rule, self.suggestion = rule, suggestion


def _damaged() -> RefusedError:
    return RefusedError(
        "the file ends in .xlsx but is not a workbook, or is damaged", "save it again as .xlsx"
    )


@dataclass
class Counted:
    """What was met so far in the whole workbook; ``sheets`` has area less what is allowed for it, by name of the part."""

    elements: int = 0
    text: int = 0
    formulas: int = 0
    strings: list[int] = field(default_factory=list)  # characters of each shared string
    beyond: dict[str, int] = field(default_factory=dict)
    names: dict[str, str] = field(default_factory=dict)  # sheet by relation
    targets: dict[str, str] = field(default_factory=dict)  # part by relation

    def settle(self) -> None:
        """RefusedError where the sheets, held whole, take far more room than what is written in them."""
        if sum(self.beyond.values()) <= _LITTLE:
            return
        part = max(self.beyond, key=self.beyond.__getitem__)
        sheet = next((self.names.get(key, "") for key, at in self.targets.items() if part.endswith(at)), "")
        which = f"the sheet {sheet}" if sheet else "a sheet"
        raise RefusedError(
            f"{which} has cells far away from its table", "delete the rows and columns beyond the table"
        )


def look_through(part: str, stream: BinaryIO, counted: Counted) -> None:
    """Count what a part of the workbook holds; RefusedError where it is too much or no XML."""
    parser = expat.ParserCreate()
    parser.ordered_attributes = True
    parser.buffer_text = True
    parser.StartDoctypeDeclHandler = _refuse_doctype
    reading = _Reading(parser, counted)
    parser.StartElementHandler = reading.start
    fed = 0
    try:
        while piece := stream.read(_STEP):
            parser.Parse(piece, False)
            fed += len(piece)
            if fed - parser.CurrentByteIndex > _TOKEN:
                raise _damaged()
            if counted.elements + reading.elements > MAX_ELEMENTS:
                raise RefusedError(
                    "the workbook holds more cells than are read from one", "save the tables as CSV (UTF-8)"
                )
        parser.Parse(b"", True)
    except (expat.ExpatError, LookupError, UnicodeError):  # also an encoding that there is not
        raise _damaged() from None
    reading.close(part)


def _refuse_doctype(*_: object) -> None:
    raise _damaged()


class _Reading:
    """One part on its way through the parser."""

    def __init__(self, parser: expat.XMLParserType, counted: Counted):
        self.parser, self.counted = parser, counted
        self.kinds: dict[str, str] = {}
        self.columns: dict[str, int] = {"": 0}
        self.elements = self.cells = 0
        self.row = self.column = self.last_row = self.last_column = 0
        self.row_text = "0"
        self.shared = False  # the cell names a shared string
        self.texts = False  # the cell holds text, its own or shared
        self.listening = False  # just now
        self.pieces = ""
        self.length = 0

    def start(self, name: str, attributes: list[str]) -> None:
        self.elements += 1
        kind = self.kinds.get(name)
        if kind is None:
            bare = name.rpartition(":")[2]
            kind = self.kinds[name] = bare if bare in _PARTS else "-"
        if self.listening:  # what stands between the marks after a value is none of it
            self.listening = False
            self.parser.CharacterDataHandler = None
        if kind == "c":
            self._cell(attributes)
        elif kind == "v" or kind == "is" or kind == "t":
            if self.texts and kind != "is":
                self.listening = True
                self.parser.CharacterDataHandler = self._characters
            if kind != "t":
                self.cells += 1
                self._reach()
        elif kind == "row":
            self._row(_of(attributes, "r"))
        elif kind == "si":
            self._string()
        elif kind == "f":
            self.counted.formulas += 1
            self._reach()
        elif kind == "sheet":
            self.counted.names[_of(attributes, "id")] = _of(attributes, "name")
        elif kind == "Relationship":
            self._relation(attributes)

    def _cell(self, attributes: list[str]) -> None:
        if self.pieces or self.length:
            self._text()
        at = ""
        shared = written = False
        for place in range(0, len(attributes), 2):
            key = attributes[place]
            if key == "r":
                at = attributes[place + 1]
            elif key == "t":
                said = attributes[place + 1]
                shared, written = said == "s", said == "str" or said == "inlineStr"
        if at:
            letters = at.rstrip(_DIGITS)
            row_text = at[len(letters) :]
            if row_text != self.row_text:
                self._row(row_text)
            column = self.columns.get(letters)
            self.column = self._numbered(letters) if column is None else column
        else:
            self.column += 1
        self.shared, self.texts = shared, shared or written

    def _reach(self) -> None:
        if self.row > self.last_row:
            self.last_row = self.row
        if self.column > self.last_column:
            self.last_column = self.column

    def _row(self, written: str) -> None:
        try:
            self.row = int(written) if written else self.row + 1
        except ValueError:
            raise _damaged() from None
        if not 0 < self.row <= _ROWS:
            raise _damaged()
        self.row_text = written or str(self.row)
        self.column = 0

    def _numbered(self, letters: str) -> int:
        """AB is 28."""
        number = 0
        for letter in letters.upper()[:4]:
            number = number * 26 + ord(letter) - 64
        if not letters.isascii() or not letters.isalpha() or number > _COLUMNS:
            raise _damaged()
        self.columns[letters] = number
        return number

    def _string(self) -> None:
        self._text()
        self.shared, self.texts = False, True
        self.counted.strings.append(0)
        if len(self.counted.strings) > MAX_STRINGS:
            raise RefusedError(
                "the workbook holds more texts than are read from one", "save the tables as CSV (UTF-8)"
            )

    def _characters(self, data: str) -> None:
        if self.shared:
            self.pieces += data
            if len(self.pieces) > LONGEST:
                raise _damaged()
            return
        self.length += len(data)
        if self.length > LONGEST and data.strip():
            raise RefusedError(f"a cell has more than {LONGEST:,} characters", "shorten it")

    def _text(self) -> None:
        """The text of the cell, or shared string, that has just ended is counted."""
        strings = self.counted.strings
        if self.shared and self.pieces:
            try:
                self.counted.text += strings[int(self.pieces)]
            except (ValueError, IndexError):
                raise _damaged() from None
        elif strings and not self.cells:
            strings[-1] += self.length
        else:
            self.counted.text += self.length
        self.pieces, self.length = "", 0
        if self.counted.text > MAX_TEXT:
            raise RefusedError(
                f"the texts of all cells have more than {MAX_TEXT:,} characters",
                "see whether one was copied into many cells",
            )

    def _relation(self, attributes: list[str]) -> None:
        if _of(attributes, "Type").rpartition("/")[2] != "worksheet":
            return
        target = _of(attributes, "Target").removeprefix("/").removeprefix("xl/")
        if not target.lower().endswith(".xml"):  # only such parts are looked through
            raise _damaged()
        self.counted.targets[_of(attributes, "Id")] = target

    def close(self, part: str) -> None:
        self._text()
        self.counted.elements += self.elements
        if self.last_row:
            self.counted.beyond[part] = max(0, self.last_row * self.last_column - _SPARSE * self.cells)


def _of(attributes: list[str], name: str) -> str:
    """The value of an attribute, whatever stands before the colon of its name; "" where it is not there."""
    return next(
        (value for key, value in _pairs(attributes) if key == name or key.endswith(f":{name}")),
        "",
    )


def _pairs(attributes: list[str]) -> Iterator[tuple[str, str]]:
    return zip(attributes[::2], attributes[1::2], strict=True)
