"""A tray: the files that one technician brought, the answers to what was asked of them, and how far they have come."""

from __future__ import annotations

import hashlib
import json
import re
import shutil
from dataclasses import asdict, dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from secrets import token_hex
from typing import Any

from dashboard.places import put
from dashboard.records.importing.pages import ENDINGS
from dashboard.records.sheets import MAX_BYTES
from dashboard.records.trays.desk import Desk

MOST_TRAYS, MOST_FILES, MOST_BYTES = 40, 30, 2 * MAX_BYTES  # not kept yet; in a tray; of a tray
REMEMBERED = 20  # trays that were kept, for whoever looks again
GATHERING, ASKED, REFUSED, READ, KEPT, FAILED = "gathering", "asked", "refused", "read", "kept", "failed"
_ID = re.compile(r"[0-9a-f]{16}")
_LONGEST, _MOST_BYTES = 100, 240  # letters of a file's name, and bytes
_NOT_IN_NAMES = re.compile(r'[\\/:*?"<>|]')  # on some systems


class TrayError(Exception):
    """Why something is not taken, in one sentence."""


@dataclass
class Tray:
    """``turn`` counts how often it was read; ``found`` is what the last reading said (``looked.look``), ``kept`` what came in."""

    id: str
    who: str
    began: str
    folder: Path
    stage: str = GATHERING
    turn: int = 0
    files: dict[str, str] = field(default_factory=dict)  # their SHA-256, by name
    seasons: list[int] = field(
        default_factory=list
    )  # the first and last, where the trial is to be of more than it was
    differing: dict[str, str] = field(
        default_factory=dict
    )  # what was said of values that the records have otherwise
    found: dict[str, Any] = field(default_factory=dict)
    kept: dict[str, Any] = field(default_factory=dict)

    @property
    def mapping(self) -> Path:
        return self.folder / "mapping.toml"

    @property
    def trial(self) -> Path:
        """A copy of the records, with what was read."""
        return self.folder / "trial"

    @property
    def paths(self) -> list[Path]:
        return [self.folder / "files" / name for name in self.files]

    def write(self) -> None:
        said = {name: value for name, value in asdict(self).items() if name not in ("id", "folder")}
        put(self.folder / "tray.json", json.dumps(said, ensure_ascii=False, indent=1).encode("utf-8"))


def new_tray(desk: Desk, who: str) -> Tray:
    """An empty tray. TrayError where too many wait."""
    waiting = [one for one in trays(desk) if one.stage != KEPT]
    if len(waiting) >= MOST_TRAYS:
        raise TrayError(f"{len(waiting)} lots of files wait already; keep or leave some of them first.")
    name = token_hex(8)
    made = Tray(name, who, f"{datetime.now(UTC):%Y-%m-%dT%H:%M:%SZ}", desk.trays / name)
    (made.folder / "files").mkdir(parents=True)
    made.write()
    return made


def tray(desk: Desk, name: str) -> Tray:
    """TrayError where there is none, or it was left."""
    folder = desk.trays / name
    try:
        if not _ID.fullmatch(name):
            raise FileNotFoundError
        return Tray(name, folder=folder, **json.loads((folder / "tray.json").read_text(encoding="utf-8")))
    except (OSError, ValueError, TypeError):
        raise TrayError("These files are not here any more; they were left, or never brought.") from None


def trays(desk: Desk) -> list[Tray]:
    """Every tray, the newest first."""
    found = []
    for folder in desk.trays.iterdir() if desk.trays.is_dir() else ():
        try:
            found.append(tray(desk, folder.name))
        except TrayError:
            continue
    return sorted(found, key=lambda one: one.began, reverse=True)


def leave(desk: Desk, name: str) -> None:
    """Take a tray away; nothing of it came in. The files of whoever brought them stay where they are."""
    shutil.rmtree(tray(desk, name).folder, ignore_errors=True)


def forget_old(desk: Desk) -> None:
    for old in [one for one in trays(desk) if one.stage == KEPT][REMEMBERED:]:
        shutil.rmtree(old.folder, ignore_errors=True)


def file_name(said: str) -> str:
    """A name that a file may have here. TrayError for what is no sheet."""
    last = re.split(r"[\\/]", said)[-1]
    name = _NOT_IN_NAMES.sub("-", "".join(letter for letter in last if letter.isprintable())).strip(" .")
    ending = Path(name).suffix
    if ending.lower() not in ENDINGS or name == ending:
        what = ending if ending and name != ending else "nothing"
        raise TrayError(f"{name[:_LONGEST] or 'The file'} ends in {what}; save the sheet as .xlsx or as CSV, and bring that.")  # fmt: skip
    stem = name.removesuffix(ending)[: _LONGEST - len(ending)]
    stem = stem.encode("utf-8")[: _MOST_BYTES - len(ending)].decode("utf-8", "ignore")  # a disk counts bytes
    return stem.rstrip(" .") + ending


def place_for(one: Tray, name: str, size: int) -> Path:
    """Where bytes of a file go that is not whole yet. TrayError where it is too large, or there are too many."""
    if size > MAX_BYTES:
        raise TrayError(f"{name} has {size / 1e6:,.0f} MB, more than the {MAX_BYTES / 1e6:.0f} MB that are read; split it by season.")  # fmt: skip
    if name not in one.files and len(one.files) >= MOST_FILES:
        raise TrayError(f"{MOST_FILES} files can be brought at once; keep these first, then bring {name}.")
    there = sum(path.stat().st_size for path in one.paths if path.name != name and path.exists())
    if there + size > MOST_BYTES:
        raise TrayError(
            f"With {name} these files are larger than can be brought at once; keep the others first."
        )
    return one.folder / "files" / f".coming-{token_hex(8)}"


def take_in(desk: Desk, one: Tray, name: str, coming: Path) -> None:
    """A file that came whole takes its place, also in the place of an earlier one of its name; the tray is to be read again."""
    with coming.open("rb") as file:
        sha = hashlib.file_digest(file, "sha256").hexdigest()
    coming.replace(one.folder / "files" / name)
    now = tray(desk, one.id)
    now.files[name] = sha
    now.stage = GATHERING
    now.write()
