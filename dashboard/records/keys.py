"""Rows that cannot stand beside the others: a key used twice, or a name that no table knows."""

from __future__ import annotations

import re
from difflib import get_close_matches

import numpy as np
import pandas as pd

from dashboard.records.findings import Findings
from dashboard.records.headings import plain
from dashboard.records.plain_text import texts
from dashboard.records.problems import listed, named_rows, quoted
from dashboard.records.schema import TABLES
from dashboard.records.sheets import Sheet

# Looking for a name that is near takes a while; where this many are unknown, a spelling is not the trouble.
_GUESSES = 25
_PICKED = ("samples", "fruit")
_CORRECT = {
    False: "correct one of the two rows",
    True: "correct one of the two, or number the picks: a second pick of one day needs a number of its own",
}


def told_apart(frame: pd.DataFrame, name: str, findings: Findings) -> tuple[pd.DataFrame, dict[str, str]]:
    """Rows whose name is theirs alone, and why each other name cannot be used: which row is meant cannot be told.

    A name that stands again in a row that was set aside, or in rows that differ in what no row can do without, is
    ambiguous: every row that uses it is set aside, here and in the tables that refer to it. Rows that agree are left.
    """
    table, sheet = TABLES[name], findings.sheet
    key = table.key[0]
    need = [column.name for column in table.columns if column.needed and column.name not in table.key]
    shared = {one: rows for one, rows in named(sheet, key).items() if len(rows) > 1} if need else {}
    why: dict[str, str] = {}
    if not shared:
        return frame, why
    loaded = {str(one): rows for one, rows in frame[frame[key].isin(list(shared))].groupby(key, sort=False)}
    lost: set[int] = set()
    for one, rows in loaded.items():
        if len(rows) == len(shared[one]) and len(rows.drop_duplicates(need)) == 1:
            continue
        why[one] = f"names more than one row of {name} ({located(sheet)}, {named_rows(shared[one])})"
        findings.set_rows_aside(
            rows.index.to_list(), key, one, f"names more than one row ({named_rows(shared[one])}), and they are not the same",
            f"give each {name.removesuffix('s')} a name of its own, wherever it is used",
        )  # fmt: skip
        lost |= set(rows.index)
    return frame[~frame.index.isin(lost)], why


def named(sheet: Sheet, key: str) -> dict[str, list[int]]:
    """The rows in which each name stands under the heading ``key``, also those that could not be taken apart."""
    position = next((place for place, heading in enumerate(sheet.headings) if plain(heading) == key), None)
    if position is None:
        return {}
    rows: dict[str, list[int]] = {}
    names, _, _ = texts(sheet.cells[position], False)
    torn = [(cells[position], row) for row, cells in sheet.torn if position < len(cells)]
    for one, row in [*zip(names, sheet.rows, strict=True), *torn]:
        if one:
            rows.setdefault(one, []).append(int(row))
    return {one: sorted(found) for one, found in rows.items()}


def located(sheet: Sheet) -> str:
    return f"{sheet.file}, sheet {sheet.sheet}" if sheet.sheet else sheet.file


def once(frame: pd.DataFrame, name: str, findings: Findings) -> pd.DataFrame:
    """Rows with a key of their own. A row written twice is dropped with a flag; of rows that differ the first stays."""
    key = list(TABLES[name].key)
    repeated = frame.duplicated(key, keep="first").to_numpy()
    if not repeated.any():
        return frame
    rows = frame.index.to_series()
    first = rows.groupby([frame[column] for column in key], dropna=False, sort=False).transform("first")
    later = frame[repeated]
    kept = frame.loc[first[repeated]]
    differs = np.column_stack([_different(later[column], kept[column]) for column in frame.columns])
    names, place = frame.columns, ", ".join(key)
    cells, kept_cells = ({column: rows[column].to_list() for column in names} for rows in (later, kept))
    for position, (row, other) in enumerate(zip(later.index, kept.index, strict=True)):
        words = ", ".join(_word(cells[column][position]) for column in key)
        if not differs[position].any():
            rule = f"is written twice, the same as row {other}; it counts once"
            findings.flag(row, place, words, rule, "delete one of the two rows")
            findings.twice.append(row)
            continue
        column = names[differs[position].argmax()]
        heading = _heading(findings.sheet, name, column)
        if heading is None:  # declared once for all rows
            here, there = (_word(row_cells[column][position]) for row_cells in (cells, kept_cells))
        else:
            column = findings.sheet.headings[heading]
            here, there = findings.sheet.cells[heading][findings.sheet.places([row, other])]
        said = [f"“{text}”" if text else "empty" for text in (there, here)]
        rule = f"differs from row {other}, of the same {listed(key)} ({words}): {column} is {said[0]} there and {said[1]} in row {row}; row {other} is kept"
        findings.set_row_aside(row, column, here, rule, _CORRECT[name in _PICKED])
    return frame[~repeated]


def _heading(sheet: Sheet, table: str, column: str) -> int | None:
    spelled = TABLES[table].by_name[column].spellings
    return next((at for at, heading in enumerate(sheet.headings) if plain(heading) in spelled), None)


def _different(one: pd.Series, other: pd.Series) -> np.ndarray:
    """Where two columns of the same length differ; two empty cells do not."""
    both_missing = one.isna().to_numpy() & other.isna().to_numpy()
    return ~both_missing & (one.to_numpy() != other.to_numpy())


def _word(value: object) -> str:
    if isinstance(value, bool | np.bool_):
        return "yes" if value else "no"
    if isinstance(value, pd.Timestamp):
        return f"{value:%Y-%m-%d}"
    if isinstance(value, float):
        return "" if value != value else f"{value:.6g}"
    return str(value)


def known(
    frame: pd.DataFrame,
    table: str,
    tables: dict[str, pd.DataFrame],
    aside: dict[str, dict[str, str]],
    findings: Findings,
) -> pd.DataFrame:
    """Rows whose names are all known to the tables they refer to.

    ``aside`` says, by table and key, why a name cannot be used: rows that belong to it go with it.
    Told once a name, at its first row.
    """
    lost = np.zeros(len(frame), dtype=bool)
    for column in TABLES[table].columns:
        if not column.refers:
            continue
        target = tables[column.refers][TABLES[column.refers].key[0]]
        names = frame[column.name]
        codes, written = pd.factorize(names)
        there = set(target.to_list())  # of text, isin goes through all of it one by one
        strange = np.array(
            [name not in there for name in written] + [False]
        )  # the last is that of a missing name
        unknown = strange[codes] & ~lost
        if not unknown.any():
            continue
        lost |= unknown
        choices = {str(choice).casefold(): str(choice) for choice in target}
        guesses = 0
        where = aside.get(column.refers, {})
        for value, rows in frame.index[unknown].to_series().groupby(names[unknown].to_numpy(), sort=False):
            name = str(value)
            if name in where:
                rule, suggestion = where[name], "correct it there and read again"
            else:
                guesses += 1
                near = _meant(name, choices) if guesses <= _GUESSES else ""
                suggestion = (
                    f"did you mean {quoted(near)}?"
                    if near
                    else f"add it to {column.refers}, or correct the name"
                )
                rule = f"is not in {column.refers}"
            findings.set_rows_aside(rows.to_list(), column.name, name, rule, suggestion)
    return frame[~lost]


def _meant(name: str, choices: dict[str, str]) -> str:
    """The known name it is likeliest to stand for, or nothing; ``choices`` are by their lower case."""
    lower = name.casefold()
    near = [lower] if lower in choices else get_close_matches(lower, choices, 5, 0.7)
    return next((choices[one] for one in near if numbers_in(one) == numbers_in(lower)), "")


def numbers_in(name: str) -> str:
    """Its digits, without zeros that only fill up: another number is another thing, however near it looks."""
    return "".join(run.lstrip("0") for run in re.findall(r"\d+", name))
