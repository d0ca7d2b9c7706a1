"""A table with days across: under each day one reading or rating of every row. It is taken apart into a table a day, each read as any other.

What the rows are called stands in all of them. A cell belongs to one day alone, so that what is wrong with one takes no other with it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from dashboard.records.importing.blocks import Block, Heading
from dashboard.records.importing.captions import days_over
from dashboard.records.importing.pages import Page

ASKS = "these headings are days; what are the figures under all of them?"


def by_day(found: Sequence[Block]) -> list[Block]:
    """The blocks of a page, each that has days across as one a day. Their shape is of this table alone: another may hold another reading."""
    parted: list[Block] = []
    tables = 0
    for block in found:
        over = days_over(block.page.cells, block.head)
        days = [one for one in block.headings if not one.wide and one.at and one.columns[0][1] in over]
        if not days or any(heading.wide for heading in block.headings):
            parted.append(block)
            continue
        tables += 1
        label = f"days across, {block.name}" + (f", table {tables}" if tables > 1 else "")
        parted += _apart(block, days, label)
    return parted


def _apart(block: Block, days: Sequence[Heading], label: str) -> list[Block]:
    beside = [heading for heading in block.headings if heading not in days]
    columns = [heading.columns[0][1] for heading in days]
    filled = block.part(block.rows, columns) != ""
    filled[~filled.any(axis=1), 0] = True  # rows without any reading are told of once
    first = True
    parted = []
    for place, day in enumerate(days):
        headings = sorted([*beside, Heading(label, day.columns, day.at)], key=lambda one: one.columns[0][1])
        one = replace(
            block, headings=tuple(headings), rows=block.rows[filled[:, place]], across=label, table=block.rows,
            others=frozenset(columns) - {columns[place]},
        )  # fmt: skip
        parted.append(one if first else replace(one, strays=(), again=(), torn={}))
        first = False
    return parted


def days_of(blocks: Sequence[Block], held: bool = False) -> dict[Page, list[str]]:
    """By page the headings that are days; ``held``: those whose cell holds a date and no text."""
    found: dict[Page, list[str]] = {}
    for block in blocks:
        if block.across and (not held or block.day in block.page.days):
            found.setdefault(block.page, []).append(str(block.page.cells[block.day]))
    return found


def own_columns(block: Block, row: int, whole: bool = False) -> np.ndarray:
    """The filled cells of a row that are of this block; of a table with days across that of its day, with what the row is called where that is
    empty or the ``whole`` is asked for."""
    filled = np.flatnonzero(block.page.cells[row] != "")
    if not block.across:
        return filled
    day = block.day[1]
    return np.array([day]) if day in filled and not whole else np.array([one for one in filled if one not in block.others], dtype=int)  # fmt: skip
