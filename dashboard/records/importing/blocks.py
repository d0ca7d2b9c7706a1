"""Where on a page the tables stand: their headings under titles, ten fruit side by side, the rows below.

A block is one row of headings with all that belongs to it: the titles above, a row that groups the headings, the rows down to the
next block. What was found here is shown before anything is read, and can be put right.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
import pandas as pd

from dashboard.records.importing.captions import FEWEST, FIGURE, bare, continues, days_over, groups, runs_of
from dashboard.records.importing.dates import heads_day
from dashboard.records.importing.pages import Page, column_letter
from dashboard.records.importing.roles import NUMBER, READINGS, WHICH, offered, word

_LOOKED_AT = 60  # rows of a page among which the first headings are looked for
_TITLE = 3  # cells of a title between two tables, at most
_NUMBERED = re.compile(r"(.*?[^\d\s._#-])[\s._#-]*(?:f|fr|fruit|#)?[\s._#-]*0*(\d{1,2})", re.IGNORECASE)
_LED = re.compile(r"(?:f|fr|fruit)\s*0*(\d{1,2})[\s._-]+(\S.*)", re.IGNORECASE)
_SHIFTED = "has a cell beyond the last heading, so others may stand under the wrong one; the row is set aside"


@dataclass(frozen=True)
class Heading:
    """One column of a block, or several that hold the same of fruit 1 … k: ``columns`` by the fruit's number (0: of none)."""

    label: str  # as it is shown and kept in the mapping
    columns: tuple[tuple[int, int], ...]  # (fruit, column of the page)
    at: tuple[tuple[int, int], ...]  # (row, column) of the cells that say so

    @property
    def wide(self) -> bool:
        return len(self.columns) > 1

    @property
    def letters(self) -> str:
        first, last = column_letter(self.columns[0][1]), column_letter(self.columns[-1][1])
        return first if first == last else f"{first}–{last}"


@dataclass(frozen=True, eq=False)
class Block:
    page: Page
    head: int  # the row of the page that holds the headings
    headings: tuple[Heading, ...]
    rows: np.ndarray  # (n,) rows of the page below, those with anything in them
    titles: tuple[tuple[str, int, int], ...]  # key, row and column of each filled cell above
    strays: tuple[tuple[int, int], ...]  # filled cells under no heading
    again: tuple[tuple[int, int], ...] = ()  # cells of headings that are written anew further down
    torn: Mapping[int, str] = field(
        default_factory=dict
    )  # rows whose cells may stand under the wrong heading, and why
    across: str = ""  # of one day of a table with days across, the label of the heading that is the day
    table: np.ndarray | None = None  # the rows of that table, of which ``rows`` have something under this day
    others: frozenset[int] = frozenset()  # the columns of its other days

    @property
    def day(self) -> tuple[int, int]:
        """The cell that says the day, of one of a table with days across."""
        return next(heading.at[0] for heading in self.headings if heading.label == self.across)

    @property
    def shape(self) -> tuple[str, ...]:
        return tuple(heading.label for heading in self.headings)

    @property
    def name(self) -> str:
        return self.page.name

    def part(self, rows: np.ndarray, columns: Sequence[int]) -> np.ndarray:
        """(rows, columns) of the page's cells."""
        return self.page.cells[rows[:, None], np.array(columns, dtype=int)]


def blocks(page: Page, head: int | None = None) -> list[Block]:
    """The blocks of a page; ``head`` is the place of its headings where somebody has said it. None found: no block."""
    heads = [head] if head is not None else _heads(page.cells)
    heads = list(dict.fromkeys(row + 1 if continues(page, row) else row for row in heads))
    found: list[Block] = []
    for number, (row, end) in enumerate(zip(heads, [*heads[1:], len(page.cells)], strict=False)):
        start = 0 if number == 0 else _title_start(page, heads[number - 1], row)
        stop = end if number == len(heads) - 1 else _title_start(page, row, end)
        found.append(_block(page, start, row, stop))
    return _joined(found)


def _joined(found: list[Block]) -> list[Block]:
    """Headings written anew, as on each sheet of paper, go on with the block before where nothing else stands between."""
    kept: list[Block] = []
    for one in found:
        last = kept[-1] if kept else None
        if last is not None and last.shape == one.shape and not one.titles:
            cells = tuple(place for heading in one.headings for place in heading.at)
            kept[-1] = Block(
                last.page, last.head, last.headings, np.concatenate([last.rows, one.rows]), last.titles,
                last.strays + one.strays, last.again + cells, {**last.torn, **one.torn},
            )  # fmt: skip
        else:
            kept.append(one)
    return kept


def _heads(cells: np.ndarray) -> list[int]:
    """Rows that hold headings: two words that columns are called by, or one beside a run of fruit."""
    first = list(range(min(_LOOKED_AT, len(cells))))
    heads = [row for row in (*first, *_further(cells)) if _is_head(cells[row], days_over(cells, row))]
    if heads:
        width = max(_filled(cells[row]) for row in heads)
        return [row for row in heads if _filled(cells[row]) >= max(2, width / 3)]
    for row in range(min(_LOOKED_AT, len(cells) - 1)):  # no word is known: text over figures
        below = [cell for cell in cells[row + 1] if cell]
        if (
            _filled(cells[row]) >= 3
            and _text_only(cells[row])
            and sum(bool(FIGURE.fullmatch(c)) for c in below) >= 2
        ):
            return [row]
    return []


def _further(cells: np.ndarray) -> list[int]:
    """Rows further down in which two cells are words that columns are called by; a column is looked through by its values."""
    known = np.zeros(max(0, len(cells) - _LOOKED_AT), dtype=int)
    for column in cells[_LOOKED_AT:].T:
        codes, values = pd.factorize(column)
        known += np.array([word(value) or heads_day(value) for value in values], dtype=bool)[codes] if len(values) else 0  # fmt: skip
    return (np.flatnonzero(known >= 2) + _LOOKED_AT).tolist()


def _text_only(row: Sequence[str]) -> bool:
    """Headings may be figures (1 … 10), and yet not mostly."""
    filled = [cell for cell in row if cell]
    return bool(filled) and not FIGURE.fullmatch(filled[0])


def _is_head(row: Sequence[str], days: Collection[int]) -> bool:
    beside = {place for first, end in runs_of([bare(cell) for cell in row]) for place in range(first, end)}
    beside |= {*days}
    if any(FIGURE.fullmatch(cell) for place, cell in enumerate(row) if cell and place not in beside):
        return False  # a row of figures, though one of its words may be a heading elsewhere
    known = {offered(cell)[0] for cell in row if cell and len(cell) <= 60} - {""}
    several = len({number for cell in row if (number := _numbered(cell))}) >= FEWEST
    return len(known - {NUMBER}) >= 2 or (bool(known) and (bool(beside) or several))


def _filled(row: Sequence[str]) -> int:
    return sum(bool(cell) for cell in row)


def _numbered(cell: str) -> tuple[str, int] | None:
    """suture 3, Brix F3, F3 suture: what it is of, and the fruit."""
    led = _LED.fullmatch(cell)
    if led:
        return led[2].strip(), int(led[1])
    found = _NUMBERED.fullmatch(cell)
    return (found[1].strip(), int(found[2])) if found else None


def _title_start(page: Page, above: int, head: int) -> int:
    """Where the titles of a block below another begin: after the last empty row, else with rows of one cell alone."""
    cells, head = page.cells, _top(page, above, head)
    empty = [row for row in range(above + 1, head) if not _filled(cells[row])]
    if empty and all(_filled(cells[row]) <= _TITLE for row in range(empty[-1] + 1, head)):
        return empty[-1] + 1
    row = head
    while row > above + 1 and _filled(cells[row - 1]) == 1:
        row -= 1
    return row


def _top(page: Page, above: int, head: int) -> int:
    """The upper row of headings that stand in two rows, or of captions over fruit side by side."""
    upper = head - 1
    if upper <= above:
        return head
    over = np.flatnonzero(page.cells[upper] != "")
    run = next(runs_of([bare(cell) for cell in page.cells[head]]), None)
    captions = run is not None and len(over) > 0 and over[0] >= run[0] and not any(FIGURE.fullmatch(page.cells[upper, place]) for place in over)  # fmt: skip
    return upper if captions or continues(page, upper) else head


def _block(page: Page, start: int, head: int, stop: int) -> Block:
    cells = page.cells
    row, line = cells[head], np.full(cells.shape[1], head)
    captions: set[tuple[int, int]] = set()
    over, group_row = groups(page, start, head)
    if head > start and continues(page, head - 1):  # columns that the row above names alone
        alone = (row == "") & (cells[head - 1] != "")
        row, line = np.where(alone, cells[head - 1], row), np.where(alone, head - 1, head)
        captions = {(head - 1, int(place)) for place in np.flatnonzero((cells[head - 1] != "") & ~alone)} - set(group_row)  # fmt: skip
    headings: list[Heading] = []
    runs = dict(runs_of([bare(cell) for cell in row]))
    fruit_above = {column: bare(label) for column, (label, _) in over.items() if bare(label)}
    compound: dict[str, list[tuple[int, int]]] = {}
    column = 0
    while column < len(row):
        if column in runs:
            end = runs[column]
            label, at = next((over[place] for place in range(column, end) if place in over), ("", (-1, -1)))
            members = tuple((number + 1, place) for number, place in enumerate(range(column, end)))
            places = tuple((head, place) for place in range(column, end))
            headings.append(
                Heading(
                    f"{label or _of_sheet(page, row)} 1–{end - column}".strip(),
                    members,
                    places + ((at,) if at[0] >= 0 and label else ()),
                )
            )
            column = end
            continue
        if (cell := row[column]) and column in fruit_above:
            compound.setdefault(cell, []).append((fruit_above[column], column))
        elif cell and not heads_day(cell) and (told := _numbered(cell)):
            compound.setdefault(told[0], []).append((told[1], column))
        elif cell:
            headings.append(Heading(cell, ((0, column),), ((int(line[column]), column),)))
        column += 1
    for base, several in compound.items():
        numbers = [number for number, _ in several]
        if numbers == list(range(1, len(several) + 1)) and len(several) >= FEWEST:
            headings.append(
                Heading(
                    f"{base} 1–{len(several)}", tuple(several), tuple((head, place) for _, place in several)
                )
            )
        else:
            headings += [Heading(row[place], ((0, place),), ((head, place),)) for _, place in several]
    headings += _unheaded(page, headings, np.arange(head + 1, stop))
    headings.sort(key=lambda one: one.columns[0][1])
    headings = _told_apart(headings)
    used = {place for heading in headings for _, place in heading.columns}
    said = {at for heading in headings for at in heading.at} | set(group_row) | captions
    titles = tuple(
        (f"{column_letter(place)}, {head - at} above", at, place)
        for at in range(start, head) for place in np.flatnonzero(cells[at] != "").tolist()
        if (at, place) not in said
    )  # fmt: skip
    below = np.arange(head + 1, stop)
    filled = (
        (cells[below] != "").any(axis=1)
        if len(below) and cells.shape[1]
        else np.zeros(len(below), dtype=bool)
    )
    rows = below[filled]
    beyond = [place for place in range(cells.shape[1]) if place not in used]
    strays = tuple((int(at), place) for place in beyond for at in rows[cells[rows, place] != ""])
    grouped = tuple(place for place in (*group_row, *sorted(captions)) if place not in said - set(group_row) - captions)  # fmt: skip
    torn = {int(row): page.torn[int(row)] for row in rows if int(row) in page.torn}
    if not page.sheet and used:  # a cell too many in a text file may have shifted the others
        torn |= {row: _SHIFTED for row, place in strays if place > max(used)}
    kept = np.array([row for row in rows if int(row) not in torn], dtype=int) if torn else rows
    strays = tuple((row, place) for row, place in strays if row not in torn)
    return Block(page, head, tuple(headings), kept, titles, strays, grouped, torn)


def _of_sheet(page: Page, row: Sequence[str]) -> str:
    """The reading that a sheet or file is called by, where it has one to itself; "" where each row names its own."""
    name = page.sheet or page.stem
    return name if offered(name)[0] in READINGS and WHICH not in {offered(cell)[0] for cell in row} else ""


def _unheaded(page: Page, headings: list[Heading], below: np.ndarray) -> list[Heading]:
    """Columns under no heading that most rows fill: what they hold is asked. Beyond the headings of a text file a cell may only be shifted."""
    used = {place for heading in headings for _, place in heading.columns}
    filled = page.cells[below] != ""
    rows = int(filled.any(axis=1).sum()) if len(below) else 0
    width = page.cells.shape[1] if page.sheet else max(used, default=-1) + 1
    open_ = [place for place in range(width) if place not in used and rows]
    return [
        Heading(f"column {column_letter(place)}", ((0, place),), ())
        for place in open_ if (count := int(filled[:, place].sum())) > 1 and 2 * count >= rows
    ]  # fmt: skip


def _told_apart(headings: list[Heading]) -> list[Heading]:
    """Headings that are written alike get their letters, so that each has a name of its own."""
    labels = [heading.label for heading in headings]
    return [
        heading
        if labels.count(heading.label) == 1
        else Heading(f"{heading.label} ({heading.letters})", heading.columns, heading.at)
        for heading in headings
    ]
