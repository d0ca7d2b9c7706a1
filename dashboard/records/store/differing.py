"""A value that comes in where the store has another."""

from __future__ import annotations

from dataclasses import dataclass

from dashboard.records.problems import Problem, quoted


@dataclass(frozen=True)
class Differing(Problem):
    """``was``: what the store has, "" where nothing."""

    was: str = ""

    @property
    def changed(self) -> str:
        """What became of it where the new one was brought in."""
        return f"{self.place}: {quoted(self.was)} became {quoted(self.value) if self.value else 'empty'}."
