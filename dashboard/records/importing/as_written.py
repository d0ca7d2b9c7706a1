"""How a trial writes the values of a table, and which of them a file may replace."""

from __future__ import annotations

from collections.abc import Mapping

from dashboard.records.importing.trial import Trial, digits, headings_of, in_the_trial
from dashboard.records.plain_text import without_mark
from dashboard.records.schema import TABLES, Column

# Tables with values that are read, judged or noted. What a row is known by, and words that class it, are corrected in the trial itself.
_MEASURED = ("cultivars", "samples", "fruit", "means", "yields", "weather")
_KINDS = ("number", "whole", "note")


def may_be_replaced(table: str, column: Column) -> bool:
    """Whether it is a measured value, a rating, a count or a note; names, sites, days and picks are none."""
    known_by = (*TABLES[table].key, "pick")
    return table in _MEASURED and column.kind in _KINDS and column.name not in known_by


class Written:
    """How a trial writes the values of one table; ``called``: by the name that a value comes under the column of the schema."""

    def __init__(self, table: str, trial: Trial, called: Mapping[str, str] | None = None):
        self.table, self._trial, self._called = table, trial, called or {}
        self._headings = headings_of(trial, table)

    def heading(self, label: str, new: bool = False) -> str:
        """Of a column that may be replaced, as the trial has it, or will where it is ``new``; "" of others."""
        name = self._called.get(label, label)
        if not may_be_replaced(self.table, TABLES[self.table].by_name[name]):
            return ""
        return self._headings[name][0] if name in self._headings else name * new

    def place(self, index: object, label: str) -> tuple[str, str, str]:
        return self.table, "; ".join(self.key(index)), self._called.get(label, label)

    def key(self, index: object) -> tuple[str, ...]:
        """The parts of a key, whether they stand in one text or apart."""
        return tuple(map(str, index)) if isinstance(index, tuple) else tuple(str(index).split("\x1f"))

    def text(self, label: str, value: object) -> str:
        name = self._called.get(label, label)
        if isinstance(value, str):
            return without_mark(value)
        column, (_, unit) = TABLES[self.table].by_name[name], self._headings.get(name, ("", None))
        return digits(in_the_trial(float(str(value)), column, unit, self._trial.declaration))
