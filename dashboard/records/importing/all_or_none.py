"""Several files of a folder written together: all of them or none, also where it is killed midway.

What is to stand is first laid ready beside; from then on it is gone on with, whoever opens the folder next.
"""

from __future__ import annotations

import hashlib
import json
import shutil
from collections.abc import Mapping
from pathlib import Path

from dashboard.places import put
from dashboard.records.importing.aside import OWN

_BESIDE = f"{OWN}/.coming"
_READY = "ready.json"  # by file the hashes of what stood there and of what comes


def put_together(folder: Path, made: Mapping[str, bytes]) -> None:
    """``made`` by the file's path within the folder. OSError where one cannot be written."""
    if len(made) < 2:
        for name, content in made.items():
            put(folder / name, content)
        return
    beside = folder / _BESIDE
    shutil.rmtree(beside, ignore_errors=True)
    for name, content in made.items():
        (beside / name).parent.mkdir(parents=True, exist_ok=True)
        put(beside / name, content)
    hashes = {name: (_hash_of(folder / name), hashlib.sha256(content).hexdigest()) for name, content in made.items()}  # fmt: skip
    put(beside / _READY, json.dumps(hashes).encode("utf-8"))
    go_on(folder)


def unfinished(folder: Path) -> bool:
    """Whether some of what was laid ready may not stand yet."""
    return (folder / _BESIDE / _READY).is_file()


def go_on(folder: Path) -> None:
    """Put what was laid ready in its place; a file that somebody changed since stays. OSError where one cannot be written."""
    beside = folder / _BESIDE
    if not unfinished(folder):
        return
    for name, hashes in json.loads((beside / _READY).read_text(encoding="utf-8")).items():
        if _hash_of(folder / name) == hashes[0] and (beside / name).is_file():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            put(folder / name, (beside / name).read_bytes())
    (beside / _READY).unlink(missing_ok=True)
    shutil.rmtree(beside, ignore_errors=True)


def _hash_of(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else ""
