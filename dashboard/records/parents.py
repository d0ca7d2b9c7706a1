"""The parents of cultivars: a parent need not be a cultivar of the table, but nobody is bred from itself.

A parent that is no parent (a word for "not known"), the cultivar itself, or bred from it, is set aside; one spelled almost like
another is loaded as it stands and told.
"""

from __future__ import annotations

from collections.abc import Iterable

import pandas as pd
from rapidfuzz import process
from rapidfuzz.distance import OSA

from dashboard.records.findings import Findings
from dashboard.records.keys import numbers_in
from dashboard.records.names import FORGIVEN, plain
from dashboard.records.problems import quoted
from dashboard.records.schema import PARENTS, TABLES

# What is written where there is no parent to name, by letters and digits alone.
NOBODY = frozenset(
    ("op", "open", "openpollinated", "openpollination", "unknown", "notknown", "none", "na", "-", "–", "?", "??", ".")
)  # fmt: skip
_SHOWN = 4  # of a line of descent


def usable_parents(cultivars: pd.DataFrame, findings: Findings) -> pd.DataFrame:
    """The table with those parents that can be; the index is the row number."""
    if not cultivars[list(PARENTS)].notna().any(axis=None):
        return cultivars
    kept = cultivars.copy()
    bred: dict[str, list[str]] = {}
    rows = dict(zip(cultivars["cultivar"], cultivars.index, strict=True))
    for row, cultivar, *both in cultivars[["cultivar", *PARENTS]].itertuples():
        for column, parent in zip(PARENTS, both, strict=True):
            if parent != parent or parent is None:
                continue
            said = _impossible(cultivar, parent, bred, rows)
            if said:
                findings.set_value_aside(row, TABLES["cultivars"].by_name[column].spellings, *said)
                kept.loc[row, column] = None
            else:
                bred.setdefault(cultivar, []).append(parent)
    _tell_near(kept, findings)
    return kept


def _impossible(
    cultivar: str, parent: str, bred: dict[str, list[str]], rows: dict[str, int]
) -> tuple[str, str] | None:
    """Why it cannot be a parent, and what to do; None where it can."""
    if plain(parent) in NOBODY and parent not in rows:
        return "names no parent", "leave it empty where it is not known, or pollination was open"
    if parent == cultivar:
        return "is the cultivar itself", "write the parent, or leave it empty"
    line = _line(parent, cultivar, bred)
    if not line:
        return None
    between = f", by way of {', '.join(quoted(one) for one in line[1:-1][:_SHOWN])}" if line[1:-1] else ""
    where = sorted({rows[one] for one in line[:-1] if one in rows})
    return (
        f"is itself bred from {quoted(cultivar)}{between} (row {', '.join(map(str, where))})",
        "correct one of these rows",
    )


def _line(parent: str, cultivar: str, bred: dict[str, list[str]]) -> list[str]:
    """From a parent down to the cultivar it descends from, or nothing."""
    came: dict[str, str | None] = {parent: None}
    waiting = [parent]
    while waiting:
        one = waiting.pop()
        if one == cultivar:
            line: list[str] = []
            step: str | None = one
            while step is not None:
                line.append(step)
                step = came[step]
            return line[::-1]
        for older in bred.get(one, ()):
            if older not in came:
                came[older] = one
                waiting.append(older)
    return []


def _tell_near(cultivars: pd.DataFrame, findings: Findings) -> None:
    """Flag each parent, once, that is spelled almost like a cultivar or like a parent named above it."""
    known = dict(zip(cultivars["cultivar"].tolist(), cultivars.index.tolist(), strict=True))
    seen: dict[str, int] = dict(known)
    for row, *both in cultivars[list(PARENTS)].itertuples():
        for column, parent in zip(PARENTS, both, strict=True):
            if parent != parent or parent is None or parent in seen:
                continue
            near = _nearest(parent, seen)
            seen[parent] = int(row)
            if near:
                what = f"cultivar {quoted(near)}" if near in known else f"parent {quoted(near)}"
                findings.flag(
                    row, column, parent, f"is spelled almost like the {what} in row {seen[near]}, and the two are read as two",
                    f"if they are one, write {quoted(near)} here",
                )  # fmt: skip


def _nearest(parent: str, names: Iterable[str]) -> str:
    """A name with the same letters and digits, or a letter away and with the same numbers; "" for none."""
    wanted = plain(parent)
    choices = {name: plain(name) for name in names}
    if len(wanted) < FORGIVEN:
        return next((name for name, other in choices.items() if other == wanted), "")
    near = process.extract(wanted, choices, scorer=OSA.distance, score_cutoff=1, limit=None)
    return next((name for _, off, name in near if not off or numbers_in(name) == numbers_in(parent)), "")
