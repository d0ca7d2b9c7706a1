"""What was wrong with records, told so that the person who wrote them can put it right."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Severity = Literal["error", "flag"]
_LONGEST = 60


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

    @property
    def place(self) -> str:
        parts = (
            self.file,
            f"sheet {self.sheet}" if self.sheet else "",
            f"row {self.row}" if self.row else "",
            self.column,
        )
        return seen(", ".join(part for part in parts if part))

    @property
    def sentence(self) -> str:
        """Place, value, rule and suggestion in one sentence, on one line."""
        said = (
            f"{self.place}: {quoted(self.value)} {self.rule}" if self.value else f"{self.place}: {self.rule}"
        )
        said = f"{said}; {self.suggestion}" if self.suggestion else said
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
