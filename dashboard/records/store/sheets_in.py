"""A bench sheet, or another that an import reads without a question, on its way straight into a store."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

from dashboard.records.importing.bench import is_bench
from dashboard.records.importing.incoming import bring_in
from dashboard.records.importing.pages import opened
from dashboard.records.importing.right import EVERYWHERE
from dashboard.records.problems import Problem
from dashboard.records.sheets import Sheet, Source, sheet_of
from dashboard.records.sources import some_source
from dashboard.records.store.coming import Read, hashed, read_coming
from dashboard.records.store.kept import number_at
from dashboard.records.store.leaving import write_out
from dashboard.records.store.opening import Place, StoreError, is_store

_TEXT = (".csv", ".txt")
RIGHT = "correct the sheet; where the sheet is right, bring it in with  --changes"


def read_any(path: Path, place: Place, changes: bool = False) -> Read:
    """A folder or workbook with our tables, else a sheet that an import reads without a question; with ``changes`` the sheet is right where
    the store has another value. RecordError or StoreError."""
    if path.suffix.lower() in _TEXT and path.is_file():
        return _imported(path, place, changes)
    read = read_coming(path)
    if read.plain is None and not read.source.sheets and path.suffix.lower() == ".xlsx" and any(map(is_bench, opened([path], {}).pages)):  # fmt: skip
        return _imported(path, place, changes)
    return read


def _imported(path: Path, place: Place, changes: bool) -> Read:
    """What an import of the sheet adds to a copy of the trial: its rows alone, with what was set aside of it."""
    with TemporaryDirectory() as beside:
        folder = Path(beside) / "trial"
        before = Source()
        if is_store(place) and number_at(place):
            write_out(place, folder)
            before = some_source(folder)
        outcome = bring_in([path], folder, said=EVERYWHERE if changes else {})
        if outcome.questions:
            count = len(outcome.questions)
            raise StoreError(f"“{path}” cannot be read without {'a question' if count == 1 else f'{count:,} questions'}; answer with  orchard-slate import, and bring that folder in.")  # fmt: skip
        if not outcome.counts:
            raise StoreError(outcome.text.replace(str(folder), str(place)))
        differ = {one.rule for one in outcome.differing}
        problems = [replace(one, suggestion=RIGHT) if one.rule in differ else one for one in outcome.problems]
        return added_to(before, folder, problems, path.name, hashed(path))


def added_to(before: Source, folder: Path, problems: Sequence[Problem], file: str, sha256: str) -> Read:
    """What an import added to the copy of a trial in ``folder``, which was ``before``; ``problems`` are what was set aside of the ``file``."""
    after = some_source(folder)
    sheets = {name: _added(sheet, before.sheets.get(name), file) for name, sheet in after.sheets.items()}
    source = Source(sheets=sheets, about=after.about, about_file=file, problems=list(problems))
    return Read(source, None, file, lambda: sha256)


def _added(after: Sheet, before: Sheet | None, file: str) -> Sheet:
    """The rows that did not stand before as they are now."""
    stood = {_row(cells) for cells in zip(*before.cells, strict=True)} if before is not None else set()
    rows = [list(cells) for cells in zip(*after.cells, strict=True) if _row(cells) not in stood]
    grid = [list(after.headings), *rows]
    return sheet_of(after.table, file, after.table, grid, range(1, len(grid) + 1))


def _row(cells: tuple[str, ...]) -> str:
    return "\0".join(cells).rstrip("\0")
