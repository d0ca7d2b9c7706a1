"""One import taken back as a whole: an import of its own, so that nothing is lost by it either."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sqlalchemy import Connection, select

from dashboard.records.declaration import Declaration
from dashboard.records.not_used import ALL_USED
from dashboard.records.plain_text import texts
from dashboard.records.problems import listed, quoted
from dashboard.records.schema import TABLES
from dashboard.records.store.bringing import declare, end, entry, write
from dashboard.records.store.columns import column_under
from dashboard.records.store.joining import OWNED
from dashboard.records.store.kept import last_number, names_in, sheet_at, standing_blocks
from dashboard.records.store.opening import Place, StoreError, writing
from dashboard.records.store.tables import blocks, declared, imports

_NAMED = 3


def undo(place: Place, number: int, who: str) -> tuple[int, int, int]:
    """The number of the import that takes import ``number`` back, the rows that are gone, and those that are as they were.

    StoreError where a later import changed what it brought, or rows that stay would refer to what goes.
    """
    with writing(place) as connection:
        last = last_number(connection)
        undone = connection.execute(select(imports).where(imports.c.number == number)).first()
        if undone is None:
            raise StoreError(f"{place}: there is no import {number}; the last is {last}.")
        brought = _rows(connection, blocks.c.first == number)
        _refuse_changed(connection, number, brought)
        ended = _rows(connection, blocks.c.last == number)
        end(connection, last + 1, [block.id for block in brought])
        again = [(one.sheet, one.key, one.place, one.cells, one.rows, last + 1) for one in ended]
        write(connection, again)
        _declared_before(connection, number, last + 1)
        back = {(block.sheet, block.key) for block in ended}
        _refuse_orphans(
            connection, number, [block for block in brought if (block.sheet, block.key) not in back]
        )
        counted = {(block.sheet, block.key): block.rows for block in ended}
        gone = sum(max(0, block.rows - counted.get((block.sheet, block.key), 0)) for block in brought)
        entry(connection, last + 1, who, f"undo of {number}: {undone.file}", "", 0, len(again), 0, number)
        return last + 1, gone, len(again)


def _rows(connection: Connection, which: Any) -> Sequence[Any]:
    return connection.execute(select(blocks).where(which).order_by(blocks.c.id)).all()


def _refuse_changed(connection: Connection, number: int, brought: Sequence[Any]) -> None:
    later = sorted({block.last for block in brought if block.last is not None})
    later += connection.scalars(select(declared.c.last).where(declared.c.first == number, declared.c.last.is_not(None))).all()  # fmt: skip
    if later:
        named = [f"import {one}" for one in dict.fromkeys(later)]
        raise StoreError(f"Import {number} stays: {listed(named[:_NAMED])} changed rows that it brought; undo {'that' if len(named) == 1 else 'those'} first, the last one first.")  # fmt: skip


def _declared_before(connection: Connection, number: int, now: int) -> None:
    """What was declared before that import holds again; of the first import nothing did."""
    if connection.scalar(select(declared.c.first).where(declared.c.first == number)) is None:
        return
    before = connection.scalar(select(declared.c["items"]).where(declared.c.last == number))
    if before is None:
        connection.execute(declared.update().where(declared.c.last.is_(None)).values(last=now))
    else:
        declare(connection, now, before)


def _refuse_orphans(connection: Connection, number: int, gone: Sequence[Any]) -> None:
    """Rows that stay may not refer to a cultivar, a site or a sample that goes."""
    for target in dict.fromkeys(block.sheet for block in gone):
        names = {block.key for block in gone if block.sheet == target}
        for name, table in TABLES.items():
            for column in (one for one in table.columns if one.refers == target):
                used = _used(connection, name, column.name, names)
                if used:
                    more = f" and {len(used) - _NAMED} more" if len(used) > _NAMED else ""
                    raise StoreError(f"Import {number} stays: rows of {name} that came in otherwise refer to {', '.join(map(quoted, used[:_NAMED]))}{more} of {target}; undo what brought those first.")  # fmt: skip


def _used(connection: Connection, table: str, column: str, names: set[str]) -> list[str]:
    if table in OWNED or TABLES[table].key == (column,):
        return sorted(standing_blocks(connection, table, sorted(names)))
    if not names_in(connection, table):
        return []
    sheet = sheet_at(connection, table, "", last_number(connection) + 1)
    if sheet is None:
        return []
    heading = _place(sheet.headings, table, column)
    values, _, _ = texts(sheet.cells[heading], False) if heading is not None else ([], [], [])
    return sorted(names.intersection(filter(None, values)))


def _place(headings: Sequence[str], table: str, column: str) -> int | None:
    used = Declaration(not_used=ALL_USED)
    meant = (column_under(table, heading, used) for heading in headings)
    return next((place for place, one in enumerate(meant) if one is not None and one.name == column), None)
