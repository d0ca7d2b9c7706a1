"""From files to checked tables: ``read`` is the way in, ``Records`` what comes out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path

import pandas as pd

from dashboard.records.checking import checked, empty
from dashboard.records.declaration import Declaration, declared
from dashboard.records.findings import Findings, set_aside
from dashboard.records.headings import plain
from dashboard.records.keys import known, once
from dashboard.records.photos import suspect_photos
from dashboard.records.problems import Problem, RecordError
from dashboard.records.schema import REQUIRED, TABLES
from dashboard.records.sheets import Sheet, Source
from dashboard.records.sources import read_source
from dashboard.records.suspicions import suspect_bloom, suspect_dates, suspect_fruit, suspect_weather


@dataclass(frozen=True, eq=False)
class Records:
    """Checked records. ``tables`` has every table of the schema with every column, typed, in SI units.

    Missing text is missing (NaN), dates are datetime64, numbers float, yes/no bool (missing: False). The
    index of a table is 0 … n - 1. ``set_aside`` has one row a cell or row that was not loaded: file, sheet,
    row, column, value, rule, suggestion, whole_row. ``rows_written`` counts the rows of each table as found.
    """

    tables: dict[str, pd.DataFrame]
    problems: tuple[Problem, ...]
    declaration: Declaration
    source: str
    version: str
    set_aside: pd.DataFrame = field(default_factory=lambda: set_aside([]))
    rows_written: dict[str, int] = field(default_factory=dict)


def read(path: str | Path, thorough: bool = False) -> Records:
    """The records of a folder of .csv tables or of one .xlsx workbook.

    Cells and rows at fault are set aside and told in ``problems``; the rest loads. RecordError only when
    nothing can be loaded: no such place, a required table missing or unusable, no cultivar left. ``thorough``
    looks at every pixel of the photographs, too.
    """
    source = read_source(Path(path))
    declaration, said = declared(source)
    problems = [*source.problems, *said]
    aside = [
        (p.file, p.sheet, p.row, p.column, p.value, p.rule, p.suggestion, p.value)
        for p in source.problems
        if p.severity == "error"
    ]
    tables: dict[str, pd.DataFrame] = {}
    gone: dict[str, dict[str, str]] = {}  # keys set aside, by table, and where they stood
    by_table: dict[str, Findings] = {}
    for name in TABLES:  # a table stands after those it refers to
        sheet = source.sheets.get(name)
        if sheet is None:
            tables[name] = empty(name)
            continue
        findings = by_table[name] = Findings(sheet)
        frame = once(checked(sheet, declaration, findings), name, findings)
        tables[name] = known(frame, name, tables, gone, findings)
        gone[name] = _places(sheet, tables[name], findings)
        if name == "sites":
            declaration = replace(declaration, south=bool((tables[name]["latitude_deg"] < 0).any()))
    _suspect(tables, by_table)
    if "samples" in by_table:
        suspect_photos(tables["samples"], str(path), by_table["samples"], thorough)
    for findings in by_table.values():
        problems += findings.problems
        aside += findings.aside
    problems = _ordered(problems)
    _require(tables, by_table, problems)
    return Records(
        tables={name: tables[name].reset_index(drop=True) for name in TABLES},
        problems=tuple(problems),
        declaration=declaration,
        source=str(path),
        version=source.version,
        set_aside=set_aside(aside),
        rows_written=_counts(source),
    )


def _places(sheet: Sheet, frame: pd.DataFrame, findings: Findings) -> dict[str, str]:
    """Where the keys that did not load stand: name to "samples.csv, row 14"."""
    lost = {int(row) for _, _, row, *_, whole in findings.aside if whole}
    key = TABLES[sheet.table].key[0]
    position = next((place for place, heading in enumerate(sheet.headings) if plain(heading) == key), None)
    if not lost or position is None:
        return {}
    where = f"{sheet.file}, sheet {sheet.sheet}" if sheet.sheet else sheet.file
    loaded = set(frame[key])
    names = zip(sheet.cells[position], sheet.rows, strict=True)
    return {name: f"{where}, row {row}" for name, row in names if int(row) in lost and name not in loaded}


def _suspect(tables: dict[str, pd.DataFrame], by_table: dict[str, Findings]) -> None:
    if "fruit" in by_table:
        suspect_fruit(tables["fruit"], tables["samples"], by_table["fruit"])
    if "samples" in by_table:
        suspect_dates(tables["samples"], tables["sites"], by_table["samples"])
    if "weather" in by_table:
        suspect_weather(tables["weather"], by_table["weather"])
    if "bloom" in by_table:
        suspect_bloom(tables["bloom"], by_table["bloom"])


def _require(tables: dict[str, pd.DataFrame], by_table: dict[str, Findings], problems: list[Problem]) -> None:
    """A required table without its key columns, or no cultivar at all: nothing can be shown."""
    unusable = [
        name
        for name in REQUIRED
        if any(
            problem.severity == "error" and problem.row == 1 and not problem.column
            for problem in by_table[name].problems
        )
    ]
    if unusable:
        raise RecordError(problem for problem in problems if problem.severity == "error")
    if tables["cultivars"].empty:
        sheet = by_table["cultivars"].sheet
        none = Problem(
            "error",
            sheet.file,
            sheet.sheet,
            rule="no cultivar can be loaded",
            suggestion="write at least one row, or correct the rows set aside",
        )
        raise RecordError([*(problem for problem in problems if problem.severity == "error"), none])


def _ordered(problems: Iterable[Problem]) -> list[Problem]:
    """Errors first; then table by table as they were read, from the top of each."""
    files = {
        place: number
        for number, place in enumerate(dict.fromkeys((problem.file, problem.sheet) for problem in problems))
    }
    return sorted(
        problems,
        key=lambda problem: (
            problem.severity != "error",
            files[problem.file, problem.sheet],
            problem.row or 0,
        ),
    )


def _counts(source: Source) -> dict[str, int]:
    sheets = source.sheets
    return {name: len(sheets[name]) + sheets[name].unread if name in sheets else 0 for name in TABLES}
