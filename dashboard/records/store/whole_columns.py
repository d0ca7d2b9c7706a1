"""The bytes of a plain comma-separated file, taken apart as whole columns: where each cell ends, and what its numbers are.

Plain is what has its cells where its commas are: a quotation mark only around a whole cell, no cell with a comma or a line break in it.
"""

from __future__ import annotations

import codecs
import string
from dataclasses import dataclass

import numpy as np
import pandas as pd

# A cell may hold more than its own text with any of these about, or end elsewhere than at a comma.
_NOT_PLAIN = (b"\t", b"\v", b"\f", b"\0", b";", b" ,", b", ", b" \n", b"\n ")
_ORDINARY = (string.ascii_letters + string.digits + "._+-,\n").encode()
_COMMA, _BREAK, _QUOTE = b',\n"'
_PIECE, _SOME = (
    1 << 18,
    1 << 15,
)  # bytes and lines gone through at once: what lies between stays near the processor
_AT_ONCE = 8  # bytes compared as one number
_MASKS = np.array([(1 << 8 * kept) - 1 for kept in range(_AT_ONCE + 1)], dtype=np.uint64)


@dataclass(frozen=True, eq=False)
class Lines:
    """``ends``: (lines, headings) int, where in ``raw`` each cell ends; the headings themselves are no line."""

    headings: tuple[str, ...]
    raw: bytes
    starts: np.ndarray  # (lines,) int
    ends: np.ndarray

    def cells(self, place: int) -> tuple[np.ndarray, np.ndarray]:
        """Where the cells of a column start, and where they end."""
        return (self.ends[:, place - 1] + 1 if place else self.starts), self.ends[:, place]


def lines_of(raw: bytes) -> Lines | None:
    """None where the bytes are not plain, or hold no line below the headings. UnicodeDecodeError where the headings are no text."""
    raw = raw.removeprefix(codecs.BOM_UTF8)
    if b"\r" in raw:
        raw = raw.replace(b"\r\n", b"\n")
    if not raw.endswith(b"\n") or raw.endswith(b"\n\n"):
        raw = raw.rstrip(b"\n") + b"\n"
    bare = raw.translate(None, b'"') if b'"' in raw else raw
    if b"\r" in bare or (bare.translate(None, _ORDINARY) and any(mark in bare for mark in _NOT_PLAIN)):
        return None
    marks, breaks = _marks(bare)
    if bare is not raw and not _around_cells(raw, marks):
        return None
    first = bare.index(b"\n")
    headings = tuple(bare[:first].decode().split(","))
    count, over = divmod(len(marks), len(headings))
    if over or count < 2:
        return None
    ends = marks.reshape(count, len(headings))
    last = ends[:, -1]
    if breaks != count or not (np.frombuffer(bare, dtype=np.uint8)[last] == _BREAK).all():
        return None  # a line has other than so many cells
    return Lines(headings, bare, last[:-1] + 1, ends[1:])


def _marks(raw: bytes) -> tuple[np.ndarray, int]:
    """Where the commas and line breaks are, and how many line breaks."""
    letters = np.frombuffer(raw, dtype=np.uint8)
    found = []
    count = 0
    for at in range(0, len(letters), _PIECE):
        some = letters[at : at + _PIECE]
        breaks = some == _BREAK
        count += int(np.count_nonzero(breaks))
        found.append(np.flatnonzero(breaks | (some == _COMMA)).astype(np.int32))
        found[-1] += at
    return np.concatenate(found), count


def _around_cells(raw: bytes, marks: np.ndarray) -> bool:
    """Whether each pair of quotation marks has one whole cell in it; ``marks``: commas and line breaks of what is left without them."""
    letters = np.frombuffer(raw, dtype=np.uint8)
    quotes = np.flatnonzero(letters == _QUOTE)
    if len(quotes) % 2:
        return False
    opening, closing = quotes[::2], quotes[1::2]
    for beside in (
        letters[opening - 1],
        letters[closing + 1],
    ):  # the last is a line break: before the first as behind it
        if not ((beside == _COMMA) | (beside == _BREAK)).all():
            return False
    pairs = 2 * np.arange(len(opening))
    starts, ends = opening - pairs, closing - pairs - 1
    filled = ends > starts
    return bool((marks[np.searchsorted(marks, starts[filled])] == ends[filled]).all())


def words(lines: Lines, place: int, at: int = 0) -> np.ndarray:
    """(lines,) uint64: the eight bytes of each cell of a column from ``at`` on, zeros behind its end."""
    starts, ends = lines.cells(place)
    eights = np.ndarray(len(lines.raw) - _AT_ONCE + 1, "<u8", lines.raw, strides=(1,))
    found = np.empty(len(ends), dtype=np.uint64)
    for first in range(0, len(ends), _SOME):
        some = slice(first, first + _SOME)
        begin, end = starts[some], ends[some]
        begin = np.minimum(begin + at, end) if at else begin
        lengths = np.minimum(end - begin, _AT_ONCE)
        inside = int(
            np.searchsorted(begin, begin.dtype.type(len(eights)))
        )  # the last cells end too close to the end of all
        found[first : first + inside] = eights[begin[:inside]] & _MASKS[lengths[:inside]]
        last = zip(begin[inside:].tolist(), lengths[inside:].tolist(), strict=True)
        found[first + inside : first + len(begin)] = [
            int.from_bytes(lines.raw[one : one + length], "little") for one, length in last
        ]
    return found


def alike_above(lines: Lines, place: int) -> np.ndarray:
    """(lines,) bool: the cell of a column says what that of the line above says."""
    starts, ends = lines.cells(place)
    alike = np.ones(len(starts), dtype=bool)
    alike[0] = False
    for at in range(0, int((ends - starts).max()), _AT_ONCE):
        some = words(lines, place, at)
        alike[1:] &= some[1:] == some[:-1]
    return alike


def texts_at(lines: Lines, place: int, which: np.ndarray) -> list[str]:
    """The cells of some lines, as text."""
    starts, ends = (bounds[which].astype(np.int64) for bounds in lines.cells(place))
    lengths = ends - starts + 1  # with the comma or line break behind it
    before = np.cumsum(lengths) - lengths
    letters = np.frombuffer(lines.raw, dtype=np.uint8)[np.repeat(starts - before, lengths) + np.arange(lengths.sum())]  # fmt: skip
    letters[before + lengths - 1] = _COMMA
    return letters.tobytes().decode().split(",")[:-1]


def distinct(lines: Lines, place: int) -> tuple[np.ndarray, np.ndarray]:
    """(lines,) int: which of the distinct cells of a column each is; and those as text, (distinct,) object of str."""
    starts, ends = lines.cells(place)
    if int((ends - starts).max(initial=0)) <= _AT_ONCE:
        codes, some = pd.factorize(words(lines, place))
        cells = [bytes(one).rstrip(b"\0").decode() for one in some.astype("<u8").view(f"V{_AT_ONCE}")]
    else:
        bounds = zip(starts.tolist(), ends.tolist(), strict=True)
        codes, some = pd.factorize(np.array([lines.raw[start:end] for start, end in bounds], dtype=object))
        cells = [one.decode() for one in some]
    return codes, np.array(cells, dtype=object)
