"""The bytes of a plain comma-separated file, taken apart as whole columns: where each cell ends, and what its cells are.

Plain is what has its cells where its commas are: a quotation mark only around a whole cell, no cell with a comma or a line break in it.
A file is gone through in pieces of whole lines, small enough to stay near the processor.
"""

from __future__ import annotations

import codecs
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.records.plain_text import NAME_LENGTH

PIECE = 1 << 20  # bytes
_COMMA, _BREAK, _QUOTE, _SPACE, _SEMICOLON = b',\n" ;'
_NOT_PLAIN = b"\t\v\f\0\r;"  # a cell may hold more than its own text with any about
_BLOCK = 1 << 18  # bytes gone through at once
AT_ONCE = 8  # bytes compared as one number
_MASKS = np.array([(1 << 8 * kept) - 1 for kept in range(AT_ONCE + 1)], dtype=np.uint64)


class NotPlainError(ValueError):
    """These bytes have to go the ordinary way."""


@dataclass(frozen=True, eq=False)
class Lines:
    """Where cells are in the bytes ``letters``; ``ends``: (columns, lines) int, where each ends."""

    letters: np.ndarray  # (bytes,) uint8
    eights: np.ndarray  # (bytes,) uint64, each byte and the seven behind it
    starts: np.ndarray  # (lines,) int
    ends: np.ndarray

    def cells(self, place: int) -> tuple[np.ndarray, np.ndarray]:
        """Where the cells of a column start, and where they end."""
        return (self.ends[place - 1] + 1 if place else self.starts), self.ends[place]

    def longest(self, place: int) -> int:
        """Bytes of the longest cell of a column. NotPlainError where no name is so long."""
        starts, ends = self.cells(place)
        longest = int((ends - starts).max())
        if longest > NAME_LENGTH:
            raise NotPlainError
        return longest


def taken_apart(raw: bytes) -> tuple[tuple[str, ...], list[slice]]:
    """The headings, and where pieces of the lines below them are. NotPlainError, or UnicodeDecodeError where the headings are no text."""
    before = len(codecs.BOM_UTF8) if raw.startswith(codecs.BOM_UTF8) else 0
    at = raw.find(b"\n") + 1
    if not at:
        raise NotPlainError
    headings = lines_of(raw, slice(before, at)).letters[:-1].tobytes().decode()
    end = len(raw)
    while end > at and raw[end - 1] in b"\r\n":  # empty lines below all others are none
        end -= 1
    pieces = []
    while at < end:
        last = raw.find(b"\n", min(at + PIECE, end)) + 1 or len(raw)
        pieces.append(slice(at, last))
        at = last
    return tuple(headings.split(",")), pieces


def lines_of(raw: bytes, part: slice, width: int = 0) -> Lines:
    """Whole lines of ``width`` cells each, or one line of any. NotPlainError where they are not plain."""
    quoted = _to_be_changed(raw, part)
    bare = quoted.translate(None, b'"') + bytes(AT_ONCE) if quoted else raw
    start, size = (0, len(bare) - AT_ONCE) if quoted else (part.start, part.stop - part.start)
    letters = np.frombuffer(bare, np.uint8, size, start)
    marks, count = _marks(letters)
    if size < len(quoted) and not _around_cells(quoted, marks):
        raise NotPlainError
    if len(marks) != count * (width or len(marks)):
        raise NotPlainError
    ends = np.ascontiguousarray(marks.reshape(count, -1).T, dtype=np.int32)
    if not (letters[ends[-1]] == _BREAK).all():
        raise NotPlainError  # a line has other than so many cells
    eights = np.ndarray(size, "<u8", bare, start, (1,))
    return Lines(letters, eights, np.append(np.int32(0), ends[-1, :-1] + 1), ends)


def _to_be_changed(raw: bytes, part: slice) -> bytes:
    """A piece that cannot stay where it is, its last line ended as the others: it has quotation marks or other line ends, or is the last."""
    others = raw.find(b"\r", part.start, part.stop) >= 0
    if not others and part.stop + AT_ONCE <= len(raw) and raw.find(b'"', part.start, part.stop) < 0:
        return b""
    piece = raw[part].replace(b"\r\n", b"\n") if others else raw[part]
    return piece if piece.endswith(b"\n") else piece + b"\n"


def _marks(letters: np.ndarray) -> tuple[np.ndarray, int]:
    """Where the commas and line breaks are, and how many line breaks."""
    found, count = [], 0
    for at in range(0, len(letters), _BLOCK):
        some = letters[at : at + _BLOCK]
        breaks = some == _BREAK
        lines = int(np.count_nonzero(breaks))
        if np.count_nonzero(some <= _SPACE) > lines or (some == _SEMICOLON).any():
            _refuse_unplain(letters, at)
        count += lines
        found.append(np.flatnonzero(breaks | (some == _COMMA)).astype(np.int32))
        found[-1] += at
    return np.concatenate(found), count


def _refuse_unplain(letters: np.ndarray, at: int) -> None:
    """NotPlainError where a cell has a space at its end, or a character of which more than its own text hangs."""
    some = letters[at : at + _BLOCK]
    if any((some == mark).any() for mark in _NOT_PLAIN):
        raise NotPlainError
    spaces = np.flatnonzero(some == _SPACE) + at
    beside = np.concatenate([letters[spaces - 1], letters[spaces + 1]])  # the last of all is a line break
    if ((beside == _COMMA) | (beside == _BREAK)).any():
        raise NotPlainError


def _around_cells(raw: bytes, marks: np.ndarray) -> bool:
    """Whether each pair of quotation marks has one whole cell in it; ``marks``: commas and line breaks of what is left without them."""
    letters = np.frombuffer(raw, dtype=np.uint8)
    quotes = np.flatnonzero(letters == _QUOTE)
    if len(quotes) % 2:
        return False
    opening, closing = quotes[::2], quotes[1::2]
    # The last is a line break: before the first as behind it.
    for beside in (letters[opening - 1], letters[closing + 1]):
        if not ((beside == _COMMA) | (beside == _BREAK)).all():
            return False
    pairs = 2 * np.arange(len(opening))
    starts, ends = opening - pairs, closing - pairs - 1
    filled = ends > starts
    return bool((marks[np.searchsorted(marks, starts[filled])] == ends[filled]).all())


def words(lines: Lines, place: int, at: int = 0) -> np.ndarray:
    """(lines,) uint64: the eight bytes of each cell of a column from ``at`` on, zeros behind its end."""
    starts, ends = lines.cells(place)
    begin = np.minimum(starts + at, ends) if at else starts
    return lines.eights[begin] & _MASKS.take(np.minimum(ends - begin, AT_ONCE))


def alike_above(lines: Lines, place: int) -> np.ndarray:
    """(lines,) bool: the cell of a column says what that of the line above says."""
    alike = np.ones(len(lines.starts), dtype=bool)
    alike[0] = False
    for at in range(0, lines.longest(place), AT_ONCE):
        some = words(lines, place, at)
        alike[1:] &= some[1:] == some[:-1]
    return alike


def texts_at(lines: Lines, place: int, which: np.ndarray) -> list[str]:
    """The cells of some lines, as text."""
    starts, ends = (bounds[which].astype(np.int64) for bounds in lines.cells(place))
    lengths = ends - starts + 1  # with the comma or line break behind it
    before = np.cumsum(lengths) - lengths
    letters = lines.letters[np.repeat(starts - before, lengths) + np.arange(lengths.sum())]  # fmt: skip
    letters[before + lengths - 1] = _COMMA
    return letters.tobytes().decode().split(",")[:-1]


def distinct(lines: Lines, place: int) -> tuple[np.ndarray, list[bytes]]:
    """(lines,) int: which of the distinct cells of a column each is; and those."""
    parts = [words(lines, place, at) for at in range(0, max(1, lines.longest(place)), AT_ONCE)]
    codes = np.zeros(len(lines.starts), dtype=np.int64)
    for part in parts:
        more, others = pd.factorize(part)
        codes, _ = pd.factorize(codes * len(others) + more)
    first = np.flatnonzero(np.diff(np.maximum.accumulate(codes), prepend=-1))
    return codes, texts_of(np.stack([part[first] for part in parts], axis=1))


def texts_of(some: np.ndarray) -> list[bytes]:
    """(cells,) or (cells, n) of ``words``, one behind the other, as the bytes of each cell."""
    return some.astype("<u8").view(f"S{AT_ONCE * (some.size // max(1, len(some)))}").ravel().tolist()
