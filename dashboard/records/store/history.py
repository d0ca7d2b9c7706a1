"""What was brought in, and what one value was from import to import."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
from sqlalchemy import Connection, select

from dashboard.records.checking import checked
from dashboard.records.declaration import Declaration, declared
from dashboard.records.findings import ASIDE, Findings
from dashboard.records.problems import listed
from dashboard.records.schema import TABLES
from dashboard.records.sheets import Sheet, Source
from dashboard.records.store.bales import OWNED, blocks_in
from dashboard.records.store.columns import column_under
from dashboard.records.store.joining import block_key, keys_of
from dashboard.records.store.kept import columns_of, declared_at, last_number, rows_of
from dashboard.records.store.net import net
from dashboard.records.store.opening import Place, StoreError, reading
from dashboard.records.store.tables import bales, blocks, imports, left_out

HAD_NO_ROW = "(no such row)"


@dataclass(frozen=True)
class Import:
    """``new``, ``changed`` rows, ``left_out`` rows and cells; ``undoes``: what it takes back, ``undone_by``: what takes it back now, 0 for none."""

    number: int
    at: str
    who: str
    file: str
    sha256: str
    new: int
    changed: int
    left_out: int
    undoes: int
    undone_by: int


def brought_in(place: Place) -> list[Import]:
    """Every import, the first one first. StoreError where there is no store."""
    with reading(place) as connection:
        rows = connection.execute(select(imports).order_by(imports.c.number)).all()
        stands = net(connection)
    return [
        Import(row.number, row.at, row.who, row.file, row.sha256, row.new, row.changed, row.left_out, row.undoes or 0, stands.undone_by(row.number))
        for row in rows
    ]  # fmt: skip


def stayed_out(place: Place, number: int) -> list[dict[str, str]]:
    """What did not come in with an import, or cannot be read as it did: with the names ASIDE."""
    with reading(place) as connection:
        rows = connection.execute(select(left_out).where(left_out.c.number == number).order_by(left_out.c.id))
        return [{name: getattr(row, name) for name in ASIDE} for row in rows]


@dataclass(frozen=True)
class Was:
    """From import ``number`` on: what stands in the cell."""

    number: int
    at: str
    who: str
    file: str
    value: str


def history(place: Place, table: str, key: list[str], column: str) -> list[Was]:
    """One value, the oldest first. StoreError where there is no such table, column or row, and never was."""
    if table not in TABLES:
        raise StoreError(f"{table}: there is no such table; the tables are {listed(TABLES)}.")
    names = TABLES[table].key
    if len(key) != len(names):
        raise StoreError(f"A row of {table} is named by {listed(names)}: that is {len(names)} {'name' if len(names) == 1 else 'names'}, and {len(key)} came.")  # fmt: skip
    with reading(place) as connection:
        number = last_number(connection)
        headings = columns_of(connection, table, number)
        at = _place(headings, table, column, _declaration(connection, number))
        rows = _versions(connection, table, block_key(table, key))
        found: list[tuple[int, str]] = []
        ended = 0
        for row in rows:
            if ended and row.first > ended:
                found.append((ended, HAD_NO_ROW))
            found.append(
                (
                    row.first,
                    _value(row.cells, headings, table, tuple(key), at, _declaration(connection, row.first)),
                )
            )
            ended = row.last or 0
        if ended:
            found.append((ended, HAD_NO_ROW))
        about = {row.number: row for row in connection.execute(select(imports))}
    changes = [one for place_, one in enumerate(found) if not place_ or found[place_ - 1][1] != one[1]]
    while changes and changes[0][1] == HAD_NO_ROW:
        changes.pop(0)
    if not changes:
        raise StoreError(f"{table}: no row {'; '.join(key)} ever stood there; see how it is written with  orchard-slate store write.")  # fmt: skip
    return [Was(one, about[one].at, about[one].who, about[one].file, value) for one, value in changes]


def changed_of(place: Place, tables: Sequence[str], sample: str) -> list[tuple[str, str, str, str, Any]]:
    """Of tables whose key begins with the sample, each value that became another: the table, the rest of its key, its heading, what it was, and
    the row of the import that ended it. StoreError where there is no store."""
    found: list[tuple[str, str, str, str, Any]] = []
    with reading(place) as connection:
        number = last_number(connection)
        declaration = _declaration(connection, number)
        about = {row.number: row for row in connection.execute(select(imports))}
        for table in tables:
            headings, versions = columns_of(connection, table, number), _versions(connection, table, sample)
            for one, after in pairwise(versions):
                if one.last != after.first:  # it was gone for a while
                    continue
                stood, stands = (_by_key(row.cells, headings, table, declaration) for row in (one, after))
                for key, cells in stood.items():
                    for heading, was, now in zip(headings, cells, stands.get(key, cells), strict=True):
                        if was and was != now:
                            found.append((table, "; ".join(key[1:]), heading, was, about[after.first]))
    return found


def _versions(connection: Connection, table: str, block: str) -> list[Any]:
    """Every version of a block, the oldest first."""
    chosen = select(blocks).where(blocks.c.sheet == table, blocks.c.key == block)
    rows: list[Any] = [*connection.execute(chosen), *blocks_in(connection, bales.c.sheet == table, {block})]
    return sorted(rows, key=lambda row: row.first)


def _by_key(cells: str, headings: list[str], table: str, declaration: Declaration) -> dict[tuple[str, ...], list[str]]:  # fmt: skip
    """The rows of a block that can be read."""
    rows = [row + [""] * (len(headings) - len(row)) for row in rows_of([cells])]
    columns = tuple(np.array(column, dtype=object) for column in zip(*rows, strict=True))
    sheet = Sheet(table, "", "", tuple(headings), np.arange(len(rows)), columns)
    frame = checked(sheet, declaration, Findings(sheet))
    return {key: rows[at] for key, at in zip(keys_of(frame, table), frame.index.tolist(), strict=True)}


def _declaration(connection: Connection, number: int) -> Declaration:
    return declared(Source(about=declared_at(connection, number)))[0]


def _place(headings: list[str], table: str, column: str, declaration: Declaration) -> int:
    """By the heading as it stands, or by the column's name."""
    for place, heading in enumerate(headings):
        meant = column_under(table, heading, declaration)
        if column == heading or (meant is not None and meant.name == column):
            return place
    raise StoreError(f"{table}: there is no column {column}; there are {listed(headings) or 'none'}.")


def _value(
    cells: str, headings: list[str], table: str, key: tuple[str, ...], at: int, declaration: Declaration
) -> str:
    if table not in OWNED:
        (row,) = rows_of([cells])
        return row[at] if at < len(row) else ""
    found = _by_key(cells, headings, table, declaration).get(key)
    return HAD_NO_ROW if found is None else found[at]
