"""Many blocks of one import in one row: a million fruit are a hundred rows in place of a hundred thousand.

A block in a bale is what a row of ``tables.blocks`` is. A bale that ends, ends as a whole; where only some of its blocks end, those become rows of
their own and the bale names them as loose.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from itertools import accumulate, islice, pairwise
from typing import Any, NamedTuple, TypeVar

from sqlalchemy import ColumnElement, Connection, func, select

from dashboard.records.store.tables import bales, blocks

OWNED = {"fruit": 1}  # tables of which rows lie together under the first parts of their key; those are baled
LEAST, MOST = 20, 1_000  # blocks in a bale
_AT_ONCE = 3  # bales in one question
Made = TypeVar("Made")


class Bale(NamedTuple):
    """Blocks as they come in: the key, the length and the rows of each, and the text of all."""

    keys: Sequence[str]
    lengths: list[int]  # characters
    counts: list[int]
    cells: str

    def blocks(self) -> Iterator[tuple[str, str, int]]:
        """Key, cells, rows."""
        for key, (start, end), count in zip(self.keys, pairwise(accumulate(self.lengths, initial=0)), self.counts, strict=True):  # fmt: skip
            yield key, self.cells[start:end], count


class Member(NamedTuple):
    """Where a block lies that has no row of its own."""

    bale: int
    at: int


class Block(NamedTuple):
    """As a row of ``tables.blocks``."""

    id: int | Member
    sheet: str
    key: str
    place: int
    cells: str
    rows: int
    first: int
    last: int | None


def baled(rows: Sequence[tuple[str, str, int]]) -> Bale:
    """Of blocks: key, cells, rows."""
    keys, cells, counts = zip(*rows, strict=True)
    return Bale(keys, list(map(len, cells)), list(counts), "".join(cells))


def put(connection: Connection, sheet: str, place: int, first: int, some: Iterable[Bale]) -> int:
    """``place``: of the first block; the others follow. The place behind the last."""
    for rows in _ahead(_batched(_rows(some, sheet, place, first))):
        connection.execute(bales.insert(), rows)
        place = rows[-1]["place"] + rows[-1]["blocks"]
    return place


def _rows(some: Iterable[Bale], sheet: str, place: int, first: int) -> Iterator[dict[str, Any]]:
    for bale in some:
        yield {
            "sheet": sheet, "place": place, "blocks": len(bale.keys), "rows": sum(bale.counts), "first": first, "loose": "[]",
            "names": _marked(bale.keys), "lengths": json.dumps(bale.lengths), "counts": json.dumps(bale.counts), "cells": bale.cells,
        }  # fmt: skip
        place += len(bale.keys)


def _ahead(some: Iterator[Made]) -> Iterator[Made]:
    """The next is made while one is written."""
    with ThreadPoolExecutor(1, "ahead") as thread:
        coming = thread.submit(next, some, None)
        while (one := coming.result()) is not None:
            coming = thread.submit(next, some, None)
            yield one


def _batched(rows: Iterator[Made]) -> Iterator[list[Made]]:
    while part := list(islice(rows, _AT_ONCE)):
        yield part


def _marked(keys: Iterable[str]) -> str:
    return "\n".join(["", *keys, ""])


def _keys(row: Any) -> list[str]:
    return row.names[1:-1].split("\n")


def keys_in(connection: Connection, which: ColumnElement[bool]) -> list[str]:
    """The keys in bales, of blocks that have no row of their own."""
    found: list[str] = []
    for row in connection.execute(select(bales.c.names, bales.c.loose).where(which)):
        keys, loose = _keys(row), set(json.loads(row.loose))
        found += [key for at, key in enumerate(keys) if at not in loose] if loose else keys
    return found


def blocks_in(
    connection: Connection, which: ColumnElement[bool], wanted: set[str] | None = None
) -> Iterator[Block]:
    """The blocks in bales that have no row of their own; ``wanted``: those under these keys."""
    if wanted is None:
        for row in connection.execute(select(bales).where(which).order_by(bales.c.id)):
            yield from _blocks(row, None)
        return
    here = connection.execute(select(bales.c.id, bales.c.names).where(which).order_by(bales.c.id)).all()
    for number in [row.id for row in here if not wanted.isdisjoint(_keys(row))]:
        yield from _blocks(connection.execute(select(bales).where(bales.c.id == number)).one(), wanted)


def _blocks(row: Any, wanted: set[str] | None) -> Iterator[Block]:
    loose = set(json.loads(row.loose))
    bale = Bale(_keys(row), json.loads(row.lengths), json.loads(row.counts), row.cells)
    for at, (key, cells, count) in enumerate(bale.blocks()):
        if at not in loose and (wanted is None or key in wanted):
            yield Block(Member(row.id, at), row.sheet, key, row.place + at, cells, count, row.first, row.last)


def texts_in(connection: Connection, which: ColumnElement[bool]) -> Iterator[tuple[int, str]]:
    """Place and text of what lies in bales: of a whole bale at once, where nothing of it is loose."""
    for row in connection.execute(select(bales).where(which)):
        if row.loose == "[]":
            yield row.place, row.cells
        else:
            yield from ((block.place, block.cells) for block in _blocks(row, None))


def sizes_in(connection: Connection, which: ColumnElement[bool]) -> Iterator[tuple[int, int, int]]:
    """Place, rows and first import of what lies in bales, as ``texts_in`` has it."""
    short = select(*(bales.c[name] for name in ("place", "rows", "first", "loose", "counts"))).where(which)
    for row in connection.execute(short):
        loose = set(json.loads(row.loose))
        if not loose:
            yield row.place, row.rows, row.first
            continue
        for at, count in enumerate(json.loads(row.counts)):
            if at not in loose:
                yield row.place + at, count, row.first


def end(connection: Connection, number: int, members: Iterable[Member]) -> None:
    """These blocks are no longer of the state from import ``number`` on."""
    ending: dict[int, set[int]] = {}
    for one in members:
        ending.setdefault(one.bale, set()).add(one.at)
    for bale, places in ending.items():
        row = connection.execute(select(bales).where(bales.c.id == bale)).one()
        loose = set(json.loads(row.loose))
        mine = bales.update().where(bales.c.id == bale)
        if len(places) + len(loose) == row.blocks:
            connection.execute(mine.values(last=number))
            continue
        out = [one._asdict() | {"last": number} for one in _blocks(row, None) if one.id.at in places]  # type: ignore[union-attr]
        connection.execute(blocks.insert(), [{name: one[name] for name in one if name != "id"} for one in out])  # fmt: skip
        connection.execute(mine.values(loose=json.dumps(sorted(loose | places))))


def last_place(connection: Connection, sheet: str) -> int:
    """0 where the table has nothing."""
    single = connection.scalar(select(func.max(blocks.c.place)).where(blocks.c.sheet == sheet))
    baled = connection.scalar(select(func.max(bales.c.place + bales.c.blocks - 1)).where(bales.c.sheet == sheet))  # fmt: skip
    return max(single or 0, baled or 0)
