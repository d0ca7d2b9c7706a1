"""The log of what files replaced in a folder of tables, beside them: one line a value, readable in any program, and what a value was before."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from dashboard.records.all_or_none import OWN, pending
from dashboard.records.importing.differs import Differs
from dashboard.records.plain_text import FORMULA_STARTS
from dashboard.records.problems import seen

LOG = f"{OWN}/changed.csv"
_NUMBER = re.compile(r"-?\d+(\.\d+)?")
HEADINGS = ("when", "who", "file", "table", "key", "column", "old", "new")


@dataclass(frozen=True)
class Change:
    """One line of the log; ``when`` in UTC, as 2025-07-14T08:15:00Z."""

    when: str
    who: str
    file: str
    table: str
    key: str
    column: str
    old: str
    new: str


def with_changes(folder: Path, changes: Sequence[Differs], who: str) -> bytes:
    """The log of a trial with a line for each of these values below what stood in it."""
    before = (folder / LOG).read_bytes() if (folder / LOG).exists() else b""
    when = f"{datetime.now(UTC):%Y-%m-%dT%H:%M:%SZ}"
    text = io.StringIO(newline="")
    lines = csv.writer(text, lineterminator="\n")
    if not before.strip():
        lines.writerow(HEADINGS)
    for one in changes:
        lines.writerow(map(_cell, (when, who, one.file, *one.at, one.old, one.new)))
    gap = b"" if not before or before.endswith(b"\n") else b"\n"
    return before + gap + text.getvalue().encode("utf-8")


def changes_in(folder: Path) -> list[Change]:
    """What is logged beside a trial, the first one first; none where there is no log, or it is none any more. Lines that somebody broke are
    left out."""
    try:
        text = pending(folder).place(folder, LOG).read_text(encoding="utf-8-sig", errors="replace")
        rows = list(csv.reader(io.StringIO(text, newline="")))
    except (OSError, csv.Error):
        return []
    if not rows or tuple(rows[0]) != HEADINGS:
        return []
    return [Change(*map(_text, row)) for row in rows[1:] if len(row) == len(HEADINGS)]


def _cell(text: str) -> str:
    """No spreadsheet takes it for a formula."""
    said = seen(text)
    unsafe = said.startswith((*FORMULA_STARTS, "'")) and not _NUMBER.fullmatch(said)
    return f"'{said}" if unsafe else said


def _text(cell: str) -> str:
    return cell[1:] if cell.startswith("'") else cell
