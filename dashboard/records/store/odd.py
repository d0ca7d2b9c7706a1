"""What the check finds odd in the rows that an import brought into a store."""

from __future__ import annotations

from sqlalchemy import Connection, select

from dashboard.records.problems import Problem, RecordError
from dashboard.records.reading import read
from dashboard.records.schema import TABLES
from dashboard.records.store.bales import sizes_in
from dashboard.records.store.kept import at_state
from dashboard.records.store.opening import Place, reading
from dashboard.records.store.tables import bales, blocks

MOST = 300_000  # rows of a store that are all read for it, which takes seconds


def odd_in(place: Place, number: int) -> list[Problem] | None:
    """The flags of the rows of import ``number``, the last one; of a sample with a new fruit, all its fruit. None where the store is too
    large to be read for it."""
    with reading(place) as connection:
        brought = {table: _rows(connection, table, number) for table in TABLES}
    if sum(count for _, count in brought.values()) > MOST:
        return None
    try:
        found = read(place).problems
    except RecordError:  # a trial that cannot be shown yet has nothing to compare with
        return []
    return [one for one in found if one.severity == "flag" and one.row in brought.get(one.sheet, (set(), 0))[0]]  # fmt: skip


def _rows(connection: Connection, table: str, number: int) -> tuple[set[int], int]:
    """The rows of a table that an import brought, as ``kept.sheet_at`` numbers them, and how many there are in all."""
    single = select(blocks.c.place, blocks.c.rows, blocks.c.first).where(blocks.c.sheet == table, at_state(blocks, number))  # fmt: skip
    sizes = [tuple(row) for row in connection.execute(single)]
    sizes += sizes_in(connection, (bales.c.sheet == table) & at_state(bales, number))
    found: set[int] = set()
    below = 2  # the headings are row 1
    for _, count, first in sorted(sizes):
        if first == number:
            found.update(range(below, below + count))
        below += count
    return found, below - 2
