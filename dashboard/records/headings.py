"""Which column of the schema a heading means, and the unit it declares."""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import get_close_matches

from dashboard.records.findings import Findings
from dashboard.records.not_used import ALL_USED, NotUsed, entry, plain
from dashboard.records.problems import listed, quoted
from dashboard.records.schema import TABLES, Column, Table
from dashboard.records.sheets import Sheet
from dashboard.terms.units import Unit


@dataclass(frozen=True)
class Heading:
    column: Column
    unit: Unit | None
    position: int
    written: str


def headings(sheet: Sheet, findings: Findings, not_used: NotUsed = ALL_USED) -> dict[str, Heading]:
    """The columns found, by canonical name; what cannot be used is told once a column and set aside.

    A column that is declared as not used is passed over in silence.
    """
    table = TABLES[sheet.table]
    known = {
        spelling: (column, unit) for column in table.columns for spelling, unit in column.spellings.items()
    }
    found: dict[str, Heading] = {}
    for position, written in enumerate(sheet.headings):
        name = plain(written)
        if not_used.heading(table.name, written):
            findings.unused[position] = True
        elif name in known:
            column, unit = known[name]
            if column.name not in found and sheet.headings.index(written) == position:
                found[column.name] = Heading(column, unit, position, written)
                continue
            first = found[column.name].written if column.name in found else written
            findings.set_column_aside(
                position, f"gives the same as {first}; it was left out", "keep one of the two columns"
            )
        elif written or (sheet.cells[position] != "").any():
            findings.set_column_aside(position, *_unusable(written, name, table))
    for column in table.columns:
        if column.needed and column.name not in found:
            findings.set_all_aside(
                f"the column {column.name} is not there, and no row can be used without it",
                f"add it: {column.meaning}",
            )
    return found


def _unusable(written: str, name: str, table: Table) -> tuple[str, str]:
    """Rule and suggestion for a heading that is no column of the table."""
    if not name:
        return (
            f"has cells under {f'the heading {quoted(written)}' if written else 'no heading'}; the column was left out",
            "write a heading over it, or delete the cells",
        )
    declare = f"declare {quoted(entry(table.name, written))} as not_used"
    for column in table.columns:
        if column.quantity and len(column.spellings) > 1 and _same_but_unit(name, column):
            accepted = listed(column.spellings, "or")
            return (
                "does not end in a unit that is read; the column was left out",
                f"name it {accepted}, or {declare}",
            )
    near = get_close_matches(
        name, [spelling for column in table.columns for spelling in column.spellings], 1, 0.75
    )
    suggestion = (
        f"rename it if it is meant to be {near[0]}, or {declare}"
        if near
        else f"{declare}; the columns of {table.name} are {listed(table.by_name)}"
    )
    return f"is not a column of {table.name}; it was left out", suggestion


def _same_but_unit(name: str, column: Column) -> bool:
    """suture, suture_ft, firmness_1_psi, oz_per_tree."""
    (spelling, unit), *_ = column.spellings.items()
    before, _, after = f"_{spelling}_".partition(f"_{unit.suffix}_" if unit else "\0")
    before, after = before.strip("_"), after.strip("_")
    pattern = "_".join(
        part for part in (re.escape(before), "[a-z]+" if after else "", re.escape(after)) if part
    )
    return re.fullmatch(pattern if after else f"{pattern}(_[a-z]+)?", name) is not None
