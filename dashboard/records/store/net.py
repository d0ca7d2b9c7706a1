"""Which imports stand, after all that was undone and all undoing that was undone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, select

from dashboard.records.store.tables import imports


@dataclass(frozen=True)
class Net:
    """``of``: by the number of any import the one that brought something, which it is or takes out or puts back; ``out``: those that
    take out; ``steps``: by what was brought, all that took it out or put it back, the first one first."""

    of: dict[int, int]
    out: frozenset[int]
    steps: dict[int, list[int]]

    def stands(self, number: int) -> bool:
        """Whether what import ``number`` brought, or took out, is in."""
        steps = self.steps.get(self.of[number])
        return not steps or steps[-1] not in self.out

    def standing(self) -> list[int]:
        """The imports that brought something and are in."""
        return [number for number, brought in self.of.items() if number == brought and self.stands(number)]

    def gone(self) -> list[int]:
        """The imports that brought something and are taken back."""
        return [
            number for number, brought in self.of.items() if number == brought and not self.stands(number)
        ]

    def undone_by(self, number: int) -> int:
        """The import that took back what ``number`` did, as it stands now; 0 for none."""
        steps = self.steps.get(self.of[number], [])
        if number == self.of[number]:
            return 0 if self.stands(number) else steps[-1]
        return next((one for one in steps if one > number and (one in self.out) != (number in self.out)), 0)


def net(connection: Connection, number: int | None = None) -> Net:
    """What stands now, or stood after import ``number``."""
    rows: list[Any] = list(connection.execute(select(imports.c.number, imports.c.undoes).order_by(imports.c.number)))  # fmt: skip
    of: dict[int, int] = {}
    out: set[int] = set()
    steps: dict[int, list[int]] = {}
    for one, undoes in rows:
        if number is not None and one > number:
            break
        of[one] = of[undoes] if undoes else one
        if undoes:
            steps.setdefault(of[one], []).append(one)
            if undoes not in out:
                out.add(one)
    return Net(of, frozenset(out), steps)
