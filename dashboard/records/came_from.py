"""In which row of which sheet each fruit of a trial came in: whoever brought the sheet has no other table to look into.

One line a sample and sheet, beside the tables: ``1-10: 12-21; 0: 12`` is fruit 1 to 10 in rows 12 to 21, and what holds of the whole sample in
row 12. Ten fruit side by side are ``1-10: 12``.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pandas as pd

from dashboard.records.all_or_none import OWN, pending
from dashboard.records.plain_text import plain_cell, without_mark
from dashboard.records.problems import Problem, Whose

CAME = f"{OWN}/came_from.csv"
HEADINGS = ("sample", "file", "sheet", "rows")
_TABLES = ("samples.csv", "fruit.csv", "means.csv", "beyond.csv")
_MOST = 2  # sheets that are named: sizes may be in one and sugar in another

Run = tuple[int, int, int, int]  # first and last fruit, first and last row


def with_cells(folder: Path, cells: pd.DataFrame) -> bytes:
    """What is known of a trial with these cells below it: sample, fruit (0: of the whole sample), file, sheet and row."""
    lines = _lines(folder)
    columns = ["sample", "file", "sheet", "fruit", "row"]
    ordered = cells[columns].groupby(columns[:4], sort=True)["row"].min().reset_index()
    runs: dict[tuple[str, str, str], list[list[int]]] = {}
    for sample, file, sheet, fruit, row in zip(*(ordered[name].tolist() for name in columns), strict=True):
        _add(runs.setdefault((str(sample), file, sheet), []), fruit, row)
    for name, found in runs.items():
        lines.pop(name, None)  # the sheet that was brought last stands last
        lines[name] = "; ".join(f"{_from_to(first, last)}: {_from_to(top, bottom)}" for first, last, top, bottom in found)  # fmt: skip
    text = io.StringIO(newline="")
    csv.writer(text, lineterminator="\n").writerows([HEADINGS, *((*map(plain_cell, name), rows) for name, rows in lines.items())])  # fmt: skip
    return text.getvalue().encode("utf-8")


def with_sheets(problems: Iterable[Problem], path: str | Path) -> list[Problem]:
    """The problems, those of a sample's rows with the row of the sheet that brought it in, where that is known."""
    problems = list(problems)
    of_sample = {without_mark(one.whose.sample) for one in problems if one.whose and one.file in _TABLES}
    known: dict[str, list[tuple[str, str, str]]] = {}
    for (sample, file, sheet), rows in (
        _lines(Path(path)).items() if of_sample and Path(path).is_dir() else ()
    ):
        if sample in of_sample:
            known.setdefault(sample, []).append((file, sheet, rows))
    return [
        replace(one, brought=_told(one.whose, known.get(without_mark(one.whose.sample), ()))) if one.whose and one.file in _TABLES else one
        for one in problems
    ]  # fmt: skip


def _told(whose: Whose, known: Iterable[tuple[str, str, str]]) -> str:
    fruit = int(whose.fruit) if whose.fruit.isdecimal() else 0
    found = []
    for file, sheet, rows in known:
        runs = [_run(one) for one in rows.split("; ")]
        row = next((_row(run, fruit) for run in runs if run[0] <= fruit <= run[1]), "")
        if not row and not fruit:
            row = _from_to(min(run[2] for run in runs), max(run[3] for run in runs), " to ")
        if row:
            place = ", ".join(part for part in (file, f"sheet {sheet}" if sheet else "") if part)
            found.append(f"{place}, row{'s' * (' ' in row)} {row}")
    return "; ".join(found[-_MOST:])


def _add(runs: list[list[int]], fruit: int, row: int) -> None:
    """One more fruit, in their order: it goes on with a run where both stand on end, or side by side in one row."""
    first, last, top, bottom = runs[-1] if runs else (0, -2, 0, 0)
    step = row - bottom
    if fruit == last + 1 and step in (0, 1) and (first == last or step == int(bottom > top)):
        runs[-1][1], runs[-1][3] = fruit, row
    else:
        runs.append([fruit, fruit, row, row])


def _row(run: Run, fruit: int) -> str:
    first, _, top, bottom = run
    return str(top if top == bottom else top + fruit - first)


def _from_to(first: int, last: int, between: str = "-") -> str:
    return str(first) if first == last else f"{first}{between}{last}"


def _run(text: str) -> Run:
    fruit, _, rows = text.partition(": ")
    (first, *last), (top, *bottom) = (list(map(int, part.split("-"))) for part in (fruit, rows))
    return first, (last or [first])[0], top, (bottom or [top])[0]


def _lines(folder: Path) -> dict[tuple[str, str, str], str]:
    """By sample, file and sheet where its rows stood; nothing where it is not known, or somebody broke the line."""
    try:
        text = pending(folder).place(folder, CAME).read_text(encoding="utf-8-sig", errors="replace")
        rows = list(csv.reader(io.StringIO(text, newline="")))
    except (OSError, csv.Error):
        return {}
    if not rows or tuple(rows[0]) != HEADINGS:
        return {}
    return {(without_mark(sample), without_mark(file), without_mark(sheet)): said for sample, file, sheet, said in (row for row in rows[1:] if len(row) == 4) if _sound(said)}  # fmt: skip


def _sound(said: str) -> bool:
    try:
        return all(np.diff([*_run(one)])[[0, 2]].min() >= 0 for one in said.split("; "))
    except ValueError:
        return False
