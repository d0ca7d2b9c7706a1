"""What a store holds: imports, and blocks of rows with the first import that has them and the one that ended them.

Many blocks that come in together lie in a bale (``bales``). Every state is a query: the blocks whose ``first`` is at most n and whose ``last`` is missing or greater than n. Nothing is ever written over
or taken out, so the state before any import, and the history of a value, are there for good.
"""

from __future__ import annotations

from collections.abc import Callable
from uuid import uuid4

from sqlalchemy import Column, Connection, Index, Integer, MetaData, String, Table, Text, inspect, select

everything = MetaData()

store = Table(
    "store",
    everything,
    Column("version", Integer, nullable=False),  # of the steps below, the last that was taken
    Column("made", String(32), nullable=False),  # a name that no other store has
)
imports = Table(
    "imports",
    everything,
    Column("number", Integer, primary_key=True, autoincrement=False),  # 1, 2, 3 …: the version of the data
    Column("token", String(32), nullable=False),  # differs even where two stores have the same number
    Column("at", String(32), nullable=False),  # UTC, as 2025-07-14T08:15:00Z
    Column("who", Text, nullable=False),
    Column("file", Text, nullable=False),
    Column("sha256", String(64), nullable=False),  # "" of an undoing
    Column("new", Integer, nullable=False),  # rows
    Column("changed", Integer, nullable=False),  # rows
    Column("left_out", Integer, nullable=False),  # rows and cells
    Column("undoes", Integer),  # the import that this one takes back
)
headings = Table(
    "headings",
    everything,
    Column("sheet", String(40), primary_key=True),  # a table of the schema
    Column("position", Integer, primary_key=True),  # of its cells in a row
    Column("heading", Text, nullable=False),
    Column("first", Integer, nullable=False),  # the import that brought it
)
blocks = Table(
    "blocks",
    everything,
    Column("id", Integer, primary_key=True),
    Column("sheet", String(40), nullable=False),
    Column("key", Text, nullable=False),  # of the row; of fruit the sample they are of
    Column("place", Integer, nullable=False),  # its order in the table
    Column(
        "cells", Text, nullable=False
    ),  # one row, or the fruit of a sample: comma-separated text, as written
    Column("rows", Integer, nullable=False),
    Column("first", Integer, nullable=False),  # the import that brought it
    Column("last", Integer),  # the import that ended it
)
standing = Index(
    "standing",
    blocks.c.sheet,
    blocks.c.key,
    unique=True,  # a key stands once
    sqlite_where=blocks.c.last.is_(None),
    postgresql_where=blocks.c.last.is_(None),
)
bales = Table(
    "bales",
    everything,
    Column("id", Integer, primary_key=True),
    Column("sheet", String(40), nullable=False),
    Column("place", Integer, nullable=False),  # of its first block
    Column("blocks", Integer, nullable=False),
    Column("rows", Integer, nullable=False),
    Column("first", Integer, nullable=False),
    Column("last", Integer),
    Column("loose", Text, nullable=False),  # which of its blocks have a row of their own by now, as JSON
    Column("names", Text, nullable=False),  # the keys of its blocks, a line each, between two empty ones
    Column("lengths", Text, nullable=False),  # of the cells of each, in characters, as JSON
    Column("counts", Text, nullable=False),  # of the rows of each, as JSON
    Column("cells", Text, nullable=False),  # of all, one behind the other
)
declared = Table(
    "declared",
    everything,
    Column("first", Integer, primary_key=True),
    Column("items", Text, nullable=False),  # what holds for the whole trial, as JSON
    Column("last", Integer),
)
left_out = Table(
    "left_out",
    everything,
    Column("id", Integer, primary_key=True),
    Column("import", Integer, nullable=False, key="number"),
    *(Column(name, Text, nullable=False) for name in ("file", "sheet", "row", "column", "value", "rule", "suggestion", "whole_row")),
)  # fmt: skip


def _first(connection: Connection) -> None:
    everything.create_all(connection, tables=[store, imports, headings, blocks, declared, left_out])
    connection.execute(store.insert().values(version=0, made=uuid4().hex))


def _second(connection: Connection) -> None:
    bales.create(connection)
    if (
        connection.dialect.name == "postgresql"
    ):  # it would try to make the text shorter, which takes longer than all else
        connection.exec_driver_sql("ALTER TABLE bales ALTER COLUMN cells SET STORAGE EXTERNAL")


# Each takes a store from its own number to the next. A step that was ever handed out is never changed: another is added.
STEPS: tuple[Callable[[Connection], None], ...] = (_first, _second)


def version_of(connection: Connection) -> int:
    """0 where there is no store yet."""
    return (
        int(connection.scalar(select(store.c.version)) or 0) if inspect(connection).has_table("store") else 0
    )


def step_up(connection: Connection) -> None:
    """Take the steps that this store has not taken."""
    before = version_of(connection)
    for step in STEPS[before:]:
        step(connection)
    if before < len(STEPS):
        connection.execute(store.update().values(version=len(STEPS)))
