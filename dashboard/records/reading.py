"""From files to checked tables: ``read`` is the way in, ``Records`` what comes out."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from pathlib import Path

import pandas as pd

from dashboard.records.beside_fruit import BESIDE_FRUIT
from dashboard.records.brix_at_20 import bring_to_20
from dashboard.records.came_from import with_sheets
from dashboard.records.checking import checked, empty
from dashboard.records.declaration import Declaration, declared
from dashboard.records.findings import Findings, set_aside
from dashboard.records.heaps import in_order, with_whose
from dashboard.records.keys import known, located, named, once, told_apart
from dashboard.records.not_used import entry
from dashboard.records.parents import usable_parents
from dashboard.records.photos import suspect_photos
from dashboard.records.problems import Problem, RecordError
from dashboard.records.schema import REQUIRED, TABLES
from dashboard.records.sheets import Source
from dashboard.records.sources import read_source
from dashboard.records.suspicions import suspect
from dashboard.records.uncollected import uncollected
from dashboard.records.what_became import Account, account, left_out


@dataclass(frozen=True, eq=False)
class Records:
    """Checked records. ``tables`` has every table of the schema with every column, typed, in SI units.

    Missing text is missing (NaN), dates are datetime64, numbers float, yes/no bool (missing: False). The
    index of a table is 0 … n - 1. ``set_aside`` has one row a cell or row that was not loaded: file, sheet,
    row, column, value, rule, suggestion, whole_row. ``rows_written`` counts the rows of each table as found;
    ``accounts`` says of each table, and of each other file or sheet, what became of its cells.
    """

    tables: dict[str, pd.DataFrame]
    problems: tuple[Problem, ...]
    declaration: Declaration
    source: str
    version: str
    set_aside: pd.DataFrame = field(default_factory=lambda: set_aside([]))
    accounts: dict[str, Account] = field(default_factory=dict)
    unopened: tuple[str, ...] = ()  # files among the records whose cells nobody counted

    @property
    def rows_written(self) -> dict[str, int]:
        return {name: self.accounts[name].rows if name in self.accounts else 0 for name in TABLES}


@uncollected()
def read(path: str | Path, thorough: bool = False) -> Records:
    """The records of a folder of .csv tables, of one .xlsx workbook, or of a store (its file, or a database's address).

    Cells and rows at fault are set aside and told in ``problems``; the rest loads. RecordError only when
    nothing can be loaded: no such place, a required table missing or unusable, no cultivar left. ``thorough``
    looks at every pixel of the photographs, too.
    """
    source = read_source(path)
    found = loaded(source)
    tables, by_table = found.tables, found.by_table
    suspect(tables, by_table, found.declaration)
    bring_to_20(
        tables, by_table, found.declaration.temperature_compensated, found.declaration.refractometer_zero
    )
    if "samples" in by_table:
        suspect_photos(tables["samples"], str(path), by_table["samples"], thorough)
    for findings in by_table.values():
        found.aside += findings.aside
    return Records(
        tables={name: tables[name].reset_index(drop=True) for name in TABLES},
        problems=tuple(with_sheets(usable(found), path)),
        declaration=found.declaration,
        source=str(path),
        version=source.version,
        set_aside=set_aside(found.aside),
        accounts=found.accounts,
        unopened=tuple(source.unopened),
    )


@dataclass
class Loaded:
    """``tables``: the rows that load, in SI units, by the numbers of their rows; ``by_table``: what was found of each table there is, ``problems``
    and ``aside`` of all else. Nothing was looked at that may be right and seldom is."""

    declaration: Declaration
    problems: list[Problem]
    accounts: dict[str, Account]
    aside: list[tuple]
    tables: dict[str, pd.DataFrame] = field(default_factory=dict)
    by_table: dict[str, Findings] = field(default_factory=dict)


def loaded(source: Source) -> Loaded:
    """What loads of the tables of a source."""
    declaration, said = declared(source)
    accounts, strange = _strangers(source, declaration)
    problems = [*source.problems, *said, *strange, *_idle(source, declaration)]
    aside = [
        (p.file, p.sheet, p.row, p.column, p.value, p.rule, p.suggestion, p.value)
        for p in (*source.problems, *strange)
        if p.severity == "error"
    ]
    found = Loaded(declaration, problems, accounts, aside)
    tables = found.tables
    gone: dict[str, dict[str, str]] = {}  # names that cannot be used, by table, and why
    for name, table in TABLES.items():  # a table stands after those it refers to
        sheet = source.sheets.get(name)
        tables[name] = empty(name)
        if sheet is None:
            continue
        if not table.required and declaration.not_used.named(sheet.sheet or sheet.file):
            accounts[name] = left_out(sheet, unused=True)
            continue
        findings = found.by_table[name] = Findings(sheet)
        frame = known(checked(sheet, declaration, findings), name, tables, gone, findings)
        frame, ambiguous = told_apart(frame, name, findings)
        tables[name] = once(frame, name, findings)
        if name == "cultivars":
            tables[name] = usable_parents(tables[name], findings)
        if name in BESIDE_FRUIT:
            tables[name] = BESIDE_FRUIT[name](tables[name], tables["fruit"], findings)
        gone[name] = gone_names(tables[name], name, findings) | ambiguous
        accounts[name] = account(findings, tables[name])
        if name == "sites":
            declaration = replace(declaration, south=bool((tables[name]["latitude_deg"] < 0).any()))
    found.declaration = declaration
    return found


def _strangers(source: Source, declaration: Declaration) -> tuple[dict[str, Account], list[Problem]]:
    """What became of the files and sheets that are no table, and what is wrong with those that nobody declared as not used."""
    accounts: dict[str, Account] = {}
    problems: list[Problem] = []
    for stranger in source.strangers:
        unused = declaration.not_used.named(stranger.name)
        if stranger.sheet is not None:
            accounts[stranger.name] = left_out(stranger.sheet, unused)
        if not unused:
            problems.append(stranger.problem)
    return accounts, problems


def _idle(source: Source, declaration: Declaration) -> list[Problem]:
    """Entries under not_used that name nothing: the thing may be read under a name spelled otherwise."""
    there = [stranger.name for stranger in source.strangers]
    for name, sheet in source.sheets.items():
        there += [] if TABLES[name].required else [sheet.sheet or sheet.file]
        there += [entry(name, heading) for heading in sheet.headings]
    return [
        Problem("flag", source.about_file, source.about_sheet, None, "not_used", written, "is no heading, sheet or file that could be left out",
                "take it out, or write it as it stands there")
        for written in declaration.not_used.idle(there)
    ]  # fmt: skip


def gone_names(frame: pd.DataFrame, name: str, findings: Findings) -> dict[str, str]:
    """Names whose rows did not load, and why: "was itself set aside (samples.csv, row 14)"."""
    lost = {int(row) for _, _, row, *_, whole in findings.aside if whole}
    if not lost:
        return {}
    key, loaded = TABLES[name].key[0], set(frame[TABLES[name].key[0]])
    where = located(findings.sheet)
    return {
        one: f"was itself set aside ({where}, row {next(row for row in rows if row in lost)})"
        for one, rows in named(findings.sheet, key).items()
        if one not in loaded and lost.intersection(rows)
    }


def usable(found: Loaded) -> list[Problem]:
    """All that was found, in order. RecordError where a required table is without its key columns, or there is no cultivar at all: nothing can
    be shown."""
    by_table = found.by_table
    problems = in_order([*found.problems, *with_whose(by_table)])
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
    if found.tables["cultivars"].empty:
        sheet = by_table["cultivars"].sheet
        none = Problem(
            "error",
            sheet.file,
            sheet.sheet,
            rule="no cultivar can be loaded",
            suggestion="write at least one row, or correct the rows set aside",
        )
        raise RecordError([*(problem for problem in problems if problem.severity == "error"), none])
    return problems
