"""A state of a store as sheets of text, as the ordinary reader takes them."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from sqlalchemy import ColumnElement, Connection, func, or_, select

from dashboard.places import is_address
from dashboard.records.schema import TABLES
from dashboard.records.sheets import Sheet, Source, sheet_of
from dashboard.records.store.bales import blocks_in, keys_in, texts_in
from dashboard.records.store.net import net
from dashboard.records.store.opening import Place, StoreError, as_record_error, reading
from dashboard.records.store.tables import bales, blocks, declared, headings, imports

_ABOUT = "about"
_AT_ONCE = 500  # keys in one question
_FEW = 20_000


def source_of(place: Place, number: int | None = None) -> Source:
    """All that a store holds, or held after import ``number``; RecordError where it cannot be had."""
    try:
        with reading(place) as connection:
            return source_in(connection, shown(place), number)
    except StoreError as fault:
        raise as_record_error(place, fault) from None


def source_in(connection: Connection, name: str, number: int | None = None) -> Source:
    at = last_number(connection) if number is None else number
    source = Source(about_file=name, about_sheet=_ABOUT, version=token_of(connection, at)[:10])
    source.about = declared_at(connection, at)
    for table in TABLES:
        sheet = sheet_at(connection, table, name, at)
        if sheet is not None:
            source.sheets[table] = sheet
    return source


def shown(place: Place) -> str:
    return str(place) if is_address(place) else Path(place).name


def version_at(place: Place) -> str:
    """The version of the data as ``Source.version`` has it: one small query."""
    with reading(place) as connection:
        return token_of(connection, last_number(connection))[:10]


def number_at(place: Place) -> int:
    """The number of the last import."""
    with reading(place) as connection:
        return last_number(connection)


def last_number(connection: Connection) -> int:
    """The version of the data: the number of the last import, 0 before the first."""
    return connection.scalar(select(func.coalesce(func.max(imports.c.number), 0))) or 0


def token_of(connection: Connection, number: int) -> str:
    return connection.scalar(select(imports.c.token).where(imports.c.number == number)) or ""


def at_state(table: Any, number: int) -> ColumnElement[bool]:
    """Which rows of ``blocks``, ``bales`` or ``declared`` are of the state after import ``number``."""
    return (table.c.first <= number) & or_(table.c.last.is_(None), table.c.last > number)


def declared_at(connection: Connection, number: int) -> dict[str, Any] | None:
    items = connection.scalar(select(declared.c["items"]).where(at_state(declared, number)))
    return None if items is None else json.loads(items)


def names_in(connection: Connection, table: str) -> list[str]:
    """The keys that stand in a table; of fruit the samples."""
    together = select(func.aggregate_strings(blocks.c.key, "\n")).where(
        standing(blocks, table)
    )  # a key is one line
    single = connection.scalar(together)
    return [*([] if single is None else single.split("\n")), *keys_in(connection, standing(bales, table))]


def standing(kept: Any, table: str) -> ColumnElement[bool]:
    """Which rows of ``blocks`` or ``bales`` stand in a table."""
    return (kept.c.sheet == table) & kept.c.last.is_(None)


def columns_of(connection: Connection, table: str, number: int) -> list[str]:
    """The headings of a table after import ``number``, each at the place that its cells have in a row."""
    there = (headings.c.sheet == table) & (headings.c.first <= number)
    return list(connection.scalars(select(headings.c.heading).where(there).order_by(headings.c.position)))


def sheet_at(connection: Connection, table: str, file: str, number: int) -> Sheet | None:
    """A table after import ``number``; None where it had no rows. Rows are numbered as a file of them would be."""
    chosen = select(blocks.c.place, blocks.c.cells).where(blocks.c.sheet == table, at_state(blocks, number))
    cells = [tuple(row) for row in connection.execute(chosen)]
    cells += texts_in(connection, (bales.c.sheet == table) & at_state(bales, number))
    if not cells:
        return None
    grid = [columns_of(connection, table, number), *rows_of(text for _, text in sorted(cells))]
    for place in _left_behind(connection, table, number):
        if not any(any(row[place : place + 1]) for row in grid[1:]):
            grid = [row[:place] + row[place + 1 :] for row in grid]
    return sheet_of(table, file, table, grid, range(1, len(grid) + 1))


def _left_behind(connection: Connection, table: str, number: int) -> list[int]:
    """The places, the last one first, of headings that came with an import that is taken back."""
    firsts = (headings.c.sheet == table) & (headings.c.first <= number)
    rows = connection.execute(select(headings.c.position, headings.c.first).where(firsts)).all()
    gone = net(connection, number).gone()
    return sorted((row.position for row in rows if row.first in gone), reverse=True)


def standing_blocks(connection: Connection, table: str, keys: Sequence[str]) -> dict[str, Any]:
    """The blocks of a table that stand under these keys, by key: rows of ``tables.blocks``, or what is like them."""
    if len(keys) > _FEW:  # a list of them all would be longer than a question may be
        keys = sorted(set(names_in(connection, table)).intersection(keys))
    if not keys:
        return {}
    wanted = set(keys)
    found: dict[str, Any] = {one.key: one for one in blocks_in(connection, standing(bales, table), wanted)}
    if len(keys) > _FEW:
        rows = connection.execute(select(blocks).where(standing(blocks, table)))
        return found | {row.key: row for row in rows if row.key in wanted}
    for start in range(0, len(keys), _AT_ONCE):
        chosen = select(blocks).where(
            standing(blocks, table), blocks.c.key.in_(list(keys[start : start + _AT_ONCE]))
        )
        found |= {row.key: row for row in connection.execute(chosen)}
    return found


def sheet_of_blocks(connection: Connection, table: str, rows: Iterable[Any]) -> Sheet:
    """These blocks as a sheet, one below the other, numbered from 2 on."""
    grid = [columns_of(connection, table, last_number(connection)), *rows_of(row.cells for row in rows)]
    return sheet_of(table, "", table, grid, range(1, len(grid) + 1))


def rows_of(cells: Iterable[str]) -> list[list[str]]:
    """Comma-separated text taken apart into rows of cells."""
    return list(csv.reader(io.StringIO("".join(cells), newline="")))


def text_of(rows: Sequence[Sequence[str]]) -> str:
    """Rows of cells as comma-separated text, which ``rows_of`` takes apart into the very same."""
    text = io.StringIO(newline="")
    csv.writer(text, lineterminator="\r\n").writerows(rows)
    return text.getvalue()
