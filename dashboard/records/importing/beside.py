"""Two tables side by side on one sheet, each with names of its own: each is read by itself.

Read as one table, the figures of the right one would stand under the names of the left. Names that only come again, the same in every
row, so that a wide sheet can be read, part nothing.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from dashboard.records.importing.blocks import Block, blocks
from dashboard.records.importing.pages import Page, column_letter
from dashboard.records.importing.roles import offered
from dashboard.records.names import plain

Cell = tuple[int, int, int]  # page, row, column
_APART = re.compile(r" \([A-Z]+(–[A-Z]+)?\)$")  # the letters by which headings that are alike are told apart
_ROWS, _LETTERS = 60, 60  # rows among which headings are looked for, and how long one is at most


def parted(pages: Sequence[Page], cells: Sequence[Cell]) -> tuple[list[Page], list[Cell]]:
    """The pages, one with tables side by side as one a table that has the cells of its columns alone; and ``cells`` as they are numbered then."""
    found: list[Page] = []
    moved: list[Cell] = []
    for number, page in enumerate(pages):
        starts = [0, *_starts(page)]
        moved += [(len(found) + sum(start <= column for start in starts) - 1, row, column) for one, row, column in cells if one == number]  # fmt: skip
        found += _parts(page, starts) if len(starts) > 1 else [page]
    return found, moved


def _parts(page: Page, starts: Sequence[int]) -> list[Page]:
    parts = []
    for first, end in pairwise([*starts, page.cells.shape[1]]):
        cells = np.full_like(page.cells, "")
        cells[:, first:end] = page.cells[:, first:end]
        merged = tuple(one for one in page.merged if first <= one[1] < end)
        days = frozenset(one for one in page.days if first <= one[1] < end)
        part = f"columns {column_letter(first)} to {column_letter(end - 1)}"
        parts.append(replace(page, cells=cells, merged=merged, days=days, part=part))
    return parts


def _starts(page: Page) -> list[int]:
    """The first columns of tables beside the first."""
    named = [sum(offered(cell)[0] == "cultivar" for cell in row if 0 < len(cell) <= _LETTERS) for row in page.cells[:_ROWS]]  # fmt: skip
    if max(named, default=0) < 2:
        return []
    return next((found for block in blocks(page) if (found := _beside(block))), [])


def _beside(block: Block) -> list[int]:
    """The columns of names, beyond the first, that hold others in the same rows; each table has something beside its names."""
    head = {one.columns[0][1]: str(block.page.cells[one.at[0]]) for one in block.headings if not one.wide and one.at}  # fmt: skip
    named = [place for place, word in head.items() if offered(word)[0] == "cultivar"]
    alike = {place: plain(head[place]) == plain(head[named[0]]) for place in named}
    starts = [place for place in named[1:] if _others(block, named[0], place, alike[place]) or (alike[place] and _again(block, place))]  # fmt: skip
    used = [column for one in block.headings for _, column in one.columns]
    ends = pairwise([*named[:1], *starts, block.page.cells.shape[1]])
    return starts if all(any(first < place < end for place in used) for first, end in ends) else []


def _others(block: Block, first: int, place: int, alike: bool) -> bool:
    """Whether a row has a name here that stands in another row there, or, under ``alike`` headings, most have another name."""
    names = block.part(block.rows, [first, place])
    both = [(plain(one), plain(other)) for one, other in names[(names != "").all(axis=1)]]
    there = {plain(one) for one in names[:, 0] if one}
    differ = [other for one, other in both if one != other]
    return any(other in there for other in differ) or (alike and 2 * len(differ) > len(both))


def _again(block: Block, place: int) -> bool:
    """Whether all headings to the left of these names stand again to the right: of one fruit nothing is read twice."""
    sides: tuple[set[str], set[str]] = (set(), set())
    for one in block.headings:
        sides[one.columns[0][1] >= place].add(plain(_APART.sub("", one.label)))
    return sides[0] <= sides[1] and len(sides[0]) > 1
