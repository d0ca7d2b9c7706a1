"""One import taken back as a whole, or put back: an import of its own, so that nothing is lost by it either."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import Connection

from dashboard.records.problems import listed
from dashboard.records.store.bringing import entry
from dashboard.records.store.kept import last_number
from dashboard.records.store.net import Net, net
from dashboard.records.store.opening import Place, StoreError, writing
from dashboard.records.store.referring import refuse_lost, refuse_orphans
from dashboard.records.store.versions import Key, Version, Versions

_NAMED = 3


def undo(place: Place, number: int, who: str) -> tuple[int, int, int]:
    """The number of the import that takes import ``number`` back, the rows that are gone, and those that are there again.

    What counts is what stands: an import that was taken back stands in nobody's way. StoreError where one that stands changed
    what this one brought, or where rows would refer to what is not there.
    """
    with writing(place) as connection:
        last = last_number(connection)
        stands = net(connection)
        if number not in stands.of:
            raise StoreError(f"{place}: there is no import {number}; the last is {last}.")
        brought = stands.of[number]
        takes_out = number not in stands.out
        if takes_out != stands.stands(brought):
            raise StoreError(f"Import {number} is taken back already, by import {stands.undone_by(number)}.")
        turn = _take_out if takes_out else _put_back
        gone, back = turn(connection, stands, brought, last + 1)
        entry(connection, last + 1, who, f"undo of {number}", "", 0, back, 0, number)
        return last + 1, gone, back


def _take_out(connection: Connection, stands: Net, brought: int, now: int) -> tuple[int, int]:
    versions = Versions(connection, stands)
    mine = versions.brought(brought)
    standing, before = versions.standing(mine), versions.ended(brought)
    later = {one for key in mine for one in versions.above(key, standing.get(key), brought)}
    if later:
        raise StoreError(f"Import {brought} stays: {_imports(later)} changed what it brought; undo {_those(later)}.")  # fmt: skip
    versions.exchange(now, standing.items(), before.items())
    refuse_orphans(connection, stands, brought, [key for key in mine if key not in before])
    gone = sum(max(0, one.rows - (before[key].rows if key in before else 0)) for key, one in mine.items())
    return gone, len(before)


def _put_back(connection: Connection, stands: Net, brought: int, now: int) -> tuple[int, int]:
    versions = Versions(connection, stands)
    mine = versions.brought(brought)
    standing = versions.standing(mine)
    later: set[int] = set()
    lost: set[int] = set()
    for key in mine:
        found, needed = versions.origin(key, standing.get(key)), versions.below(key, brought)
        if found == needed:
            continue
        if needed and not stands.stands(needed):
            lost.add(needed)
        else:
            later.update(versions.above(key, standing.get(key), needed))
    if lost:
        steps = {stands.undone_by(one) for one in lost}
        raise StoreError(f"Import {brought} cannot come back: it changed what {_imports(lost)} brought, which is taken back; undo {_imports(steps)} first.")  # fmt: skip
    if later:
        raise StoreError(f"Import {brought} cannot come back: {_imports(later)} brought the same rows meanwhile; undo {_those(later)}.")  # fmt: skip
    versions.exchange(now, standing.items(), mine.items())
    refuse_lost(connection, brought, mine)
    return 0, _rows_back(mine, versions.ended(brought))


def _rows_back(mine: dict[Key, Version], before: dict[Key, Version]) -> int:
    return sum(one.rows - before[key].rows + 1 if key in before else one.rows for key, one in mine.items())


def _imports(numbers: Iterable[int]) -> str:
    some = sorted(numbers, reverse=True)
    return listed([f"import {one}" for one in some[:_NAMED]] + ([f"{len(some) - _NAMED} more"] if len(some) > _NAMED else []))  # fmt: skip


def _those(numbers: set[int]) -> str:
    return "that first" if len(numbers) == 1 else "those first, the last one first"
