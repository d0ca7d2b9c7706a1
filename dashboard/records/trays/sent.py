"""What a bench page sent before: by it is known which values still stand as that page sent them, and may be corrected from there.

What somebody else brought in, or corrected since, is not among them.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from dashboard.places import put
from dashboard.records.importing.incoming import bring_in
from dashboard.records.trays.desk import Desk, held
from dashboard.records.trays.looked import copy_records
from dashboard.records.trays.tray import tray

REMEMBERED = 200  # days sent, of all pages
_EACH = 5  # of one day, where corrections of it wait for an answer
_PAGE = re.compile(r"[0-9a-f]{32}")


def remember(desk: Desk, page: str, file: str, content: bytes, waits: bool = False) -> None:
    """What a page sent last of one day, now that it is kept; beside what it sent before where some of it ``waits`` for an answer. Nothing where
    the page has no name."""
    if not _PAGE.fullmatch(page):
        return
    before = _sent(desk, page, file)
    number = max((int(one.stem.rpartition("-")[2]) for one in before), default=0) + 1
    place = desk.folder / "sent" / f"{page}-{_day(file)}-{number}.csv"
    place.parent.mkdir(parents=True, exist_ok=True)
    put(place, content)
    every = sorted(place.parent.iterdir(), key=lambda one: -one.stat().st_mtime)
    for old in {*every[REMEMBERED:], *(before[_EACH - 1 :] if waits else before)}:
        old.unlink(missing_ok=True)


def as_sent(desk: Desk, name: str, page: str) -> list[dict[str, Any]]:
    """Of the values of a tray that differ from the records, those that stand there as this page sent them before."""
    one = tray(desk, name)
    before = _sent(desk, page, next(iter(one.files))) if _PAGE.fullmatch(page) else []
    same: set[tuple[str, str, str]] = set()
    for file in before:
        with TemporaryDirectory() as beside:
            trial, sheet = Path(beside) / "trial", Path(beside) / "before.csv"
            with held(desk):
                copy_records(desk, trial)
            sheet.write_bytes(file.read_bytes())
            bring_in([sheet], trial, said={}, same=same)
    values = (value for file in one.found["differing"] for value in file["values"])
    return [value for value in values if tuple(value["at"]) in same]


def _sent(desk: Desk, page: str, file: str) -> list[Path]:
    """What this page sent of a day, the newest first."""
    found = (desk.folder / "sent").glob(f"{page}-{_day(file)}-*.csv")
    return sorted(found, key=lambda one: -int(one.stem.rpartition("-")[2]))


def _day(file: str) -> str:
    return hashlib.sha256(file.encode()).hexdigest()[:16]


def named(values: Sequence[Mapping[str, Any]]) -> str:
    """One short name for these very values."""
    return hashlib.sha256("\n".join(value["name"] for value in values).encode()).hexdigest()[:16]
