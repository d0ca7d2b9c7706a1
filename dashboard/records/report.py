"""What was found in records, as lines for a terminal."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from dashboard.records.problems import Problem, RecordError
from dashboard.records.reading import Records, read


def written(problems: Iterable[Problem]) -> str:
    """One line a problem: "error" or "flag", and its sentence."""
    return "\n".join(f"{problem.severity:<5}  {problem.sentence}" for problem in problems)


def check(path: str | Path) -> tuple[str, int]:
    """The report on a folder or workbook and an exit code: 1 when anything was set aside, otherwise 0.

    The last line counts: "3 errors, 12 flags; 4,871 of 4,874 samples loaded".
    """
    try:
        records = read(path, thorough=True)
    except RecordError as error:
        return f"{written(error.problems)}\n{_counted(error.problems)}; nothing loaded", 1
    lines = [written(records.problems)] if records.problems else []
    return "\n".join([*lines, f"{_counted(records.problems)}; {_loaded(records)}"]), int(
        _errors(records.problems) > 0
    )


def _loaded(records: Records) -> str:
    loaded, rows = len(records.tables["samples"]), records.rows_written["samples"]
    return f"{loaded:,} of {rows:,} samples loaded"


def _counted(problems: Iterable[Problem]) -> str:
    problems = list(problems)
    errors = _errors(problems)
    return f"{_number(errors, 'error')}, {_number(len(problems) - errors, 'flag')}"


def _errors(problems: Iterable[Problem]) -> int:
    return sum(problem.severity == "error" for problem in problems)


def _number(count: int, word: str) -> str:
    return f"{count:,} {word}" if count == 1 else f"{count:,} {word}s"
