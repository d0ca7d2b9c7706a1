"""Many places with one cause are told once: at the first of them, with how many more there are and where.

What was picked last may still lie on the bench: of the newest day a cause is told apart from what is older.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from dashboard.records.problems import Problem, listed, named_rows

FEW = 3  # as many are told one by one: each may be looked at by itself


def causes(problems: Iterable[Problem], few: int = FEW, newest_apart: bool = True) -> list[list[Problem]]:
    """The problems in their order; those of one sheet that differ only in value and place stand together where the first of them does."""
    by_cause: dict[tuple, list[tuple[int, Problem]]] = {}
    for number, problem in enumerate(problems):
        # A name suggested is a cause of its own; a name in the rule, or a figure, is not.
        cause = _without_names(problem.rule), _without_figures(problem.suggestion)
        by_cause.setdefault((problem.severity, problem.file, problem.sheet, *cause), []).append(
            (number, problem)
        )
    days = [problem.whose.day for same in by_cause.values() for _, problem in same if problem.whose]
    told: list[list[tuple[int, Problem]]] = []
    newest = max(days, default="") if newest_apart else ""
    for same in (part for cause in by_cause.values() for part in _parted(cause, newest)):
        told += [[one] for one in same] if len(same) <= few else [same]
    return [[problem for _, problem in same] for same in sorted(told, key=lambda one: one[0][0])]


def _parted(same: list[tuple[int, Problem]], newest: str) -> list[list[tuple[int, Problem]]]:
    """Those of the newest day and the others, where there are several of that day and many in all."""
    recent = [bool(newest and problem.whose and problem.whose.day == newest) for _, problem in same]
    # A value that is not used is one fault of a file, however many days it holds.
    if same[0][1].severity == "error" or len(same) <= FEW or not 1 < sum(recent) < len(same):
        return [same]
    return [[one for one, late in zip(same, recent, strict=True) if late is part] for part in (True, False)]


def gathered(problems: Iterable[Problem]) -> list[Problem]:
    """A problem a cause: the first of ``causes``, with where the others are."""
    return [_together(same, True) if len(same) > 1 else same[0] for same in causes(problems)]


def in_short(problems: Iterable[Problem]) -> list[Problem]:
    """A problem a cause, however few it has, with how many others there are: where they are stands elsewhere. Of rows that have just come in
    all are new."""
    return [_together(same, False) if len(same) > 1 else same[0] for same in causes(problems, 1, False)]


def _together(same: list[Problem], places: bool) -> Problem:
    first, *others = same
    columns = list(dict.fromkeys(problem.column for problem in same if problem.column))
    rows = list(dict.fromkeys(problem.row for problem in others if problem.row))
    also = f"also {named_rows(rows)}" if rows else ""
    where = "; ".join(part for part in (listed(columns) if len(columns) > 1 else "", also) if part)
    more = f"first of {len(same):,}"
    return replace(first, likewise=more + (f" ({where})" if where and places else ""))


def _without_names(text: str) -> str:
    return re.sub(r"“[^”]*”|\d[\d.,]*", "#", text)


def _without_figures(text: str) -> str:
    return re.sub(r"(“[^”]*”)|\d[\d.,]*", lambda found: found[1] or "#", text)
