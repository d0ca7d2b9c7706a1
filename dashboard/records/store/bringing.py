"""Records into a store, as a whole or not at all, with who, when, which file and its hash."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from itertools import groupby
from pathlib import Path
from uuid import uuid4

from sqlalchemy import Connection, bindparam, func, select

from dashboard.records.causes import gathered
from dashboard.records.declaration import Declaration
from dashboard.records.descriptor import about
from dashboard.records.problems import Problem
from dashboard.records.store.bales import LEAST, MOST, OWNED, Member, baled, last_place, put
from dashboard.records.store.bales import end as end_baled
from dashboard.records.store.coming import Coming, Part, Read, coming, read_coming
from dashboard.records.store.differing import Differing
from dashboard.records.store.joining import Joined, block_key, joined, keys_of
from dashboard.records.store.kept import columns_of, declared_at, last_number, standing_blocks
from dashboard.records.store.opening import Place, StoreError, writing
from dashboard.records.store.swift import Plain
from dashboard.records.store.tables import blocks, declared, headings, imports, left_out
from dashboard.records.uncollected import uncollected

_ROWS_AT_ONCE = 20_000
MUCH = 8_000_000  # bytes of fruit, from which on writing them twice takes longer than others should wait (judgement)
_WRITTEN = ("sheet", "key", "place", "cells", "rows", "first")
Row = tuple[str, str, int, str, int, int]


@dataclass
class Brought:
    """``number`` is 0 where nothing came in. ``new``, by table, and ``changed`` are rows; ``filled`` cells that were empty."""

    number: int = 0
    problems: list[Problem] = field(default_factory=list)
    differing: list[Differing] = field(default_factory=list)
    new: dict[str, int] = field(default_factory=dict)
    changed: int = 0
    filled: int = 0
    left_out: int = 0
    why: str = ""  # nothing came in


@uncollected()
def bring(
    place: Place,
    path: Path | Read,
    who: str,
    changes: bool = False,
    despite_faults: bool = False,
    after: int | None = None,
) -> Brought:
    """Bring a folder or workbook, or what was read of one, into a store, which is made where there is none.

    Nothing comes in with a fault, unless ``despite_faults``: then a cell at fault comes in as it is written, and is told whenever the
    store is read; a row that cannot be used stays out and is kept beside. Nothing comes in with a value that differs from what
    stands, unless ``changes``: then the old one is history. ``after``: only where this import is still the last. RecordError or StoreError
    where it cannot be; ChangedError where another came in meanwhile.
    """
    read = path if isinstance(path, Read) else read_coming(path)  # before anybody is held up
    told: Brought | None = None
    try:
        with writing(place, much=read.plain is not None and len(read.plain.raw) >= MUCH) as connection:
            if after is not None and last_number(connection) != after:
                raise ChangedError(f"{read.file}: the store changed meanwhile; look at it again, then bring it in.")  # fmt: skip
            found = coming(read, connection)
            told = _brought(found, connection, changes, despite_faults)
            if not told.number:
                raise _NothingError  # what was made ready is taken back
            entry(
                connection,
                told.number,
                who,
                read.file,
                read.sha256,
                sum(told.new.values()),
                told.changed,
                told.left_out,
            )
    except _NothingError:
        pass
    assert told is not None
    return told


class ChangedError(StoreError):
    """Something else came in since what comes in was looked at."""


class _NothingError(Exception):
    pass


def _brought(found: Coming, connection: Connection, changes: bool, despite_faults: bool) -> Brought:
    number = last_number(connection) + 1
    parts = {name: _joined(connection, part, found.declaration) for name, part in found.parts.items()}
    told = Brought(problems=gathered(found.problems))
    told.differing = [*found.otherwise, *(one for part in parts.values() for one in part.differing)]
    told.new = {name: part.new for name, part in parts.items() if part.new}
    told.changed, told.filled = (
        sum(part.changed for part in parts.values()),
        sum(part.filled for part in parts.values()),
    )
    faults = sum(problem.severity == "error" for problem in found.problems)
    if found.misdeclared:
        told.why = "Nothing came in: correct what is declared for the whole trial; every reading rests on it."
    elif faults and not despite_faults:
        told.why = "Nothing came in: correct what is at fault, or bring in the rest with  --despite-faults."
    elif told.differing and not changes:
        told.why = "Nothing came in: values differ from what the store has; where the new ones are right, bring them in with  --changes."
    else:
        something = [
            _put(connection, number, name, part, found.parts[name].plain) for name, part in parts.items()
        ]
        something.append(bool(found.items) and _declare(connection, number, found.declaration))
        told.left_out = _leave_out(connection, number, found.aside)
        told.number = number if any(something) else 0
        told.why = "" if told.number else "Nothing came in: the store has all of it already."
    return told


def _joined(connection: Connection, part: Part, declaration: Declaration) -> Joined:
    table = part.sheet.table
    columns = columns_of(connection, table, last_number(connection))
    keys = list(dict.fromkeys(block_key(table, key) for key in keys_of(part.frame, table)))
    found = joined(part.sheet, part.frame, columns, standing_blocks(connection, table, keys), declaration)
    if part.plain is not None:
        found.new += int(part.plain.counts.sum())
    return found


def _put(connection: Connection, number: int, table: str, part: Joined, plain: Plain | None) -> bool:
    """Whether there was anything to write."""
    before = (
        connection.scalar(select(func.count()).select_from(headings).where(headings.c.sheet == table)) or 0
    )
    more = [
        {"sheet": table, "position": position, "heading": heading, "first": number}
        for position, heading in enumerate(part.columns) if position >= before
    ]  # fmt: skip
    if more:
        connection.execute(headings.insert(), more)
    place = last_place(connection, table) + 1
    end(connection, number, [block.id for block, _, _ in part.renewed])
    rows = [(table, block.key, block.place, cells, count, number) for block, cells, count in part.renewed]
    place = put(connection, table, place, number, plain.bales(MOST)) if plain is not None else place
    rows += [(table, key, at, cells, count, number) for at, (key, cells, count) in enumerate(part.fresh, place)]  # fmt: skip
    write(connection, rows)
    return bool(more or rows or (plain is not None and len(plain.names)))


def end(connection: Connection, number: int, ids: Iterable[int | Member]) -> None:
    """These blocks are no longer of the state from import ``number`` on."""
    ids = list(ids)
    end_baled(connection, number, (one for one in ids if isinstance(one, Member)))
    single = [{"block": one} for one in ids if not isinstance(one, Member)]
    if single:
        ending = blocks.update().where(blocks.c.id == bindparam("block")).values(last=number)
        connection.execute(ending, single)


def write(connection: Connection, rows: list[Row]) -> None:
    """Blocks, those of fruit that follow each other in bales."""
    alone: list[Row] = []
    for (sheet, first, _), some in groupby(enumerate(rows), lambda one: (one[1][0], one[1][5], one[1][2] - one[0])):  # fmt: skip
        mine = [row for _, row in some]
        for at in range(0, len(mine), MOST):
            part = mine[at : at + MOST]
            if sheet in OWNED and len(part) >= LEAST:
                put(connection, sheet, part[0][2], first, [baled([(key, cells, count) for _, key, _, cells, count, _ in part])])  # fmt: skip
            else:
                alone += part
    for at in range(0, len(alone), _ROWS_AT_ONCE):
        # As tuples, for a dictionary each would cost more than writing them.
        marks = ", ".join(["?" if connection.dialect.paramstyle == "qmark" else "%s"] * len(_WRITTEN))
        connection.exec_driver_sql(f"INSERT INTO blocks ({', '.join(_WRITTEN)}) VALUES ({marks})", alone[at : at + _ROWS_AT_ONCE])  # fmt: skip


def _declare(connection: Connection, number: int, declaration: Declaration) -> bool:
    items = about(declaration)
    if "not_used" in items:  # files and sheets are not in the store; headings are
        items["not_used"] = [one for one in items["not_used"] if ":" in one]
    if declared_at(connection, number - 1) == items:
        return False
    declare(connection, number, json.dumps(items, ensure_ascii=False))
    return True


def declare(connection: Connection, number: int, items: str) -> None:
    connection.execute(declared.update().where(declared.c.last.is_(None)).values(last=number))
    connection.execute(declared.insert().values(first=number, items=items))


def _leave_out(connection: Connection, number: int, aside: list[tuple]) -> int:
    """Rows that did not come in, and cells that came in as they are though nobody can read them."""
    names = ("file", "sheet", "row", "column", "value", "rule", "suggestion", "whole_row")
    rows = [
        {"number": number} | dict(zip(names, (_storable(one) for one in line), strict=True)) for line in aside
    ]
    if rows:
        connection.execute(left_out.insert(), rows)
    return len(rows)


def _storable(one: object) -> str:
    return str(one).replace("\0", "\\x00")


def entry(connection: Connection, number: int, who: str, file: str, sha256: str, new: int, changed: int, out: int, undoes: int | None = None) -> None:  # fmt: skip
    connection.execute(
        imports.insert().values(
            number=number, token=uuid4().hex, at=f"{datetime.now(UTC):%Y-%m-%dT%H:%M:%SZ}", who=who, file=file, sha256=sha256,
            new=new, changed=changed, left_out=out, undoes=undoes,
        )
    )  # fmt: skip
