"""The desk of a trial: the folder beside its records that holds what is on its way in, and what was kept of it.

Of a folder of tables it is ``importing`` within, where the command ``import`` keeps its answers, too; of a store's file a folder beside it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from dashboard.places import is_address
from dashboard.records.all_or_none import OWN, go_on
from dashboard.records.came_from import CAME
from dashboard.records.importing.aside import NAME as ASIDE
from dashboard.records.importing.changed import LOG
from dashboard.records.importing.incoming import MAPPING
from dashboard.records.importing.overruled import OVERRULED
from dashboard.records.sources import DECLARATION
from dashboard.records.store.opening import Place, is_store

try:
    import fcntl
except (
    ImportError
):  # a system without it: within one server the turn is kept by its one process for this work
    fcntl = None  # type: ignore[assignment]


KNOWN = (LOG, CAME, OVERRULED)  # what a trial of tables knows beside them of where its values come from


@dataclass(frozen=True)
class Desk:
    """``place``: the records, a folder of .csv tables or a store; ``folder``: what is on its way into them."""

    place: Place
    folder: Path

    @property
    def store(self) -> bool:
        return is_store(self.place)

    @property
    def mapping(self) -> Path:
        """The answers that were given, used again for what comes next."""
        return self.folder / MAPPING

    @property
    def aside(self) -> Path:
        """The sheet of what was set aside and waits."""
        return self.folder / ASIDE

    @property
    def password(self) -> Path:
        """The hash of the password that lets records in."""
        return self.folder / "password"

    @property
    def trays(self) -> Path:
        return self.folder / "trays"

    @property
    def kept(self) -> Path:
        """Of a folder, what each import replaced, by its number."""
        return self.folder / "kept"


def desk_of(place: Place, said: str = "") -> Desk:
    """The desk of records; ``said``: a folder that somebody named for it. ValueError, one sentence, where nothing can come in."""
    if is_address(place):
        if not said:
            raise ValueError("A database has no folder beside it; name one for what is on its way in:  --desk FOLDER.")  # fmt: skip
        return Desk(place, Path(said))
    path = Path(place)
    if said:
        folder = Path(said)
    elif path.is_dir():
        folder = path / OWN
    else:
        folder = path.with_name(f"{path.name}-{OWN}")
    if not path.is_dir() and not is_store(path):
        raise ValueError(f"{path}: records come into a folder of .csv tables or a store; make one with  orchard-slate store bring {path} --into {path.stem or 'trial'}.store.")  # fmt: skip
    return Desk(path, folder)


def tables_in(folder: Path) -> list[Path]:
    """The files of a folder that are its records: tables and declaration, by name."""
    found = [one for one in folder.iterdir() if one.suffix == ".csv" or one.name == DECLARATION]
    return sorted(one for one in found if one.is_file() and not one.name.startswith("."))


def digest(path: Path) -> str:
    """SHA-256 of a file, "" where there is none."""
    if not path.exists():
        return ""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def state(desk: Desk) -> str:
    """A text that differs whenever the records differ, or what waits beside them."""
    if desk.store:
        from dashboard.records.store.kept import version_at

        said = version_at(desk.place)
    else:
        said = "".join(f"{digest(one)} {one.name}\n" for one in tables_in(Path(desk.place)))
    return hashlib.sha256(f"{said} {digest(desk.aside)}".encode()).hexdigest()


@contextmanager
def held(desk: Desk) -> Iterator[None]:
    """Nobody else changes the records of this desk meanwhile; another process waits for its turn."""
    desk.folder.mkdir(parents=True, exist_ok=True)
    with (desk.folder / ".turn").open("a+b") as file:
        if fcntl is not None:
            fcntl.flock(file, fcntl.LOCK_EX)  # let go when the file is closed
        if not desk.store:
            go_on(Path(desk.place))  # with what a command began that was killed
        yield
