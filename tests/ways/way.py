"""What one way of keeping records consists of."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

import pandas as pd

from dashboard.records.importing.mapping import Question

NOTE = "what_we_know.txt"
Answer = str | Callable[[Question], str]


# What each of them knows of the instruments, and of columns that are called as everybody calls them.
_EVERYBODY: tuple[tuple[str, Answer], ...] = (
    ("^trial/tip_mm", "8"), ("^trial/temperature_compensated", "yes"),
    ("^columns/(Cultivar|Variety|Selection)/is", "cultivar"), ("^columns/Site/is", "site"), ("^columns/Date/is", "date"), ("^columns/Fruit/is", "fruit number"),
    ("^columns/Suture .mm./is", "suture"), ("^columns/Cross .mm./is", "cross"), ("^columns/Firmness 1 .N./is", "firmness 1"),
    ("^columns/Firmness 2 .N./is", "firmness 2"), ("^columns/Brix/is", "ssc"),
)  # fmt: skip


@dataclass(frozen=True)
class Made:
    """``truth`` as ``truth.of_samples`` writes it; ``called``: by spelling the cultivar or site it stands for, "not used" for none;
    ``may_wait``: of the truth what no sheet lets anybody read, ``may_be_wrong``: what nobody can see in the sheets to be false."""

    truth: pd.DataFrame
    called: Mapping[str, str] = field(default_factory=dict)
    may_wait: pd.DataFrame | None = None
    may_be_wrong: pd.DataFrame | None = None


@dataclass(frozen=True)
class Way:
    """``make`` writes the files into a folder, as many as ``size`` of 1; ``note`` is what its technician knows, and ``knows`` the same for the
    scripted one: a pattern of a question's place, and its answer."""

    name: str
    told: str
    note: str
    knows: tuple[tuple[str, Answer], ...]
    make: Callable[[Path, float], Made]
    later: tuple[str, ...] = ()  # files that came after the others, and are brought in by a second command

    @property
    def known(self) -> tuple[tuple[str, Answer], ...]:
        return (*self.knows, *_EVERYBODY)

    def made(self, folder: Path, size: float = 1.0) -> Made:
        folder.mkdir(parents=True)
        made = self.make(folder, size)
        (folder / NOTE).write_text(self.note, encoding="utf-8")
        return made

    def commands(self, folder: Path) -> list[list[Path]]:
        """The files of each import."""
        files = sorted(path for path in folder.iterdir() if path.name != NOTE)
        parts = [[path for path in files if (path.name in self.later) == late] for late in (False, True)]
        return [part for part in parts if part]
