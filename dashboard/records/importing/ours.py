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
from dashboard.records.importing.bench import NAMES, is_bench, on_bench
from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.limits import with_limits
from dashboard.records.importing.own import Own, table_of, table_on
from dashboard.records.importing.pages import Page
from dashboard.records.importing.trial import Trial
from dashboard.records.not_used import NotUsed, plain
from dashboard.records.problems import quoted
from dashboard.records.schema import FIRMNESS, RATINGS
from dashboard.records.sheets import Source
from dashboard.records.sources import ABOUT, DECLARATION, MEANINGS, items_of

_SAID_ONCE = (
    "tip_mm",
    "temperature_compensated",
    "refractometer_zero",
    "full_bloom_open_pct",
    "date_precision",
    "currency",
)


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
        benches = [place for place, page in here.items() if is_bench(page)]
        mine = {place: name for place, page in here.items() if (name := table_of(page, about is not None))}
        if not mine and not benches:
            continue
        holds = _holding(items, about, found, ledger)
        found.tables += [table_on(here[place], place, name, holds, ledger) for place, name in mine.items()]
        for place in benches:
            found.tables += on_bench(here[place], place, holds, ledger)
        found.places |= {*mine, *benches, *([] if about is None else [about])}
        for place, page in here.items():
            if page.sheet.strip().lower() in (MEANINGS, *([NAMES] if benches else [])):
                found.places.add(place)
                _leave_out(page, place, ledger)
    found.tables = [part for one in found.tables for part in with_limits(one)]
    return found


def _leave_out(page: Page, place: int, ledger: Ledger) -> None:
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
    for column, item in (("ssc_brix", "refractometer_zero"), ("ssc_brix", "temperature_compensated"), ("full_bloom", "full_bloom_open_pct"), ("price_per_tree", "currency")):  # fmt: skip
        here, there = getattr(said, item), getattr(trial, item)
        if here != there and not (item == "refractometer_zero" and said.temperature_compensated):
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
