"""What the check found in three heaps: what to mend, what to look at, and how much is fine; in each the newest fruit first."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

import numpy as np
import pandas as pd

from dashboard.records.days import days_of
from dashboard.records.findings import Findings
from dashboard.records.not_used import plain
from dashboard.records.problems import Problem, Whose
from dashboard.records.schema import TABLES

MEND, LOOK = "mend", "look at"
_DAYS = ("date", "full_bloom")  # the columns that say when


def heap(problem: Problem) -> str:
    """MEND: a value that is not used, or is surely wrong; LOOK: one that is seldom right."""
    return MEND if problem.severity == "error" or problem.sure else LOOK


def heaps(problems: Iterable[Problem]) -> dict[str, list[Problem]]:
    """The problems of both heaps, in the order they have."""
    found: dict[str, list[Problem]] = {MEND: [], LOOK: []}
    for problem in problems:
        found[heap(problem)].append(problem)
    return found


def fine(problems: Iterable[Problem], samples: Iterable[str]) -> tuple[int, int]:
    """Of the samples loaded, how many nothing is said of, nor of any of their fruit, nor of a column that they have cells under; and how many there are."""
    names = set(map(str, samples))
    said: set[str] = set()
    for problem in problems:
        said |= {problem.whose.sample} if problem.whose else problem.samples
    return len(names - said), len(names)


def in_order(problems: Iterable[Problem]) -> list[Problem]:
    """What to mend before what to look at; in each first what is of no day, then from the newest day back, file by file and row by row."""
    problems = list(problems)
    files = {
        place: number
        for number, place in enumerate(dict.fromkeys((problem.file, problem.sheet) for problem in problems))
    }
    found = sorted(problems, key=lambda one: (files[one.file, one.sheet], one.row or 0))
    found.sort(key=lambda one: one.whose.day if one.whose and one.whose.day else "9999", reverse=True)
    found.sort(key=lambda one: (heap(one) != MEND, one.severity != "error"))
    return found


def with_whose(by_table: Mapping[str, Findings]) -> list[Problem]:
    """The problems of all tables, each with the fruit that its row is of, as the row names it: also where the row was set aside."""
    samples = _cells(by_table["samples"]) if "samples" in by_table else pd.DataFrame()
    if "sample" in samples:
        samples = samples.drop_duplicates("sample").set_index("sample", drop=False)
    found: list[Problem] = []
    for findings in by_table.values():
        told = [problem.row for problem in findings.problems if problem.row and problem.row > 1]
        rows = _cells(findings, told)
        if findings.sheet.table != "samples" and "sample" in rows and "sample" in samples:
            rows = rows[[name for name in rows if name not in samples or name == "sample"]].join(
                samples.drop(columns="sample"), on="sample"
            )
        known = _whose(rows)
        found += [
            replace(one, whose=known.get(one.row or 0), samples=_under(findings, findings.lost.get(number)))
            for number, one in enumerate(findings.problems)
        ]
    return found


def _cells(findings: Findings, told: Iterable[int] | None = None) -> pd.DataFrame:
    """Of a sheet the cells that say whose fruit a row is of, as text, by row number; of all rows, or of those ``told``."""
    sheet = findings.sheet
    by_name = TABLES[sheet.table].by_name
    at = slice(None) if told is None else np.isin(sheet.rows, list(told))
    columns = {}
    for name in ("sample", "cultivar", "site", "fruit", *_DAYS):
        spelled = by_name[name].spellings if name in by_name else ()
        place = next((i for i, written in enumerate(sheet.headings) if plain(written) in spelled), None)
        if place is not None:
            columns["day" if name in _DAYS else name] = sheet.cells[place][at]
    return pd.DataFrame(columns, index=sheet.rows[at], dtype=object)


def _under(findings: Findings, position: int | None) -> frozenset[str]:
    """The samples that have cells under a column."""
    if position is None or "sample" not in (cells := _cells(findings)):
        return frozenset()
    return frozenset(cells["sample"][findings.sheet.cells[position] != ""].astype(str))


def _whose(rows: pd.DataFrame) -> dict[int, Whose]:
    if rows.empty or not len(rows.columns):
        return {}
    rows = rows.fillna("")
    if "day" in rows:
        days = pd.Series(days_of(rows["day"].to_numpy(), True)[0], index=rows.index)
        rows["day"] = days.dt.strftime("%Y-%m-%d").fillna("")
    names = [str(name) for name in rows]
    cells = zip(rows.index, rows.to_numpy(dtype=object), strict=True)
    return {int(row): Whose(**dict(zip(names, values, strict=True))) for row, values in cells}
