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
_PIECE = 1 << 18
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
    marks = _marks(bare)
    if bare is not raw and not _around_cells(raw, marks):
        return None
    first = bare.index(b"\n")
    headings = tuple(bare[:first].decode().split(","))
    count, over = divmod(len(marks), len(headings))
    if over or count < 2:
        return None
    ends = marks.reshape(count, len(headings))
    breaks = ends[:, -1]
    if not (np.frombuffer(bare, dtype=np.uint8)[breaks] == _BREAK).all() or bare.count(b"\n") != count:
        return None  # a line has other than so many cells
    return Lines(headings, bare, breaks[:-1] + 1, ends[1:])


def _marks(raw: bytes) -> np.ndarray:
    """Where the commas and line breaks are; piece by piece, so that what lies between stays near the processor."""
    letters = np.frombuffer(raw, dtype=np.uint8)
    found = []
    for at in range(0, len(letters), _PIECE):
        some = letters[at : at + _PIECE]
        found.append(np.flatnonzero((some == _COMMA) | (some == _BREAK)).astype(np.int32))
        found[-1] += at
    return np.concatenate(found)


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
    starts = np.minimum(starts + at, ends) if at else starts
    lengths = np.minimum(ends - starts, _AT_ONCE)
    eights = np.ndarray(len(lines.raw) - _AT_ONCE + 1, "<u8", lines.raw, strides=(1,))
    inside = int(
        np.searchsorted(starts, starts.dtype.type(len(eights)))
    )  # the last cells end too close to the end of all
    found = np.empty(len(starts), dtype=np.uint64)
    found[:inside] = eights[starts[:inside]] & _MASKS[lengths[:inside]]
    last = zip(starts[inside:].tolist(), lengths[inside:].tolist(), strict=True)
    found[inside:] = [int.from_bytes(lines.raw[start : start + length], "little") for start, length in last]
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
