"""The sheet for one site and day, ten fruit side by side: what stands where on it, and how it is read as samples and their fruit.

A cultivar has five rows, one a reading, in the order of the instruments; what is judged of the whole sample stands in the first of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from dashboard.records.declaration import Declaration
from dashboard.records.importing.ledger import NOWHERE, Ledger
from dashboard.records.importing.own import Own
from dashboard.records.importing.pages import Page
from dashboard.records.not_used import plain
from dashboard.records.schema import RATINGS, TABLES
from dashboard.records.sheets import Sheet

SHEET, NAMES = "bench", "names"
FRUIT = 10
HEAD = 3  # place of the row of headings, below site and day
READINGS = ("suture_mm", "cross_mm", "firmness_1_n", "firmness_2_n", "ssc_brix")
PLACE = ("row", "position", "expected")  # where to walk, and when it should be ripe: for the reader, not read
JUDGED = (*RATINGS, "split_pit_pct", "cracked_tip_pct", "note")
HEADINGS = ("cultivar", *PLACE, "pick", "reading", *map(str, range(1, FRUIT + 1)), *JUDGED)
JUICE = TABLES["samples"].by_name[
    "juice_temp_c"
]  # a last column, where the refractometer does not correct for it
_READING = HEADINGS.index("reading")
_FIRST = _READING + 1  # the column of the first fruit


def is_bench(page: Page) -> bool:
    """Whether a page is such a sheet, or the file of the bench page, with nothing moved."""
    cells = page.cells
    if page.sheet.strip().lower() not in (SHEET, "") or page.rows[0] != 1 or cells.shape[0] <= HEAD or cells.shape[1] < len(HEADINGS):  # fmt: skip
        return False
    return tuple(cells[HEAD, : len(HEADINGS)]) == HEADINGS and tuple(cells[:2, 0]) == ("site", "date")


def _judged(page: Page) -> dict[str, int]:
    """By heading the columns of what is judged, or measured, once a sample."""
    last = len(HEADINGS)
    more = [plain(cell) for cell in page.cells[HEAD, last : last + 1]]
    return {name: HEADINGS.index(name) for name in JUDGED} | {name: last for name in more if name in JUICE.spellings}  # fmt: skip


def sample_name(site: str, day: str, cultivar: str, pick: str) -> str:
    """What a sample is called whose sheet gives it no name."""
    return f"{site} {day} {cultivar}" + (f" {pick}" if pick else "")


def on_bench(page: Page, place: int, declaration: Declaration, ledger: Ledger) -> Iterator[Own]:
    """Samples and fruit of the sheet; cultivars that were not picked are left out, and what stands in no group of five is set aside."""
    for line in range(HEAD + 1):
        for column in (*range(len(HEADINGS)), *(at for at in _judged(page).values() if at == len(HEADINGS))):
            ledger.read(ledger.codes(place, np.array([line]), column))
    groups: dict[tuple[str, ...], list[int]] = {}
    for first in _groups(page, place, ledger):
        if _taken(page, place, first, ledger):
            groups.setdefault(tuple(page.cells[first : first + len(READINGS), _READING]), []).append(first)
    for words, firsts in groups.items():
        yield _samples(page, place, firsts, declaration, ledger)
        yield _fruit(page, place, firsts, words, declaration, ledger)


def _groups(page: Page, place: int, ledger: Ledger) -> Iterator[int]:
    """The first rows of each five."""
    spelled = [set(TABLES["fruit"].by_name[name].spellings) for name in READINGS]
    words = [plain(cell) for cell in page.cells[:, _READING]]
    row = HEAD + 1
    while row < len(words):
        whole = len(words) >= row + len(READINGS)
        if whole and all(words[row + at] in some for at, some in enumerate(spelled)):
            yield row
            row += len(READINGS)
            continue
        said = "is outside the five rows of a cultivar, so nobody can tell whose it is", "keep the five rows of a cultivar together, in their order"  # fmt: skip
        ledger.aside(_filled(page, place, row, range(page.cells.shape[1]), ledger), *said)
        row += 1


def _taken(page: Page, place: int, first: int, ledger: Ledger) -> bool:
    """Whether anything was measured or judged of a cultivar; all that is no value of its sample is marked on the way."""
    rows = range(first, first + len(READINGS))
    judged = list(_judged(page).values())
    columns = [0, HEADINGS.index("pick"), *judged]
    figures = range(_FIRST, _FIRST + FRUIT)
    taken = bool((page.cells[first : first + len(READINGS), list(figures)] != "").any() or (page.cells[first, judged] != "").any())  # fmt: skip
    for row in rows:
        for column in [
            *(HEADINGS.index(name) for name in PLACE),
            *(() if taken else (0, HEADINGS.index("pick"), _READING)),
        ]:
            ledger.unused(ledger.codes(place, np.array([row]), column))
        for column in (_READING, *(columns if row > first else ())) if taken else judged:
            cell, code = page.cells[row, column], ledger.codes(place, np.array([row]), column)
            if column == _READING or cell == page.cells[first, column]:
                ledger.read(code)
            elif cell:
                said = "stands below the first of the five rows of its cultivar, and only that one counts", "write it in the first row"  # fmt: skip
                ledger.aside(code, *said)
    if taken and not page.cells[first, 0]:
        said = "has readings and no cultivar, so they are set aside", "choose the cultivar in the first of the five rows"  # fmt: skip
        codes = [code for row in rows for code in _filled(page, place, row, [*figures, *columns], ledger)]
        ledger.aside(codes, *said)
        return False
    return taken


def _filled(page: Page, place: int, row: int, columns: Sequence[int] | range, ledger: Ledger) -> list[int]:
    return [int(ledger.codes(place, np.array([row]), column)[0]) for column in columns if page.cells[row, column] != ""]  # fmt: skip


def _names(page: Page, firsts: Sequence[int]) -> list[str]:
    pick = HEADINGS.index("pick")
    return [sample_name(page.cells[0, 1], page.cells[1, 1], page.cells[row, 0], page.cells[row, pick]) for row in firsts]  # fmt: skip


def _samples(page: Page, place: int, firsts: list[int], declaration: Declaration, ledger: Ledger) -> Own:
    rows = np.array(firsts)
    judged = _judged(page)
    headings = ("sample", "cultivar", "site", "date", "pick", *judged)
    cells, codes = [np.array(_names(page, firsts), dtype=object)], [np.full(len(rows), NOWHERE)]
    for name in headings[1:]:
        above = name in ("site", "date")
        at: np.ndarray = np.full(len(rows), int(name == "date")) if above else rows
        column = 1 if above else judged[name] if name in judged else HEADINGS.index(name)
        cells.append(page.cells[at, column])
        codes.append(ledger.codes(place, at, column))
    sheet = Sheet("samples", page.file, page.sheet, headings, page.rows[rows], tuple(cells))
    return Own(sheet, declaration, np.full(len(headings), NOWHERE), np.array(codes, dtype=np.int64))


def _fruit(page: Page, place: int, firsts: list[int], words: tuple[str, ...], declaration: Declaration, ledger: Ledger) -> Own:  # fmt: skip
    """One row a fruit with anything measured, numbered by the first row of its cultivar and its own number."""
    each = FRUIT + 1
    owner, numbers, rows = [], [], []
    for first, name in zip(firsts, _names(page, firsts), strict=True):
        block = page.cells[first : first + len(READINGS), _FIRST : _FIRST + FRUIT]
        for fruit in np.flatnonzero((block != "").any(axis=0)).tolist():
            owner.append(name)
            numbers.append(str(fruit + 1))
            rows.append((first, fruit))
    lines, number = (np.array([one[at] for one in rows], dtype=int) for at in (0, 1))
    cells = [np.array(owner, dtype=object), np.array(numbers, dtype=object)]
    codes = [np.full(len(rows), NOWHERE), np.full(len(rows), NOWHERE)]
    for at in range(len(READINGS)):
        cells.append(page.cells[lines + at, _FIRST + number])
        codes.append((ledger.codes(place, lines + at, 0) + _FIRST + number).astype(np.int64))
    sheet = Sheet(
        "fruit", page.file, page.sheet, ("sample", "fruit", *words), page.rows[lines] * each + number, tuple(cells)
    )  # fmt: skip
    return Own(
        sheet, declaration, np.full(len(sheet.headings), NOWHERE), np.array(codes, dtype=np.int64), each
    )
