"""What came in, and taking it back, of a folder and of a store alike."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime

from dashboard.records.store.history import brought_in
from dashboard.records.store.undoing import undo
from dashboard.records.trays import folders
from dashboard.records.trays.desk import Desk, held


@dataclass(frozen=True)
class Came:
    """``new`` rows, ``left_out`` cells and rows; ``undone``: that it is taken back, or by what; ``undoes``: what it takes back itself."""

    number: int
    at: str
    who: str
    file: str
    new: int
    left_out: int
    undone: str = ""
    undoes: int = 0


def came_in(desk: Desk) -> list[Came]:
    """The newest first. StoreError where the store cannot be read."""
    if not desk.store:
        found = [
            Came(one.number, one.at, one.who, one.file, one.new, one.left_out, one.undone)
            for one in folders.imports(desk)
        ]
    else:
        found = [
            Came(one.number, one.at, one.who, one.file, one.new, one.left_out, f"import {one.undone_by}" if one.undone_by else "", one.undoes)
            for one in brought_in(desk.place)
        ]  # fmt: skip
    return found[::-1]


def undone(desk: Desk, number: int, who: str) -> str:
    """Take an import back as a whole; one sentence that says so. TrayError or StoreError where it stays."""
    if desk.store:
        by, gone, back = undo(desk.place, number, who)
        return f"Import {number} is taken back by import {by}: {gone:,} rows gone, {back:,} there again."
    with held(desk):
        folders.take_back(desk, number, f"{who}, {datetime.now(UTC):%Y-%m-%d}")
    return f"Import {number} is taken back: the tables are as they were before it."
