"""What was found in records, as lines for a terminal."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from dashboard.records.causes import gathered
from dashboard.records.problems import Problem, RecordError
from dashboard.records.reading import Records, read
from dashboard.records.what_became import total


def written(problems: Iterable[Problem]) -> str:
    """One line a problem: "error" or "flag", and its sentence."""
    return "\n".join(f"{problem.severity:<5}  {problem.sentence}" for problem in problems)


def check(path: str | Path) -> tuple[str, int]:
    """The report on a folder or workbook, one line a cause, and an exit code: 1 when anything was set aside, otherwise 0.

    The line before the last says how many rows of each table were loaded, the last one counts: "3 errors, 12 flags;
    4,874 filled cells: 4,860 read, 14 set aside, 0 declared as not used".
    """
    try:
        records = read(path, thorough=True)
    except RecordError as error:
        causes = gathered(error.problems)
        return f"{written(causes)}\n{_counted(causes)}; nothing loaded", 1
    causes = gathered(records.problems)
    last = f"{_counted(causes)}; {_cells(records)}"
    return "\n".join([*([written(causes)] if causes else []), _rows(records), last]), int(_errors(causes) > 0)


def _rows(records: Records) -> str:
    told = [
        f"{one.loaded:,} of {one.rows:,} {name}"
        for name, one in records.accounts.items()
        if name in records.tables
    ]
    return f"rows loaded: {', '.join(told)}{_newest(records)}"


def _newest(records: Records) -> str:
    """Whether this week's fruit is in is seen from the newest day of picking, written as a file holds it."""
    days = records.tables["samples"]["date"].dropna() if "samples" in records.tables else ()
    return f"; newest sample picked {max(days):%Y-%m-%d}" if len(days) else ""


def _cells(records: Records) -> str:
    cells = total(records.accounts.values())
    lost = cells.filled - cells.read - cells.aside - cells.unused
    told = f"{_number(cells.filled, 'filled cell')}: {cells.read:,} read, {cells.aside:,} set aside, {cells.unused:,} declared as not used"
    told += f", {lost:,} not accounted for" if lost else ""
    return told + (f"; not opened: {', '.join(records.unopened)}" if records.unopened else "")


def _counted(problems: Iterable[Problem]) -> str:
    problems = list(problems)
    errors = _errors(problems)
    return f"{_number(errors, 'error')}, {_number(len(problems) - errors, 'flag')}"


def _errors(problems: Iterable[Problem]) -> int:
    return sum(problem.severity == "error" for problem in problems)


def _number(count: int, word: str) -> str:
    return f"{count:,} {word}" if count == 1 else f"{count:,} {word}s"
