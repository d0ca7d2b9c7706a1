"""What stood in the cells of a sample before: of a store from its own history, of a folder from the log beside it. Read when it is asked for."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from dashboard.places import place_of
from dashboard.records.all_or_none import pending
from dashboard.records.importing.changed import LOG, changes_in
from dashboard.records.store.opening import Place, is_store

TABLES = ("samples", "fruit", "means")  # whose key begins with the sample


@dataclass(frozen=True)
class Earlier:
    """``was`` stood under the ``heading`` of a ``table`` until ``at`` (UTC, 2025-07-14T08:15:00Z); ``fruit``: its number, "" of the whole
    sample; ``number``: of the import that ended it, 0 where they have none."""

    table: str
    fruit: str
    heading: str
    was: str
    at: str
    who: str
    file: str
    number: int = 0


def has_earlier(said: Place) -> bool:
    """Whether it is known of these records what stood before."""
    place = place_of(said)
    return is_store(place) or (isinstance(place, Path) and pending(place).place(place, LOG).is_file())


def earlier(said: Place, sample: str) -> list[Earlier]:
    """Every value of a sample and its fruit that became another, the last to change first. StoreError where a store cannot be read."""
    place = place_of(said)
    if is_store(place):
        from dashboard.records.store.history import changed_of

        found = [
            Earlier(table, fruit, heading, was, one.at, one.who, one.file, one.number)
            for table, fruit, heading, was, one in changed_of(place, TABLES, sample)
        ]  # fmt: skip
    else:
        found = [
            Earlier(one.table, _fruit(one.table, one.key), one.column, one.old, one.when, one.who, one.file)
            for one in changes_in(Path(place))
            if one.table in TABLES and _sample(one.table, one.key) == sample
        ]
    return sorted(found, key=lambda one: (one.at, one.number), reverse=True)


def _sample(table: str, key: str) -> str:
    return key.rpartition("; ")[0] if table == "fruit" else key


def _fruit(table: str, key: str) -> str:
    return key.rpartition("; ")[2] if table == "fruit" else ""
