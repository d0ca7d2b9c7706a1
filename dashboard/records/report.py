"""What was found in records, as lines for a terminal."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

import pandas as pd

from dashboard.records.all_or_none import OWN
from dashboard.records.causes import gathered
from dashboard.records.heaps import fine, heap, heaps
from dashboard.records.importing.aside import NAME, still_waiting
from dashboard.records.problems import Problem, RecordError, Whose, seen
from dashboard.records.reading import Records, read
from dashboard.records.what_became import total

PLACES = ("heap", "day", "cultivar", "site", "sample", "file", "sheet", "row", "column", "value", "rule", "suggestion")  # fmt: skip


def written(problems: Iterable[Problem]) -> str:
    """One line a problem: "error" or "flag", whose fruit it is, and its sentence."""
    return "\n".join(
        f"{problem.severity:<5}  {f'{problem.whose}: ' if str(problem.whose or '') else ''}{problem.sentence}"
        for problem in problems
    )


def check(path: str | Path) -> tuple[str, int]:
    """The report on a folder or workbook, one line a cause, and an exit code: 1 when anything was set aside, otherwise 0.

    What to mend stands before what to look at, each under a line that counts its places, the newest fruit first. Then follow how many
    samples are fine, what an import left waiting, how many rows of each table were loaded, and what became of the filled cells: "3 errors, 12 flags;
    4,874 filled cells: 4,860 read, 14 set aside, 0 declared as not used".
    """
    return checked(path)[:2]


def checked(path: str | Path) -> tuple[str, int, pd.DataFrame]:
    """As ``check``, and a frame with every place in the same order, a row each: the columns PLACES."""
    try:
        records = read(path, thorough=True)
    except RecordError as error:
        why = gathered(error.problems)
        return f"{written(why)}\n{_counted(why)}; nothing loaded", 1, _places(error.problems)
    lines: list[str] = []
    found: list[Problem] = []
    for name, problems in heaps(records.problems).items():
        if problems:
            told = gathered(problems)
            found += told
            lines += [f"to {name}: {_number(len(problems), 'place')}, the newest first", written(told)]
    good, samples = fine(records.problems, records.tables["samples"]["sample"])
    if samples:
        lines.append(f"fine: {good:,} of {_number(samples, 'sample')}, with all their fruit")
    waits = still_waiting(Path(path) / OWN / NAME)
    lines += _waiting(Path(path), waits)
    count = sum(waits.values())
    more = f", {_number(count, 'cell')} {'waits' if count == 1 else 'wait'}" if count else ""
    lines += [_rows(records), f"{_counted(found)}{more}; {_cells(records)}"]
    return "\n".join(lines), int(_errors(found) > 0), _places(records.problems)


def _waiting(folder: Path, waits: Mapping[str, int]) -> list[str]:
    """Cells that an import set aside: the tables do not hold them, so nothing else here would tell of them."""
    place = folder / OWN / NAME
    return [
        f"{_number(count, 'cell')} of {seen(file)} {'waits' if count == 1 else 'wait'} in {place}: write beside {'it' if count == 1 else 'them'} what is right, and import {seen(file)} again"
        for file, count in waits.items()
    ]  # fmt: skip


def _places(problems: Iterable[Problem]) -> pd.DataFrame:
    rows = [
        (heap(p), who.day, who.cultivar, who.site, who.sample, p.file, p.sheet, str(p.row or ""), p.column, p.value, p.rule, p.suggestion)
        for p in problems
        for who in (p.whose or Whose(),)
    ]  # fmt: skip
    return pd.DataFrame(rows, columns=list(PLACES), dtype="str")


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
