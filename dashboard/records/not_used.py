"""What lies among the records and is declared as not used: headings, sheets and files that are no table's.

An entry names a file or a sheet ("notes.csv", "photo list"), or a heading of a table ("samples: color card").
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property, lru_cache


@lru_cache(maxsize=16_384)  # the same few headings are looked at again and again
def plain(heading: str) -> str:
    """Case, spaces and brackets do not matter: " Suture (MM) " is suture_mm."""
    return re.sub(r"[\W_]+", "_", heading.strip().casefold()).strip("_")


def entry(name: str, heading: str | None = None) -> str:
    """How a file or sheet, or a heading of a table, is named among what is not used."""
    return name if heading is None else f"{name}: {heading}"


@dataclass(frozen=True)
class NotUsed:
    entries: tuple[str, ...] = ()

    @cached_property
    def _named(self) -> dict[str, str]:
        return {_canonical(written): written for written in self.entries}

    def heading(self, table: str, written: str) -> bool:
        return _canonical(entry(table, written)) in self._named

    def named(self, name: str) -> bool:
        """Whether a file or sheet is declared so; a table may be named with or without .csv."""
        return _canonical(name) in self._named

    def idle(self, there: Iterable[str]) -> list[str]:
        """Entries that name nothing of what is there (names as ``entry`` gives them)."""
        found = {_canonical(name) for name in there}
        return [written for plain_one, written in self._named.items() if plain_one not in found]


ALL_USED = NotUsed()


def _canonical(written: str) -> str:
    name, colon, heading = written.partition(":")
    name = name.strip().casefold().removesuffix(".csv")
    return f"{name}:{plain(heading)}" if colon else name
