"""What was read of a tray into the records: all of it or nothing, and only where they still are as they were when it was looked at."""

from __future__ import annotations

import hashlib
import shutil
from contextlib import suppress
from datetime import UTC, datetime

from dashboard.places import put
from dashboard.records.all_or_none import OWN
from dashboard.records.importing.aside import NAME
from dashboard.records.importing.incoming import WORDS
from dashboard.records.importing.mapping import read_answers, write_answers
from dashboard.records.sources import some_source
from dashboard.records.store.bringing import ChangedError, bring
from dashboard.records.store.kept import number_at
from dashboard.records.store.leaving import write_out
from dashboard.records.store.sheets_in import added_to
from dashboard.records.trays import folders
from dashboard.records.trays.desk import Desk, held, state
from dashboard.records.trays.looked import look, problems_of
from dashboard.records.trays.sharing import shared
from dashboard.records.trays.tray import KEPT, READ, Tray, TrayError, tray

ALREADY = "Nothing was new: the records have all of it already."
CHANGED = "The records changed since you looked, so this was read once more. Look again, then keep it."


def keep(desk: Desk, name: str, who: str) -> tuple[Tray, str]:
    """The tray, and one sentence where it was not kept but read anew; keeping twice does nothing more.

    TrayError where nothing can be kept; StoreError, MappingError or OSError where the records cannot be written.
    """
    one = tray(desk, name)
    if one.stage == KEPT:
        return one, ""
    if one.stage != READ:
        raise TrayError("These files are not read yet, so they cannot be kept.")
    with held(desk), suppress(ChangedError):
        last = number_at(desk.place) if desk.store else 0
        if state(desk) == one.found["stands"]:
            number = _into_store(desk, one, who, last) if desk.store else _into_folder(desk, one, who)
            _share_answers(desk, one)
            _done(one, number)
            return one, ""
    return look(desk, name), CHANGED


def _into_folder(desk: Desk, one: Tray, who: str) -> int:
    counts, came = one.found["counts"], one.found["came"]
    at = f"{datetime.now(UTC):%Y-%m-%dT%H:%M:%SZ}"
    return folders.put_in(desk, one.trial, at, who, _named(one), sum(came.values()), counts["aside"])


def _into_store(desk: Desk, one: Tray, who: str, last: int) -> int:
    before = one.folder / "before"
    shutil.rmtree(before, ignore_errors=True)
    write_out(desk.place, before)
    read = added_to(some_source(before), one.trial, problems_of(one.found), _named(one), _hashed(one))
    brought = bring(desk.place, read, who, bool(one.found.get("replaced")), despite_faults=True, after=last)
    if not brought.number and "already" not in brought.why:
        raise TrayError(brought.why)
    waits = one.trial / OWN / NAME
    if waits.exists():
        put(desk.aside, waits.read_bytes())
    return brought.number


def _named(one: Tray) -> str:
    return ", ".join(one.files)


def _hashed(one: Tray) -> str:
    """That of the file; of several, that of what ``sha256sum`` prints of them."""
    if len(one.files) == 1:
        return next(iter(one.files.values()))
    lines = "".join(f"{sha}  {name}\n" for name, sha in sorted(one.files.items()))
    return hashlib.sha256(lines.encode()).hexdigest()


def _share_answers(desk: Desk, one: Tray) -> None:
    write_answers(desk.mapping, shared(read_answers(desk.mapping), read_answers(one.mapping)), words=WORDS)


def _done(one: Tray, number: int) -> None:
    """What is left of a tray: what was told of it, and the sheet of what was set aside."""
    waits = one.trial / OWN / NAME
    if waits.exists():
        shutil.copyfile(waits, one.folder / NAME)
    one.stage, one.kept = KEPT, {"number": number, "said": "" if number else ALREADY}
    one.write()
    for part in ("trial", "before", "files"):
        shutil.rmtree(one.folder / part, ignore_errors=True)
