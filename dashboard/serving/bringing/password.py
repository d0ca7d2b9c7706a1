"""The password that lets records in: kept as an Argon2 hash alone, in a file that only its owner may read."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from argon2 import PasswordHasher
from argon2.exceptions import Argon2Error, InvalidHashError

SHORTEST, LONGEST = 10, 200  # characters
_ONLY_MINE = stat.S_IRUSR | stat.S_IWUSR


class Password:
    """The hash in a file. It is read each time, so that a new password holds at once and ends what was begun with the old one."""

    def __init__(self, path: Path) -> None:
        self.path = path

    @property
    def hash(self) -> str:
        """ "" where there is none."""
        try:
            return self.path.read_text(encoding="ascii").strip()
        except (OSError, UnicodeDecodeError):
            return ""

    def is_right(self, said: str) -> bool:
        """Takes a tenth of a second, and some 64 MB: not to be called where others wait."""
        if len(said) > LONGEST:
            return False
        try:
            return PasswordHasher().verify(self.hash, said)
        except (Argon2Error, InvalidHashError):
            return False

    def fault(self, trial: object) -> str:
        """One sentence where it cannot be used; "" where it can."""
        if not self.hash:
            return f"{self.path}: there is no password yet; set one with  orchard-slate password {trial}."
        if os.name == "posix" and self.path.stat().st_mode & 0o077:
            return f"{self.path}: others on this machine may read it; write  chmod 600 {self.path}."
        return ""


def set_password(path: Path, said: str) -> None:
    """Write the hash. ValueError, one sentence, for one that is too short; OSError where it cannot be written."""
    if not SHORTEST <= len(said) <= LONGEST:
        raise ValueError(f"A password has {SHORTEST} to {LONGEST} characters; take several words.")
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(f".{path.name}-new")
    beside.unlink(missing_ok=True)
    with os.fdopen(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, _ONLY_MINE), "w") as file:
        file.write(PasswordHasher().hash(said) + "\n")
        file.flush()
        os.fsync(file.fileno())
    beside.replace(path)
