"""Headings that stand in two rows: a caption over several columns, and columns named in the upper row alone."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import numpy as np

from dashboard.records.importing.dates import heads_day
from dashboard.records.importing.pages import Page
from dashboard.records.importing.roles import offered

FEWEST = 3  # fruit side by side
_BELOW = 5  # rows looked at below headings
_FRUIT = re.compile(r"(?:f|fr|fruit|no|nr|n|#)?[\s._#-]*0*(\d{1,2})", re.IGNORECASE)
FIGURE = re.compile(r"[-+<>]?\s*\d[\d.,/ ½¼¾-]*")


def continues(page: Page, upper: int) -> bool:
    """Whether the row below goes on with the headings of this one: it names columns that this one leaves open or puts under one caption."""
    if not 0 <= upper < len(page.cells) - 1:
        return False
    above, row = page.cells[upper], page.cells[upper + 1]
    filled = [int(place) for place in np.flatnonzero(row != "")]
    runs = {place for first, end in runs_of([bare(cell) for cell in row]) for place in range(first, end)}
    days = days_over(page.cells, upper + 1)
    runs |= days
    if any(FIGURE.fullmatch(row[place]) for place in filled if place not in runs):
        return False
    if not runs and sum(bool(offered(row[place])[0]) for place in filled) < 2:
        return False
    spans = reach(page, upper)
    if any(above[place] and sum(one in spans[place] for one in filled) < 2 for place in filled):
        return False  # two headings for one column
    return any(offered(above[place])[0] for place in spans if not row[place])


def days_over(cells: np.ndarray, row: int) -> set[int]:
    """The columns of headings that are days side by side, over what is none: below a row of a table in which days stand are days again."""
    days = [place for place, cell in enumerate(cells[row]) if cell and heads_day(cell)]
    below = (
        [cell for cell in cells[row + 1 : row + 1 + _BELOW, days].ravel() if cell] if len(days) > 1 else []
    )
    return set(days) if below and not any(map(heads_day, below)) else set()


def reach(page: Page, line: int) -> dict[int, range]:
    """By column of each filled cell of a row the columns that it is over: as far as it is merged, else up to the next."""
    filled = [int(place) for place in np.flatnonzero(page.cells[line] != "")]
    merged = {left: right for top, left, bottom, right in page.merged if top <= line <= bottom}
    ends = [*filled[1:], page.cells.shape[1]][: len(filled)]
    return {
        place: range(place, merged.get(place, end - 1) + 1) for place, end in zip(filled, ends, strict=True)
    }


def bare(cell: str) -> int:
    found = _FRUIT.fullmatch(cell) if cell else None
    return int(found[1]) if found else 0


def runs_of(numbers: Sequence[int]) -> Iterator[tuple[int, int]]:
    """Stretches 1, 2, 3 … of at least three: first place and the one after the last."""
    start = 0
    while start < len(numbers):
        end = start + 1
        if numbers[start] == 1:
            while end < len(numbers) and numbers[end] == numbers[end - 1] + 1:
                end += 1
            if end - start >= FEWEST:
                yield start, end
        start = end


def groups(
    page: Page, start: int, head: int
) -> tuple[dict[int, tuple[str, tuple[int, int]]], tuple[tuple[int, int], ...]]:
    """By column the label of the row above that groups it, as far as it reaches, and the cells of that row.

    A merged cell reaches as far as it is merged; another as far as the next, over headings that are fruit or that come again.
    """
    if head - 1 < start:
        return {}, ()
    above, row = page.cells[head - 1], page.cells[head]
    filled = [int(place) for place in np.flatnonzero(above != "")]
    runs = list(runs_of([bare(cell) for cell in row]))
    repeated = {cell for cell in row if cell and list(row).count(cell) >= FEWEST}
    merged = {
        (top, left): right
        for top, left, bottom, right in page.merged
        if top <= head - 1 <= bottom or bottom == head - 1
    }
    reach: dict[int, tuple[str, tuple[int, int]]] = {}
    for number, place in enumerate(filled):
        following = filled[number + 1] if number + 1 < len(filled) else len(row)
        run = next((range(first, end) for first, end in runs if first <= place < end), None)
        last = merged.get((head - 1, place), following - 1)
        reached = run if run and (head - 1, place) not in merged else range(place, last + 1)
        over = [
            column
            for column in reached
            if any(first <= column < end for first, end in runs) or row[column] in repeated
        ]
        for column in over:
            reach[column] = (above[place], (head - 1, place))
    used = sorted({at for _, at in reach.values()})
    return reach, tuple(used)
