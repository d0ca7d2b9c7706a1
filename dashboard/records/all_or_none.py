"""Several files of a folder written together: all of them or none, also where it is killed midway.

What is to stand is first laid ready beside. From then on it is what the folder holds for whoever reads it, and whoever writes there next puts it in
its place.
"""

from __future__ import annotations

import hashlib
import json
import shutil
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from dashboard.places import put
from dashboard.records.problems import Problem, listed

OWN = "importing"  # the folder in the trial that holds what belongs to its imports
_BESIDE = f"{OWN}/.coming"
_READY = "ready.json"  # by file the hashes of what stood there and of what comes; "" of none
_TRIES = 5  # at a folder that is written while it is read
T = TypeVar("T")


@dataclass(frozen=True)
class Pending:
    """``files``: by name those that come, where they lie until then, None of one that goes; ``changed``: those that somebody wrote since, which stay."""

    files: Mapping[str, Path | None] = field(default_factory=dict)
    changed: tuple[str, ...] = ()

    def place(self, folder: Path, name: str) -> Path:
        """Where to read a file of the folder."""
        return self.files.get(name) or folder / name


def put_together(folder: Path, made: Mapping[str, bytes | None]) -> None:
    """``made`` by the file's path within the folder, None of one that is to go. OSError where one cannot be written."""
    go_on(folder)
    if not made:
        return
    beside = folder / _BESIDE
    shutil.rmtree(beside, ignore_errors=True)
    for name, content in made.items():
        (beside / name).parent.mkdir(parents=True, exist_ok=True)
        if content is not None:
            put(beside / name, content)
    hashes = {name: (_hash_of(folder / name), "" if content is None else hashlib.sha256(content).hexdigest()) for name, content in made.items()}  # fmt: skip
    put(beside / _READY, json.dumps(hashes).encode("utf-8"))
    go_on(folder)


def unfinished(folder: Path) -> bool:
    """Whether some of what was laid ready may not stand yet."""
    return (folder / _BESIDE / _READY).is_file()


def pending(folder: Path) -> Pending:
    """What was laid ready and does not stand yet; nothing is written."""
    beside = folder / _BESIDE
    try:
        ready = json.loads((beside / _READY).read_text(encoding="utf-8"))
    except (
        FileNotFoundError,
        NotADirectoryError,
    ):  # also of one that another process has just put, and of a workbook
        return Pending()
    now = {name: _hash_of(folder / name) for name in ready}
    comes = {name: beside / name if after else None for name, (before, after) in ready.items() if now[name] == before != after}  # fmt: skip
    return Pending(comes, tuple(name for name, hashes in ready.items() if now[name] not in hashes))


def told(found: Pending) -> list[Problem]:
    """Of the tables of a folder that is not whole yet: what it does not hold as it is read, and what stays otherwise."""
    names = [name for name in found.files if "/" not in name]
    rule, what = "an import was stopped before it was put here; it is read as that import has it", "import any file again before you change it here"  # fmt: skip
    coming = [Problem("flag", listed(names), rule=rule, suggestion=what)] if names else []
    return coming + changed_since(name for name in found.changed if "/" not in name)


def changed_since(names: Iterable[str]) -> list[Problem]:
    """Of files that somebody wrote after an import was stopped, so that they stay without what it has for them."""
    rule = "was changed here after an import was stopped, so what that import has for it is left out"
    return [Problem("error", name, rule=rule, suggestion="bring in the same file again") for name in names]


def go_on(folder: Path) -> tuple[str, ...]:
    """Put what was laid ready in its place; the names of files that somebody wrote since, which stay. OSError where one cannot be written."""
    if not unfinished(folder):
        return ()
    found = pending(folder)
    try:
        for name, ready in found.files.items():
            if ready is None:
                (folder / name).unlink(missing_ok=True)
            else:
                (folder / name).parent.mkdir(parents=True, exist_ok=True)
                put(folder / name, ready.read_bytes())
    except FileNotFoundError:
        if unfinished(folder):
            raise
    (folder / _BESIDE / _READY).unlink(missing_ok=True)
    shutil.rmtree(folder / _BESIDE, ignore_errors=True)
    return found.changed


def as_one(folder: Path, reading: Callable[[Pending], T], kinds: tuple[str, ...]) -> T:
    """What ``reading`` makes of files of these ``kinds``, none of which was written meanwhile: all as before an import, or all as after it.
    BlockingIOError where they are written again and again."""
    for _ in range(_TRIES):
        before = _stamps(folder, kinds)
        try:
            found = reading(pending(folder))
        except Exception:
            if _stamps(folder, kinds) == before:
                raise
            continue
        if _stamps(folder, kinds) == before:
            return found
    raise BlockingIOError(0, "its files are being written")


def _stamps(folder: Path, kinds: tuple[str, ...]) -> list[tuple[str, int, int, int]]:
    """What becomes another with every ``put``."""
    files = [one for one in folder.iterdir() if one.suffix.lower() in kinds and not one.name.startswith(".")]
    stamps = []
    for file in sorted([*files, folder / _BESIDE / _READY]):
        try:
            told = file.stat()
        except OSError:  # a link that leads nowhere, or gone meanwhile
            continue
        stamps.append((file.name, told.st_ino, told.st_mtime_ns, told.st_size))
    return stamps


def _hash_of(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else ""
