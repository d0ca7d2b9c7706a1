"""Which column of the schema a heading means, and the unit it declares."""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import get_close_matches

from dashboard.records.findings import Findings
from dashboard.records.importing.roles import ERRORS, NUMBER, ROLES, offered
from dashboard.records.not_used import ALL_USED, NotUsed, entry, plain
from dashboard.records.problems import listed, quoted
from dashboard.records.schema import TABLES, Column, Table
from dashboard.records.sheets import Sheet
from dashboard.terms.units import Unit

# One row of a table whose name does not say it.
_ONE = {"weather": "day of weather", "nursery": "offer"}


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
    strange: list[tuple[int, str, str]] = []
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
            strange.append((position, written, name))
    for position, written, name in strange:
        meant, spellings = _meant(written, name, table)
        lost = meant if meant and meant.name not in found else None
        said = _unusable(written, name, table, lost, spellings)
        findings.set_column_aside(position, *said, lost=lost is not None)
    for column in table.columns:
        if column.needed and column.name not in found:
            findings.set_all_aside(
                f"the column {column.name} is not there, and no row can be used without it",
                f"add it: {column.meaning}",
            )
    return found


def _unusable(
    written: str, name: str, table: Table, lost: Column | None, spellings: list[str]
) -> tuple[str, str]:
    """Rule and suggestion for a heading that is no column of the table; ``lost``: the column it seems to mean, which no other heading gives."""
    if not name:
        return (
            f"has cells under {f'the heading {quoted(written)}' if written else 'no heading'}; the column was left out",
            "write a heading over it, or delete the cells",
        )
    declare = f"declare {quoted(entry(table.name, written))} as not_used"
    if lost is None:
        return (
            f"is not a column of {table.name}; it was left out",
            f"{declare}; the columns of {table.name} are {listed(table.by_name)}",
        )
    rule = f"is not a column of {table.name}; it was left out"
    first = f"did you mean {listed(spellings, 'or')}? Then rename it"
    if len(spellings) > 1:
        if _same_but_unit(name, lost):
            rule = "does not end in a unit that is read; the column was left out"
        first = f"name it {listed(spellings, 'or')}, as its readings are"
    return rule, f"{first}: {_until_then(table, lost)}; if it is something else, {declare}"


def _until_then(table: Table, column: Column) -> str:
    """What is missing while a heading is wrong: "no fruit has sugar until then"."""
    if column.needed:
        return "no row is read until then"
    unit = next(iter(column.spellings.values()))
    parts = [part for part in column.name.split("_") if not unit or part != unit.suffix]
    what = " ".join(parts).replace("ssc", "sugar").replace("colour", "color")
    one = _ONE.get(table.name, table.name.removesuffix("s"))
    return f"no {one} has {what}{' diameter' if what in ('suture', 'cross') else ''} until then"


def _meant(written: str, name: str, table: Table) -> tuple[Column | None, list[str]]:
    """The column that a heading seems to mean, by its unit, by the words that sheets use, or by its spelling, and the headings it may have."""
    for column in table.columns:
        if column.quantity and len(column.spellings) > 1 and _same_but_unit(name, column):
            return column, list(column.spellings)
    role, unit = offered(written)
    word = (
        ROLES[role].column.name if role in ROLES and role not in ERRORS else "fruit" if role == NUMBER else ""
    )
    if word in table.by_name:
        column = table.by_name[word]
        stated = [one for one, known in column.spellings.items() if known and known.suffix == unit]
        return column, stated or list(column.spellings)
    near = get_close_matches(name, table.by_spelling, 1, 0.75)
    return (table.by_spelling[near[0]], near) if near else (None, [])


def _same_but_unit(name: str, column: Column) -> bool:
    """suture, suture_ft, firmness_1_psi, oz_per_tree."""
    (spelling, unit), *_ = column.spellings.items()
    before, _, after = f"_{spelling}_".partition(f"_{unit.suffix}_" if unit else "\0")
    before, after = before.strip("_"), after.strip("_")
    pattern = "_".join(
        part for part in (re.escape(before), "[a-z]+" if after else "", re.escape(after)) if part
    )
    return re.fullmatch(pattern if after else f"{pattern}(_[a-z]+)?", name) is not None
