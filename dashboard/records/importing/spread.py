"""Columns of means: beside a deviation, an error of the mean or a count no column of figures is a single reading.

The deviation of the fruit is the error of their mean times the root of their number; without the number nothing is made of an error.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.roles import ERRORS, MEAN_OF, NUMBER, ROLES, Role, offered
from dashboard.records.not_used import plain

Part = tuple[Role, np.ndarray, np.ndarray, np.ndarray, np.ndarray]  # rows, values, texts, cells
# Common practice, no source: what such columns are called in sheets.
_WORDS = {
    "sd": ("s", "sd", "s d", "std", "stdev", "std dev", "st dev", "standard deviation"),
    "se": ("se", "s e", "sem", "std err", "std error", "standard error"),
}
_KIND = {plain(word): kind for kind, words in _WORDS.items() for word in words}
_LETTERS = re.compile(r" \([A-Z]{1,2}\)$")
COUNT_THEM = (
    "bring the sheet again with a column n, the number of fruit; where nobody knows it, write “not used”"
)
_UNCOUNTED = (
    "is an error of a mean, and nobody wrote of how many fruit, so no deviation can be made of it",
    COUNT_THEM,
)


@lru_cache(maxsize=4096)
def spread(label: str) -> str:
    """sd or se, where a heading is a word for it; else ""."""
    return _KIND.get(plain(_LETTERS.sub("", label)), "")


def has_spread(labels: Sequence[str]) -> bool:
    return any(spread(label) or offered(label)[0].startswith(("sd ", "se ")) for label in labels)


def of_means(labels: Sequence[str]) -> bool:
    """Whether the columns hold means: one is a deviation or an error, or a count of fruit where no fruit has a number."""
    roles = {offered(label)[0] for label in labels}
    return has_spread(labels) or ("fruit measured" in roles and NUMBER not in roles)


def meant(labels: Sequence[str], label: str, role: str) -> str:
    """What a column of such a sheet is offered as: the mean of a reading, or the spread of the mean before it."""
    kind = spread(label)
    if not kind:
        return MEAN_OF.get(role, role)
    before = [one for one in labels[: list(labels).index(label)] if not spread(one)]
    found = offered(before[-1])[0] if before else ""
    of = MEAN_OF.get(found, found)
    return f"{kind} {of.removeprefix('mean ')}" if of.startswith("mean ") else ""


def deviations(parts: Sequence[Part], ledger: Ledger) -> list[Part]:
    """Errors of means as deviations, by the number of fruit in their row; those without one are set aside."""
    counts = {int(row): float(value) for part in parts if part[0].name == "fruit measured" for row, value in zip(part[1], part[2], strict=True)}  # fmt: skip
    found: list[Part] = []
    for part in parts:
        role, rows, values, texts, codes = part
        if role.name not in ERRORS:
            found.append(part)
            continue
        number = np.array([counts.get(int(row), np.nan) for row in rows], dtype=float)
        known = np.isfinite(number)
        ledger.aside(codes[~known], *_UNCOUNTED)
        made = values[known] * np.sqrt(number[known])
        found.append((ROLES[ERRORS[role.name]], rows[known], made, texts[known], codes[known]))
    return found
