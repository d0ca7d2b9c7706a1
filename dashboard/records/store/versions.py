"""Which import the rows are of that stand under a key, though they were taken out and put back meanwhile."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, NamedTuple

from sqlalchemy import Connection, select

from dashboard.records.store.bales import Member, blocks_in
from dashboard.records.store.bringing import declare, end, write
from dashboard.records.store.kept import standing_blocks
from dashboard.records.store.net import Net
from dashboard.records.store.tables import bales, blocks, declared

DECLARED = ("", "")  # the key of what is declared for the whole trial
Key = tuple[str, str]  # sheet, key


class Version(NamedTuple):
    """A row of ``tables.blocks``, or what is like one; or of ``tables.declared``, which lies under one key."""

    id: int | Member
    place: int
    cells: str
    rows: int
    first: int
    last: int | None


class Versions:
    """What each import brought and ended, and from whom what stands now came first."""

    def __init__(self, connection: Connection, net: Net):
        self.connection, self.net = connection, net
        self._ended: dict[int, dict[Key, Version]] = {}

    def brought(self, number: int) -> dict[Key, Version]:
        return self._where("first", number)

    def ended(self, number: int) -> dict[Key, Version]:
        """What stood before an import that brought something, where it put its own."""
        if number not in self._ended:
            self._ended[number] = self._where("last", number)
        return self._ended[number]

    def _where(self, column: str, number: int) -> dict[Key, Version]:
        rows = self.connection.execute(select(blocks).where(blocks.c[column] == number).order_by(blocks.c.id))
        found = {(row.sheet, row.key): _version(row) for row in rows}
        for block in blocks_in(self.connection, bales.c[column] == number):
            found[block.sheet, block.key] = _version(block)
        for row in self.connection.execute(select(declared).where(declared.c[column] == number)):
            found[DECLARED] = Version(0, 0, row[1], 0, row.first, row.last)
        return found

    def standing(self, brought: dict[Key, Version]) -> dict[Key, Version]:
        """What stands now under the keys of what an import brought."""
        found = {key: one for key, one in brought.items() if one.last is None}
        missing: dict[str, list[str]] = {}
        for sheet, key in brought:
            if (sheet, key) not in found:
                missing.setdefault(sheet, []).append(key)
        if missing.pop(DECLARED[0], None):
            for row in self.connection.execute(select(declared).where(declared.c.last.is_(None))):
                found[DECLARED] = Version(0, 0, row[1], 0, row.first, None)
        for sheet, keys in missing.items():
            rows = standing_blocks(self.connection, sheet, keys)
            found |= {(sheet, key): _version(row) for key, row in rows.items()}
        return found

    def origin(self, key: Key, version: Version | None) -> int:
        """The import that brought it, 0 of nothing: what was put back by an undo is of whoever brought it first."""
        while version is not None:
            step, brought = version.first, self.net.of[version.first]
            if step == brought or step not in self.net.out:
                return brought
            version = self.ended(brought).get(key)
        return 0

    def below(self, key: Key, number: int) -> int:
        """The import of which the rows were that import ``number`` changed; 0 where it found none."""
        return self.origin(key, self.ended(number).get(key))

    def above(self, key: Key, standing: Version | None, number: int) -> list[int]:
        """The imports, the last one first, that changed what ``number`` brought and are in; all down to nothing where it is not there."""
        found = []
        top = self.origin(key, standing)
        while top > number:
            found.append(top)
            top = self.below(key, top)
        return found

    def exchange(self, now: int, before: Iterable[tuple[Key, Version]], after: Iterable[tuple[Key, Version]]) -> None:  # fmt: skip
        """From import ``now`` on the versions ``after`` stand, and ``before`` no longer."""
        ending, coming = dict(before), dict(after)
        was, becomes = ending.pop(DECLARED, None), coming.pop(DECLARED, None)
        end(self.connection, now, [one.id for one in ending.values()])
        write(self.connection, [(*key, one.place, one.cells, one.rows, now) for key, one in coming.items()])
        if becomes is not None:
            declare(self.connection, now, becomes.cells)
        elif was is not None:
            self.connection.execute(declared.update().where(declared.c.last.is_(None)).values(last=now))


def _version(row: Any) -> Version:
    return Version(row.id, row.place, row.cells, row.rows, row.first, row.last)
