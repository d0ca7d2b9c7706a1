"""A value of a sheet where the trial has another: whether a file may replace it, and how the two are told beside each other."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import pandas as pd

from dashboard.records.importing.aside import DIFFERS
from dashboard.records.importing.trial import Trial, cells_of, headings_of
from dashboard.records.plain_text import FORMULA_STARTS
from dashboard.records.problems import quoted
from dashboard.records.schema import TABLES, Column

# Tables with values that are read, judged or noted. What a row is known by, and words that class it, are corrected in the trial itself.
_MEASURED = ("cultivars", "samples", "fruit", "means", "yields", "weather")
_KINDS = ("number", "whole", "note")


def may_be_replaced(table: str, column: Column) -> bool:
    """Whether it is a measured value, a rating, a count or a note; names, sites, days and picks are none."""
    known_by = (*TABLES[table].key, "pick")
    return table in _MEASURED and column.kind in _KINDS and column.name not in known_by


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
        return (
            f"{self.where}: {quoted(self.old)} stands, the file has {quoted(self.new)} ({self.place}{other})"
        )

    @property
    def became(self) -> str:
        return f"{self.where}: {quoted(self.old)} became {quoted(self.new)}"

    @property
    def rule(self) -> str:
        return f"{DIFFERS} (the trial has {quoted(self.old)}); the first is kept"


class Written:
    """How a trial writes the values of one table; ``called``: by the name that a value comes under the column of the schema."""

    def __init__(self, table: str, trial: Trial, called: Mapping[str, str] | None = None):
        self.table, self._trial, self._called = table, trial, called or {}
        self._headings = headings_of(trial, table)

    def heading(self, label: str) -> str:
        """Of a column that may be replaced, as the trial has it; "" of others."""
        name = self._called.get(label, label)
        replaced = name in self._headings and may_be_replaced(self.table, TABLES[self.table].by_name[name])
        return self._headings[name][0] if replaced else ""

    def key(self, index: object) -> tuple[str, ...]:
        """The parts of a key, whether they stand in one text or apart."""
        return tuple(map(str, index)) if isinstance(index, tuple) else tuple(str(index).split("\x1f"))

    def text(self, label: str, value: object) -> str:
        name = self._called.get(label, label)
        if isinstance(value, str):
            return value[1:] if value.startswith("'") and value[1:].startswith(FORMULA_STARTS) else value
        column, unit = TABLES[self.table].by_name[name], self._headings[name][1]
        return cells_of(pd.Series([value]), column, unit, self._trial.declaration)[0]
