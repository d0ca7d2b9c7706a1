"""What a table of somebody's own tells of each cultivar: one column of it, as words or as numbers, and how it is asked for.

A question names an answer as ``virus tested: yes`` or ``days to root: at most 30``: the fact, and what must hold.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

import numpy as np

from dashboard.terms.traits import UNKNOWN

MOST = 24  # words that can be ticked; a fact of more is shown and is no filter
AT_MOST, AT_LEAST = "at most", "at least"
PART = ": "
ANSWERS = {True: "yes", False: "no"}
_BOUND = re.compile(rf"({AT_MOST}|{AT_LEAST}) (-?\d{{1,12}}(?:\.\d{{1,6}})?)")


@dataclass(frozen=True, eq=False)
class Fact:
    """One column, by cultivar in catalogue order: ``values`` are words, UNKNOWN where none is told, or numbers with NaN.

    ``way`` is how numbers are asked for, ``AT_MOST`` or ``AT_LEAST``; "" for words, and for numbers that are only shown.
    """

    name: str
    values: np.ndarray
    way: str = ""
    asked: bool = True  # offered as a filter
    options: tuple[str, ...] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "options", self._options() if self.asked else ())

    @property
    def numbers(self) -> bool:
        return self.values.dtype.kind == "f"

    def passes(self, option: str) -> np.ndarray:
        """Who has what an option asks; what is not recorded has nothing."""
        if not self.numbers:
            return self.values == option
        way, bound = self._bound(option)
        return self.values <= bound if way == AT_MOST else self.values >= bound

    def missing(self) -> np.ndarray:
        """Of whom no number is told; "not recorded" is itself a word that can be asked for."""
        return np.isnan(self.values) if self.numbers else np.zeros(len(self.values), dtype=bool)

    def knows(self, option: str) -> bool:
        """Whether it can be asked for: one of the options, or any number that way."""
        told = _BOUND.fullmatch(option) if self.asked and self.numbers else None
        return option in self.options or (told is not None and told[1] == self.way)

    def bound(self, number: float) -> str:
        """The option of a number; of one that is none or has no end, one that nobody knows."""
        return f"{self.way} {_short(number)}"

    def place(self, option: str) -> float:
        """Where an option stands in its list."""
        return self._bound(option)[1] if self.numbers else float(self.options.index(option))

    def _options(self) -> tuple[str, ...]:
        if self.numbers:
            return tuple(self.bound(step) for step in _steps(self.values, self.way)) if self.way else ()
        told = sorted({str(word) for word in self.values} - {UNKNOWN})
        unknown = (UNKNOWN,) if UNKNOWN in self.values else ()
        return (*told, *unknown) if len(told) <= MOST else ()

    @staticmethod
    def _bound(option: str) -> tuple[str, float]:
        told = _BOUND.fullmatch(option)
        assert told is not None, option
        return told[1], float(told[2])


def token(name: str, option: str) -> str:
    """An answer as a question holds it."""
    return f"{name}{PART}{option}"


def parted(said: str) -> tuple[str, str]:
    """The fact's name and the option of an answer."""
    name, _, option = said.partition(PART)
    return name, option


def _steps(values: np.ndarray, way: str) -> tuple[float, ...]:
    """Bounds that part the recorded: each number where there are few, else round figures between them."""
    known = np.unique(values[~np.isnan(values)])
    if len(known) > 7:
        spread = float(known[-1] - known[0])
        decimals = 1 - int(np.floor(np.log10(spread)))
        known = np.unique(np.round(np.quantile(known, (0.1, 0.25, 0.5, 0.75, 0.9)), decimals))
        told = values[~np.isnan(values)]
        return tuple(float(step) for step in known if told.min() <= step <= told.max())
    return tuple(map(float, known[:-1] if way == AT_MOST else known[1:]))


def _short(number: float) -> str:
    text = f"{number:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
