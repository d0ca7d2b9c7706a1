"""Imports into a folder of tables: each puts whole tables in the place of those that stood, which are kept so that it can be taken back.

An import writes down first what it is about to do. One that is killed midway is gone on with before anything else is done.
"""

from __future__ import annotations

import json
import shutil
from dataclasses import asdict, dataclass, field
from pathlib import Path

from dashboard.places import put
from dashboard.records.all_or_none import OWN, put_together
from dashboard.records.importing.aside import NAME
from dashboard.records.trays.desk import KNOWN, Desk, digest, tables_in
from dashboard.records.trays.tray import TrayError

REMEMBERED = 30  # imports that can be taken back
_ASIDE = f"{OWN}/{NAME}"
_BESIDE = (_ASIDE, *KNOWN)  # go with the tables, and hold nothing back where they changed since


@dataclass
class Import:
    """``before`` and ``after``: the hashes of the files it put in their place, by name; "" where none stood."""

    number: int
    at: str
    who: str
    file: str
    new: int
    left_out: int
    before: dict[str, str] = field(default_factory=dict)
    after: dict[str, str] = field(default_factory=dict)
    going: str = ""  # "in" or "back" until it is done
    undone: str = ""  # by whom, and when


def imports(desk: Desk) -> list[Import]:
    """Every import that is remembered, the first one first."""
    found = []
    for folder in desk.kept.iterdir() if desk.kept.is_dir() else ():
        if folder.name.isdigit() and (folder / "import.json").exists():
            found.append(Import(**json.loads((folder / "import.json").read_text(encoding="utf-8"))))
    return sorted(found, key=lambda one: one.number)


def put_in(desk: Desk, trial: Path, at: str, who: str, file: str, new: int, left_out: int) -> int:
    """The tables of ``trial`` take the place of those of the desk; the number of the import, 0 where they are the same. The desk is held."""
    finish(desk)
    names = [one.name for one in tables_in(trial)] + [name for name in _BESIDE if (trial / name).exists()]
    number = max((one.number for one in imports(desk)), default=0) + 1
    one = Import(number, at, who, file, new, left_out, going="in")
    folder = desk.kept / str(number)
    shutil.rmtree(folder, ignore_errors=True)  # of one that was killed before it began
    for name in names:
        there, here = _place(desk, name), trial / name
        if digest(there) == digest(here):
            continue
        one.before[name], one.after[name] = digest(there), digest(here)
        for source, part in ((there, "before"), (here, "after")):
            if source.exists():
                (folder / part / name).parent.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(source, folder / part / name)
    if not set(one.after).difference(_BESIDE):
        shutil.rmtree(folder, ignore_errors=True)
        if _ASIDE in one.after:  # what waits to be put right is more, and nothing else
            desk.folder.mkdir(parents=True, exist_ok=True)
            put(desk.aside, (trial / _ASIDE).read_bytes())
        return 0
    _write(desk, one)
    finish(desk)
    for old in imports(desk)[:-REMEMBERED]:
        shutil.rmtree(desk.kept / str(old.number), ignore_errors=True)
    return number


def take_back(desk: Desk, number: int, by: str) -> None:
    """The tables that stood before an import stand again. TrayError where others changed them since. The desk is held."""
    finish(desk)
    every = {one.number: one for one in imports(desk)}
    if number not in every:
        raise TrayError(f"Import {number} is not remembered here, so it cannot be taken back.")
    one = every[number]
    if one.undone:
        raise TrayError(f"Import {number} is taken back already, by {one.undone}.")
    changed = [name for name, was in one.after.items() if name not in _BESIDE and digest(_place(desk, name)) != was]  # fmt: skip
    if changed:
        later = [str(other.number) for other in every.values() if other.number > number and not other.undone]
        do = f"take back import {later[-1]} first" if later else "correct them there"
        raise TrayError(f"Import {number} stays: {', '.join(changed)} changed since; {do}.")
    one.going, one.undone = "back", by
    _write(desk, one)
    finish(desk)


def finish(desk: Desk) -> None:
    """Go on with what was begun and not done; what is done already does no harm."""
    for one in imports(desk):
        if not one.going:
            continue
        part = "after" if one.going == "in" else "before"
        was = one.before if one.going == "in" else one.after
        made: dict[str, bytes | None] = {}
        for name in sorted(one.after):
            source, place = desk.kept / str(one.number) / part / name, _place(desk, name)
            if name in _BESIDE and digest(place) not in (was[name], digest(source)):
                continue  # somebody wrote into it
            made[name] = source.read_bytes() if source.exists() else None
        _put_aside(desk, made)
        put_together(Path(desk.place), made)
        one.going = ""
        _write(desk, one)
        shutil.rmtree(desk.kept / str(one.number) / "after", ignore_errors=True)


def _put_aside(desk: Desk, made: dict[str, bytes | None]) -> None:
    """The sheet of what waits is no part of the records, and may lie elsewhere."""
    if _ASIDE not in made:
        return
    if (content := made.pop(_ASIDE)) is None:
        desk.aside.unlink(missing_ok=True)
    else:
        desk.folder.mkdir(parents=True, exist_ok=True)
        put(desk.aside, content)


def _place(desk: Desk, name: str) -> Path:
    return desk.aside if name == _ASIDE else Path(desk.place) / name


def _write(desk: Desk, one: Import) -> None:
    folder = desk.kept / str(one.number)
    folder.mkdir(parents=True, exist_ok=True)
    put(folder / "import.json", json.dumps(asdict(one), ensure_ascii=False, indent=1).encode("utf-8"))
