"""Pages that are tables of ours already: of the empty workbook, or of records that were written out. Nobody is asked about them.

Name, headings and units are the schema's, so the page says all by itself. What holds for the whole of it (scales, tip) stands on the sheet
``about`` or in the data package beside it; where neither is there, the trial says it, and without a trial the page is one like any other.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import numpy as np

from dashboard.records.declaration import Declaration, declared
from dashboard.records.descriptor import read_descriptor
from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.pages import Page
from dashboard.records.importing.trial import Trial
from dashboard.records.not_used import NotUsed, plain
from dashboard.records.problems import quoted
from dashboard.records.schema import FIRMNESS, RATINGS, TABLES
from dashboard.records.sheets import Sheet, Source
from dashboard.records.sources import ABOUT, DECLARATION, MEANINGS, items_of

_SAID_ONCE = ("tip_mm", "temperature_compensated", "full_bloom_open_pct", "date_precision", "currency")


@dataclass(frozen=True, eq=False)
class Own:
    """A table of ours: ``heads`` (headings,) and ``codes`` (headings, rows) are the cells that its text stands in."""

    sheet: Sheet
    declaration: Declaration
    heads: np.ndarray
    codes: np.ndarray


@dataclass
class Ours:
    """``places``: the pages that are ours, tables or not; ``declaration``: what a new trial takes over, None where nobody said it."""

    tables: list[Own] = field(default_factory=list)
    places: set[int] = field(default_factory=set)
    declaration: Declaration | None = None


def ours(pages: Sequence[Page], files: Mapping[str, Path], trial: Trial, ledger: Ledger) -> Ours:
    """The tables of ours among ``pages``; ``files`` by name. What stands on the sheet about is marked as read on the way."""
    found = Ours(declaration=None if trial.new else trial.declaration)
    for file in dict.fromkeys(page.file for page in pages):
        here = {place: page for place, page in enumerate(pages) if page.file == file}
        about = next((place for place, page in here.items() if _is_about(page)), None)
        items = _items(files[file]) if about is None else items_of(here[about].cells.tolist(), Source())
        if about is None and items is None and found.declaration is None:
            continue
        mine = {place: name for place, page in here.items() if (name := _table(page, about is not None))}
        if not mine:
            continue
        holds = _holding(items, about, found, ledger)
        for place, name in mine.items():
            found.tables.append(_own(here[place], place, name, holds, ledger))
        found.places |= {*mine, *([] if about is None else [about])}
        for place, page in here.items():
            if page.sheet.strip().lower() == MEANINGS:
                found.places.add(place)
                leave_out(page, place, ledger)
    return found


def leave_out(page: Page, place: int, ledger: Ledger) -> None:
    for column in range(page.cells.shape[1]):
        ledger.unused(ledger.codes(place, np.arange(len(page.cells)), column))


def _is_about(page: Page) -> bool:
    return page.sheet.strip().lower() == ABOUT and [plain(cell) for cell in page.cells[0, :2]] == ["item", "value"]  # fmt: skip


def _items(path: Path) -> dict[str, Any] | None:
    """What the data package beside a text file declares; None where there is none of ours."""
    if path.suffix.lower() == ".xlsx":
        return None
    try:
        content, _ = read_descriptor(path.parent / DECLARATION)
        return {"title": content.get("title", ""), **content["orchard_slate"]}
    except (OSError, ValueError, AttributeError, TypeError, KeyError):
        return None


def _table(page: Page, lenient: bool) -> str:
    """The table that a page is by its name and all its headings; ``lenient``: it may have others, which are told and left out."""
    name = (page.sheet or Path(page.file).stem).strip().lower()
    if name not in TABLES or page.rows[0] != 1 or page.merged:
        return ""
    by_spelling = {spelling: column for column in TABLES[name].columns for spelling in column.spellings}
    heads = [plain(cell) for cell in page.cells[0]]
    there = [by_spelling[head].name for head in heads if head in by_spelling]
    whole = len(there) == sum(map(bool, page.cells[0])) and len(set(there)) == len(there)
    if not whole and not lenient:
        return ""
    return name if all(column.name in there for column in TABLES[name].columns if column.needed) else ""


def _holding(items: dict[str, Any] | None, about: int | None, found: Ours, ledger: Ledger) -> Declaration:
    """What holds for one file: as it says, and where it is silent, as the trial says; what differs is told at its cell."""
    source = Source(about=items, about_sheet=ABOUT if about is not None else "")
    said, problems = declared(source)
    if about is not None:
        _read_about(about, [one for one in problems if one.column], ledger)
    if found.declaration is None:
        found.declaration = said
        return said
    trial, refused = found.declaration, dict(said.refused)
    stated = set(items or {})
    silent = {name: getattr(trial, name) for name in _SAID_ONCE if name not in stated}
    scales = {name: said.ratings[name] if _scaled(name, items or {}) else trial.ratings[name] for name in RATINGS}  # fmt: skip
    said = replace(said, **silent, ratings=scales, seasons=trial.seasons, south=trial.south)
    for column, item in (("ssc_brix", "temperature_compensated"), ("full_bloom", "full_bloom_open_pct"), ("price_per_tree", "currency")):  # fmt: skip
        here, there = getattr(said, item), getattr(trial, item)
        if here != there:
            refused[column] = (
                f"was taken where {item} is {_word(here)}, and the trial says {_word(there)}; it was left out",
                f"write what the trial says on the sheet {ABOUT}, if that is right",
            )
    refused |= {column: why for column in FIRMNESS if (why := trial.refusal(column))}
    for name in RATINGS:
        if said.ratings[name] != trial.ratings[name] and about is not None:
            scale = said.ratings[name]
            rule = f"is rated from {scale.low:g} to {scale.high:g}, {scale.best:g} best, and the trial otherwise; its figures are converted"  # fmt: skip
            ledger.flag(_cell_of(f"{name}_", about, ledger), rule, "correct the scale if it was the trial's")
    entries = tuple(dict.fromkeys([*said.not_used.entries, *trial.not_used.entries]))
    return replace(said, refused=refused, not_used=NotUsed(entries))


def _scaled(name: str, items: Mapping[str, Any]) -> bool:
    given = items.get("ratings")
    return any(item.startswith(f"{name}_") for item in items) or (isinstance(given, Mapping) and name in given)  # fmt: skip


def _word(value: object) -> str:
    return {True: "yes", False: "no", "": "not stated"}.get(value, str(value)) if isinstance(value, bool | str) else f"{value:g}"  # fmt: skip


def _cell_of(item: str, about: int, ledger: Ledger) -> int:
    """The cell that holds the value of an item, named whole or by how it begins."""
    names = [plain(cell) for cell in ledger.pages[about].cells[:, 0]]
    row = next((row for row, name in enumerate(names) if name.startswith(item)), 0)
    return int(ledger.codes(about, np.array([row]), 1)[0])


def _read_about(about: int, problems: Sequence, ledger: Ledger) -> None:
    for one in problems:
        item = one.column.removeprefix("ratings.") + ("_" if one.column.startswith("ratings.") else "")
        ledger.aside([_cell_of(item, about, ledger)], f"{quoted(one.column)} {one.rule}", one.suggestion)
    page = ledger.pages[about]
    for column in range(page.cells.shape[1]):
        mark = ledger.read if column < 2 else ledger.unused
        mark(ledger.codes(about, np.arange(len(page.cells)), column))


def _own(page: Page, place: int, name: str, declaration: Declaration, ledger: Ledger) -> Own:
    """A page as one of our tables; rows that cannot be taken apart are set aside at once."""
    cells = page.cells
    width = int(np.flatnonzero(cells[0] != "")[-1]) + 1
    beyond = (cells[:, width:] != "").any(axis=1)
    filled = (cells != "").any(axis=1)
    lost = {row: why for row, why in page.torn.items() if row}
    if not page.sheet:  # a cell too many in a text file may have shifted the others
        lost |= {int(row): "has a cell beyond the last heading; the row is set aside" for row in np.flatnonzero(beyond) if row not in lost}  # fmt: skip
    for row, why in lost.items():
        codes = [ledger.codes(place, np.array([row]), int(at))[0] for at in np.flatnonzero(cells[row] != "")]
        ledger.aside(codes, why, 'put a cell that holds a comma between quotation marks (")')
    rows = np.array([row for row in np.flatnonzero(filled) if row and row not in lost], dtype=int)
    for row in sorted({*page.short} & {*rows.tolist()}):
        first = int(np.flatnonzero(cells[row] != "")[0])
        code = int(ledger.codes(place, np.array([row]), first)[0])
        ledger.flag(code, "is in a row that ends before the others", "look whether it was cut short")
    sheet = Sheet(
        name, page.file, page.sheet, tuple(cells[0, :width]), page.rows[rows], tuple(cells[rows, at] for at in range(width))
    )  # fmt: skip
    heads = np.array([ledger.codes(place, np.array([0]), at)[0] for at in range(width)], dtype=np.int64)
    codes = [ledger.codes(place, rows, at) for at in range(width)]
    return Own(sheet, declaration, heads, np.array(codes, dtype=np.int64).reshape(width, len(rows)))
