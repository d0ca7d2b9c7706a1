"""Text stays text: what a file holds is never taken for a page or a formula."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence

import numpy as np

from dashboard.records.advice import Said, unseen_fault

NAME_LENGTH = 80
LONGEST = 32_767  # characters, as many as a spreadsheet's cell may hold

# Nearly every cell; what does not match is looked at one by one.
_ORDINARY = re.compile(rf"[A-Za-z0-9][A-Za-z0-9 ._,:()/'+#-]{{0,{NAME_LENGTH - 1}}}")
_ALL_ORDINARY = re.compile(rf"(?:{_ORDINARY.pattern}\n)*")
_MARKUP = re.compile(r"<[a-zA-Z/!?]|&#?\w+;")
_FORMULA = re.compile(r"[=@+\-＝＠＋－](?![\s\d.]|$)|[=+\-@＝＋－＠][\d.]*[^\d.\s]")
# What a spreadsheet may take for the start of a formula; some do so with the wide forms of East Asian type (U+FF1D …) too.
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "＝", "＋", "－", "＠")

# How a workbook is written: what a cell is given as text stays text.
AS_TEXT = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_urls": False,
    "strings_to_numbers": False,
}

# Marks that turn the direction of what follows, or have no width: two names would look the same and differ.
_UNSEEN = frozenset(
    "\u00ad\u200b\u200e\u200f\u2060\ufeff"
    + "".join(map(chr, (*range(0x202A, 0x202F), *range(0x2066, 0x206A))))
)


def plain_cell(text: str) -> str:
    """Text with an apostrophe before it where a spreadsheet would work it out; ``without_mark`` takes it away."""
    return "'" + text if text.startswith(FORMULA_STARTS) else text


def without_mark(cell: str) -> str:
    """Text without the apostrophe that keeps a spreadsheet from working it out."""
    return cell[1:] if cell.startswith("'") and cell[1:].startswith(FORMULA_STARTS) else cell


def all_ordinary(cells: Sequence[str]) -> bool:
    """Whether ``texts`` would say nothing of any of them and leave each as it is."""
    text = "\n".join([*cells, ""])
    return "  " not in text and text.count("\n") == len(cells) and bool(_ALL_ORDINARY.fullmatch(text))


def texts(
    cells: np.ndarray, note: bool
) -> tuple[list[str | None], list[tuple[int, Said]], list[tuple[int, Said]]]:
    """The text of each cell (None where empty or refused), the faults and the flags, each with its index.

    Runs of spaces and line breaks become one space, letters take their composed form, and the apostrophe
    that a spreadsheet puts before =, +, - or @ is taken away.
    """
    values: list[str | None] = list(cells)
    faults: list[tuple[int, Said]] = []
    flags: list[tuple[int, Said]] = []
    for index, cell in enumerate(values):
        if cell and _ORDINARY.fullmatch(cell) and "  " not in cell:
            continue
        if not cell:
            values[index] = None
            continue
        if len(cell) > LONGEST:
            values[index] = None
            faults.append((index, (f"has {len(cell):,} characters, more than {LONGEST:,}", "shorten it")))
            continue
        text = unicodedata.normalize("NFC", " ".join(cell.split()))
        if not text.isprintable() and any(  # none of these is printable, and most text is
            letter in _UNSEEN or unicodedata.category(letter) in ("Cc", "Cs", "Co", "Cn") for letter in text
        ):
            values[index] = None
            faults.append((index, unseen_fault()))
            continue
        values[index] = text = without_mark(text)
        flags += [(index, said) for said in _suspicions(text, note)]
    return values, faults, flags


def _suspicions(text: str, note: bool) -> list[Said]:
    said: list[Said] = []
    if _MARKUP.search(text):
        said.append(
            ("looks like a page's markup and is kept as plain text", "take it out if it is not meant")
        )
    if _FORMULA.match(text):
        said.append(("looks like a formula and is kept as plain text", "take it out if it is not meant"))
    if not note and len(text) > NAME_LENGTH:
        said.append(
            (
                f"has {len(text)} characters, more than {NAME_LENGTH}",
                "use a shorter name and keep the rest in the note",
            )
        )
    return said
