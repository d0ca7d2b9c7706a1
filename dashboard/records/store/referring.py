"""Rows that would refer to what is not there, before an import is taken back or put back."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from sqlalchemy import Connection, select

from dashboard.records.declaration import Declaration
from dashboard.records.not_used import ALL_USED
from dashboard.records.plain_text import texts
from dashboard.records.problems import quoted
from dashboard.records.schema import TABLES
from dashboard.records.store.bales import OWNED
from dashboard.records.store.columns import column_under
from dashboard.records.store.kept import names_in, sheet_of_blocks, standing_blocks
from dashboard.records.store.net import Net
from dashboard.records.store.opening import StoreError
from dashboard.records.store.tables import blocks
from dashboard.records.store.versions import Key, Version

_NAMED = 3


def refuse_orphans(connection: Connection, stands: Net, brought: int, gone: Sequence[Key]) -> None:
    """What other imports brought may not refer to a cultivar, a site or a sample that goes, not even below what was changed since:
    it would come back with the change taken back."""
    others = set(stands.standing()) - {brought}
    for target in dict.fromkeys(sheet for sheet, _ in gone):
        names = {key for sheet, key in gone if sheet == target}
        for table, column in _referring(target):
            used = _used(connection, table, column, names, others)
            if used:
                raise StoreError(f"Import {brought} stays: rows of {table} that came in otherwise refer to {_some(used)} of {target}; undo what brought those first.")  # fmt: skip


def refuse_lost(connection: Connection, brought: int, back: dict[Key, Version]) -> None:
    """What is back may not refer to what went meanwhile."""
    for target in TABLES:
        for table, column in _referring(target):
            mine = {key: one for (sheet, key), one in back.items() if sheet == table}
            if mine:
                lost = _values(connection, table, column, mine).difference(names_in(connection, target))
                if lost:
                    raise StoreError(f"Import {brought} cannot come back: rows of {table} refer to {_some(sorted(lost))}, no longer in {target}; bring that in first.")  # fmt: skip


def _referring(target: str) -> Iterator[tuple[str, str]]:
    for name, table in TABLES.items():
        yield from ((name, column.name) for column in table.columns if column.refers == target)


def _some(names: Sequence[str]) -> str:
    more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
    return ", ".join(map(quoted, names[:_NAMED])) + more


def _used(connection: Connection, table: str, column: str, names: set[str], imports: set[int]) -> list[str]:
    if _by_key(table, column):
        return sorted(standing_blocks(connection, table, sorted(names)))
    rows = connection.execute(select(blocks).where(blocks.c.sheet == table))
    mine = {row.id: row for row in rows if row.first in imports}
    return sorted(names & _values(connection, table, column, mine))


def _by_key(table: str, column: str) -> bool:
    """Whether the key of a block is the name that it refers to."""
    return table in OWNED or TABLES[table].key == (column,)


def _values(connection: Connection, table: str, column: str, rows: dict[Any, Any]) -> set[str]:
    """The names that these blocks, by key, refer to."""
    if _by_key(table, column) or not rows:
        return set(rows)
    sheet = sheet_of_blocks(connection, table, rows.values())
    place = _place(sheet.headings, table, column)
    values: Iterable[str | None] = texts(sheet.cells[place], False)[0] if place is not None else []
    return {value for value in values if value}


def _place(headings: Sequence[str], table: str, column: str) -> int | None:
    used = Declaration(not_used=ALL_USED)
    meant = (column_under(table, heading, used) for heading in headings)
    return next((place for place, one in enumerate(meant) if one is not None and one.name == column), None)
