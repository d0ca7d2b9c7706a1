"""What was wrong with records, told so that the person who wrote them can put it right."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

Severity = Literal["error", "flag"]
_LONGEST = 60
_NAMED_ROWS = 6


@dataclass(frozen=True)
class Whose:
    """Whose fruit a row is of, as it says itself, and the day (2024-07-03); "" for what it does not say. ``fruit``: its number in the sample."""

    sample: str = ""
    cultivar: str = ""
    site: str = ""
    day: str = ""
    fruit: str = ""

    def __str__(self) -> str:
        return seen(", ".join(part for part in (self.day, self.cultivar, self.site) if part))


@dataclass(frozen=True)
class Problem:
    """One fault with its place. ``row`` is the number a person sees beside it (the headings are row 1).

    ``rule`` is what is said of the value ("is not a number"), ``suggestion`` what to do about it.
    """

    severity: Severity  # "error": the cell or row was set aside; "flag": loaded, but look at it
    file: str
    sheet: str = ""
    row: int | None = None
    column: str = ""
    value: str = ""
    rule: str = ""
    suggestion: str = ""
    likewise: str = ""  # where the same was found again, where many places have one cause
    sure: bool = False  # loaded though it cannot be right
    whose: Whose | None = None  # of a row with fruit, or with a day
    samples: frozenset[str] = frozenset()  # of a column left out: whose cells stand under it
    brought: str = ""  # where the row stood in the sheet that brought it in, where that is known

    @property
    def place(self) -> str:
        parts = (
            self.file,
            f"sheet {self.sheet}" if self.sheet else "",
            f"row {self.row}" if self.row else "",
            self.column,
        )
        place = ", ".join(part for part in parts if part)
        return seen(f"{place} (from {self.brought})" if self.brought else place)

    @property
    def sentence(self) -> str:
        """Place, value, rule and suggestion in one sentence, on one line."""
        said = (
            f"{self.place}: {quoted(self.value)} {self.rule}" if self.value else f"{self.place}: {self.rule}"
        )
        said = "; ".join(part for part in (said, self.likewise, self.suggestion) if part)
        return said if said.endswith("?") else f"{said}."


class RecordError(Exception):
    """Nothing can be loaded; ``problems`` say why, each with its place."""

    def __init__(self, problems: Iterable[Problem]):
        self.problems = tuple(problems)
        super().__init__("\n".join(problem.sentence for problem in self.problems))


def quoted(value: str) -> str:
    """A value between quotation marks, shortened, with characters that cannot be seen written as \\x00."""
    shown = value if len(value) <= _LONGEST else value[: _LONGEST - 1] + "…"
    return f"“{seen(shown)}”"


def seen(text: str) -> str:
    """Text with characters that cannot be seen written as \\x00."""
    return "".join(
        letter if letter.isprintable() else letter.encode("unicode_escape").decode("ascii") for letter in text
    )


def listed(words: Iterable[str], joint: str = "and") -> str:
    """mm, cm or in."""
    words = list(words)
    return f" {joint} ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else "".join(words)


def named_rows(rows: Sequence[int]) -> str:
    """rows 3, 4 and 7; of many the first six."""
    named = [str(int(row)) for row in rows[:_NAMED_ROWS]]
    more = len(rows) - len(named)
    if not more:
        return f"row {named[0]}" if len(named) == 1 else f"rows {listed(named)}" if named else ""
    return f"rows {', '.join(named)} and {more:,} more"
