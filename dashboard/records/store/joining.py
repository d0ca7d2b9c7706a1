"""What a table that comes in changes in a store: rows that are new, cells that were empty, and values that differ."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pandas as pd

from dashboard.records.checking import MISSING, YES_NO, checked
from dashboard.records.declaration import Declaration
from dashboard.records.findings import Findings
from dashboard.records.problems import quoted
from dashboard.records.schema import TABLES, Column
from dashboard.records.sheets import Sheet
from dashboard.records.store.bales import OWNED
from dashboard.records.store.columns import column_under, in_the_stores_unit, placed
from dashboard.records.store.differing import Differing
from dashboard.records.store.kept import rows_of, text_of
from dashboard.records.store.opening import StoreError

Row = list[str]


@dataclass
class Joined:
    """``fresh``: key, cells, rows of new blocks; ``renewed``: the block that stood, its cells and rows from now on."""

    columns: list[str]
    fresh: list[tuple[str, str, int]] = field(default_factory=list)
    renewed: list[tuple[Any, str, int]] = field(default_factory=list)
    differing: list[Differing] = field(default_factory=list)  # values that differ from what stands
    new: int = 0  # rows
    changed: int = 0  # rows
    filled: int = 0  # cells that were empty


def keys_of(frame: pd.DataFrame, table: str) -> list[tuple[str, ...]]:
    """The key of each row as text: a day as 2025-07-03, a number without its point."""
    by_name = TABLES[table].by_name
    return list(zip(*(_key_texts(frame[name], by_name[name]) for name in TABLES[table].key), strict=True))


def block_key(table: str, key: Sequence[str]) -> str:
    """The key of the block that a row lies in."""
    owner = list(key[: OWNED.get(table, len(key))])
    return owner[0] if len(owner) == 1 else json.dumps(owner, ensure_ascii=False)


def joined(
    sheet: Sheet,
    frame: pd.DataFrame,
    columns: list[str],
    standing: Mapping[str, Any],
    declaration: Declaration,
) -> Joined:
    """``frame``: the rows of ``sheet`` that may come in; ``columns``: the store's headings; ``standing``: its blocks of the same keys."""
    pairs, columns = placed(sheet, columns, declaration)
    at = pd.Index(sheet.rows).get_indexer(frame.index)
    cells = {there: _cells(sheet, here, columns[there], frame, at, declaration) for here, there in pairs}
    _refuse_no_text(sheet, cells, columns)
    keys = keys_of(frame, sheet.table)
    found = Joined(columns)
    by_block: dict[str, list[int]] = {}
    for place, key in enumerate(keys):
        by_block.setdefault(block_key(sheet.table, key), []).append(place)
    rows = _rows(cells, len(columns), len(frame))
    stood = _stood(
        sheet.table, columns, {key: standing[key] for key in by_block if key in standing}, declaration
    )
    compared = _Compared(sheet, frame, cells, columns, stood, declaration)
    for one, places in by_block.items():
        if one not in standing:
            found.fresh.append((one, text_of([rows[place] for place in places]), len(places)))
            found.new += len(places)
            continue
        _renew(found, standing[one], [(place, keys[place], rows[place]) for place in places], compared)
    return found


def _cells(sheet: Sheet, here: int, there: str, frame: pd.DataFrame, at: np.ndarray, declaration: Declaration) -> np.ndarray:  # fmt: skip
    cells = sheet.cells[here][at]
    column = column_under(sheet.table, there, declaration)
    if column is None:
        return cells
    return in_the_stores_unit(cells, sheet.headings[here], there, frame[column.name], sheet, declaration)


def _refuse_no_text(sheet: Sheet, cells: Mapping[int, np.ndarray], columns: list[str]) -> None:
    for there, column in cells.items():
        if any("\0" in cell for cell in column):
            raise StoreError(f"{sheet.file}: a cell under {columns[there]} holds a character that is no text (\\x00); take it out.")  # fmt: skip


def _rows(cells: Mapping[int, np.ndarray], width: int, count: int) -> list[Row]:
    nothing = [""] * count
    return [list(row) for row in zip(*(cells.get(place, nothing) for place in range(width)), strict=True)]


@dataclass
class _Stood:
    """The rows of the blocks that stand, by the key of the row: its number among all of them."""

    sheet: Sheet
    frame: pd.DataFrame  # by number; a row that can no longer be read is not in it
    number: dict[tuple[str, ...], int]
    rows: list[Row]
    by_block: dict[str, list[int]]


def _stood(table: str, columns: list[str], standing: Mapping[str, Any], declaration: Declaration) -> _Stood:
    rows: list[Row] = []
    by_block: dict[str, list[int]] = {}
    for key, block in standing.items():
        mine = [row + [""] * (len(columns) - len(row)) for row in rows_of([block.cells])]
        by_block[key] = list(range(len(rows), len(rows) + len(mine)))
        rows += mine
    cells = [np.array(column, dtype=object) for column in zip(*rows, strict=True)] if rows else [np.array([], dtype=object)] * len(columns)  # fmt: skip
    sheet = Sheet(table, "", "", tuple(columns), np.arange(len(rows)), tuple(cells))
    frame = checked(sheet, declaration, Findings(sheet))
    number = dict(zip(keys_of(frame, table), frame.index.tolist(), strict=True))
    return _Stood(sheet, frame, number, rows, by_block)


class _Compared:
    """Rows that come in beside those that stand: two cells are the same where they say the same."""

    def __init__(self, sheet: Sheet, frame: pd.DataFrame, cells: Mapping[int, np.ndarray], columns: list[str], stood: _Stood, declaration: Declaration):  # fmt: skip
        self.sheet, self.rows, self.stood, self.columns = sheet, frame.index.to_numpy(), stood, columns
        self.places = list(cells)
        self.here, self.there = {}, {}
        old = stood.frame.reindex(np.arange(len(stood.rows)))
        for place in self.places if stood.rows else []:
            column = column_under(sheet.table, columns[place], declaration)
            self.here[place] = _meanings(cells[place], frame, column)
            self.there[place] = _meanings(stood.sheet.cells[place], old, column)

    def row(self, place: int, coming: Row, number: int, found: Joined, first: int) -> Row:
        """The row ``number`` that stands with what comes in at ``place``."""
        row = list(self.stood.rows[number])
        changed = False
        for column in self.places:
            here, there = self.here[column][place], self.there[column][number]
            if here == there:
                continue
            if there == "":
                found.filled += 1
            else:
                found.differing.append(self._problem(place, column, coming[column], row[column], first))
            row[column] = coming[column]
            changed = True
        found.changed += changed
        return row

    def _problem(self, place: int, column: int, here: str, there: str, first: int) -> Differing:
        rule = f"{'differs from' if here else 'is empty; that is not'} what the store has, {quoted(there)} (import {first})"
        return Differing("error", self.sheet.file, self.sheet.sheet, int(self.rows[place]), self.columns[column], here, rule,
                       "correct the one that is wrong", was=there)  # fmt: skip


def _renew(
    found: Joined, block: Any, coming: list[tuple[int, tuple[str, ...], Row]], compared: _Compared
) -> None:
    numbers = compared.stood.by_block[block.key]
    rows = {number: compared.stood.rows[number] for number in numbers}
    added: list[Row] = []
    alone = len(numbers) == 1 and block.sheet not in OWNED
    before = found.changed
    for place, key, row in coming:
        number = numbers[0] if alone else compared.stood.number.get(key)
        if number is None:
            added.append(row)
        else:
            rows[number] = compared.row(place, row, number, found, block.first)
    found.new += len(added)
    if added or found.changed > before:
        after = [*rows.values(), *added]
        found.renewed.append((block, text_of(after), len(after)))


def _meanings(cells: np.ndarray, frame: pd.DataFrame, column: Column | None) -> list[Any]:
    """What each cell says, "" where nothing: its value where it has one, else its text."""
    if column is None:
        return cells.tolist()
    missing = {""} if column.kind in ("text", "note") else MISSING
    if column.kind == "yes/no":
        return ["" if cell in missing else YES_NO.get(cell.casefold(), cell) for cell in cells]
    if column.precision:  # a week is not its middle day
        exactly = frame[column.precision].to_list()
        return [f"{value:%Y-%m-%d} {how}" if value == value else "" if cell in missing else cell
                for value, how, cell in zip(frame[column.name], exactly, cells, strict=True)]  # fmt: skip
    if column.kind == "class":  # the precision of a date is filled in by reading
        return ["" if cell in missing else cell.casefold() for cell in cells]
    values = frame[column.name].to_list()
    if column.kind == "date":
        return [value if value == value else "" if cell in missing else cell for value, cell in zip(values, cells, strict=True)]  # fmt: skip
    if column.kind in ("number", "whole", "year"):
        return [float(f"{value:.12g}") if value == value else "" if cell in missing else cell
                for value, cell in zip(values, cells, strict=True)]  # fmt: skip
    return [value if isinstance(value, str) else cell for value, cell in zip(values, cells, strict=True)]


def _key_texts(values: pd.Series, column: Column) -> list[str]:
    if column.kind in ("number", "whole", "year"):
        return ["" if value != value else str(int(value)) for value in values.to_list()]
    if column.kind == "date":
        return ["" if value != value else f"{value:%Y-%m-%d}" for value in values]
    return [value if isinstance(value, str) else "" for value in values]
