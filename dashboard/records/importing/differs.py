"""A value of a sheet where the trial has another: how the two are told beside each other."""

from __future__ import annotations

from dataclasses import dataclass

from dashboard.records.problems import quoted

DIFFERS = "differs from what stands already"  # how the reason begins


@dataclass(frozen=True)
class Differs:
    """``old`` stands in the trial under the ``heading`` of a ``table``, ``new`` comes from a ``cell`` like B7, where it is ``written``; both as
    the trial writes them."""

    code: int
    file: str
    sheet: str
    cell: str
    table: str
    key: tuple[str, ...]
    heading: str
    old: str
    new: str
    written: str
    beside: str = ""  # the sheet and cell that has the old, where it does not stand in the trial yet

    @property
    def at(self) -> tuple[str, str, str]:
        """The value's place in the trial."""
        return self.table, "; ".join(self.key), self.heading

    @property
    def place(self) -> str:
        """Its cell in the file."""
        return " ".join(filter(None, (self.sheet, self.cell)))

    @property
    def name(self) -> str:
        """One text for this cell, this place and these two values: what is said of it holds for no other."""
        return (
            f"{self.file}, {self.place}: {self.table} {self.at[1]}, {self.heading}, {self.old} or {self.new}"
        )

    @property
    def where(self) -> str:
        """The value's place in the trial, as somebody says it."""
        of, *number = self.key if self.table == "fruit" else (self.at[1],)
        return f"{of}, fruit {number[0]}, {self.heading}" if number else f"{of}, {self.heading}"

    @property
    def told(self) -> str:
        """Old and new beside each other."""
        other = "" if self.written == self.new else f": {quoted(self.written)}"
        return f"{self.where}: {quoted(self.old)} {f'is in {self.beside}' if self.beside else 'stands'}, the file has {quoted(self.new)} ({self.place}{other})"

    @property
    def became(self) -> str:
        return f"{self.where}: {quoted(self.old)} became {quoted(self.new)}"

    @property
    def rule(self) -> str:
        return f"{DIFFERS} ({self.beside or 'the trial'} has {quoted(self.old)}); the first is kept"
