"""Records on their way into a store: read and checked by the ordinary rules, names of the store known to them."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import pandas as pd
from sqlalchemy import Connection

from dashboard.records.all_or_none import pending
from dashboard.records.beside_fruit import BESIDE_FRUIT
from dashboard.records.checking import checked, empty
from dashboard.records.declaration import Declaration, declared
from dashboard.records.findings import Findings
from dashboard.records.how_far import tell
from dashboard.records.keys import known, once, told_apart
from dashboard.records.problems import Problem, RecordError
from dashboard.records.reading import gone_names
from dashboard.records.rowless import NO_ROWS
from dashboard.records.schema import TABLES
from dashboard.records.sheets import Sheet, Source
from dashboard.records.sources import DECLARATION, some_source
from dashboard.records.store import swift
from dashboard.records.store.declaring import changed_items, together
from dashboard.records.store.differing import Differing
from dashboard.records.store.kept import (
    columns_of,
    declared_at,
    last_number,
    names_in,
    sheet_of_blocks,
    standing_blocks,
)
from dashboard.records.store.swift import Plain
from dashboard.records.uncollected import uncollected

_SOUTH = "sites"  # a table


@dataclass(frozen=True, eq=False)
class Read:
    """What was named, read before the store is held: its text, and the hash of its bytes."""

    source: Source
    plain: Plain | None  # the fruit that can be checked as whole columns
    file: str
    hashed: Callable[[], str]  # waits until it is

    @property
    def sha256(self) -> str:
        return self.hashed()


@dataclass(frozen=True, eq=False)
class Part:
    """A table that comes in: ``frame`` holds the rows that may, typed, by their number in ``sheet``; ``plain`` further fruit."""

    sheet: Sheet
    frame: pd.DataFrame
    plain: Plain | None = None


@dataclass
class Coming:
    """``problems``: what the ordinary rules say; ``aside``: cells and rows at fault, as ``findings.ASIDE`` has them."""

    parts: dict[str, Part]
    declaration: Declaration
    items: dict[str, Any]  # what holds for the whole trial from now on
    otherwise: list[Differing]  # what is declared otherwise than in the store
    misdeclared: bool  # an item cannot be understood
    problems: list[Problem] = field(default_factory=list)
    aside: list[tuple] = field(default_factory=list)


@uncollected()
def read_coming(path: Path) -> Read:
    """A folder or workbook with any of the tables. RecordError where nothing can be read."""
    opener = swift.Swift()
    source = some_source(path, opener.opened)
    if opener.plain is not None:  # its sheet was left empty
        source.problems = [
            one for one in source.problems if (one.file, one.rule) != (opener.plain.file, NO_ROWS)
        ]
    beside = ThreadPoolExecutor(1, "hash")
    hash_of = beside.submit(hashed, path, opener.bytes)
    beside.shutdown(wait=False)
    return Read(source, opener.plain, path.name, hash_of.result)


def hashed(path: Path, known: Mapping[Path, bytes] | None = None) -> str:
    """SHA-256 of a file; of a folder that of what ``sha256sum *.csv datapackage.json`` prints in it. ``known``: the bytes of files read before."""
    if path.is_file():
        return hashlib.sha256(path.read_bytes()).hexdigest()
    there: dict[str, Path | None] = {one.name: one for one in path.iterdir() if one.suffix == ".csv"}
    there |= {DECLARATION: path / DECLARATION, **pending(path).files}
    names = sorted((name for name in there if "/" not in name), key=lambda name: (name == DECLARATION, name))
    named = [one for one in map(there.get, names) if one is not None and one.is_file()]
    had = known or {}
    hashes = {one: hashlib.sha256(had[one] if one in had else one.read_bytes()) for one in named}
    lines = (f"{one_hash.hexdigest()}  {one.name}\n" for one, one_hash in hashes.items())
    return hashlib.sha256("".join(lines).encode()).hexdigest()


def coming(read: Read, connection: Connection) -> Coming:
    """What of it may come into the store as it stands now."""
    source, number = read.source, last_number(connection)
    stored = declared_at(connection, number)
    south = _south(connection)
    before = replace(declared(_saying(source, stored))[0], south=south)
    items = together(stored or {}, source.about or {})
    declaration, said = declared(_saying(source, items or None))
    declaration = replace(declaration, south=south)
    changed = changed_items(before, declaration, source.about_file, source.about_sheet) if stored is not None else []  # fmt: skip
    wrong = any(one.severity == "error" for one in said)
    found = Coming({}, declaration, items, changed, wrong, [*source.problems, *(said if source.about is not None or stored is None else [])])  # fmt: skip
    strange = [one.problem for one in source.strangers if not declaration.not_used.named(one.name)]
    found.problems += strange
    found.aside += [_line(one) for one in (*source.problems, *strange) if one.severity == "error"]
    _check(read, connection, found)
    return found


def _saying(source: Source, items: dict[str, Any] | None) -> Source:
    return Source(about=items, about_file=source.about_file, about_sheet=source.about_sheet)


def _line(one: Problem) -> tuple:
    return one.file, one.sheet, one.row or "", one.column, one.value, one.rule, one.suggestion, one.value


def _check(read: Read, connection: Connection, found: Coming) -> None:
    """As ``reading.read`` does it, table by table, each after those it refers to."""
    names: dict[str, set[str]] = {}  # of the store, and of what comes in
    gone: dict[str, dict[str, str]] = {}
    for name, table in TABLES.items():
        sheet, plain = read.source.sheets.get(name), None
        names[name] = set(names_in(connection, name)) if name in _REFERRED else set()
        unused = sheet is not None and found.declaration.not_used.named(sheet.sheet or sheet.file)
        if sheet is None or (unused and not table.required):
            continue
        if name == swift.TABLE and read.plain is not None:
            plain, sheet = _swiftly(read.plain, names["samples"], found.declaration, connection)
            if not len(sheet):
                found.parts[name] = Part(sheet, empty(name), plain)
                continue
        tell(f"checking {sheet.file}: {len(sheet):,} rows")
        findings = Findings(sheet)
        frame = checked(sheet, found.declaration, findings)
        frame = known(frame, name, _referred(frame, name, names), gone, findings)
        frame, ambiguous = told_apart(frame, name, findings)
        frame = once(frame, name, findings)
        if name in BESIDE_FRUIT:
            frame = BESIDE_FRUIT[name](frame, _fruit(found, frame["sample"], connection), findings)
        gone[name] = gone_names(frame, name, findings) | ambiguous
        if name in _REFERRED:
            names[name].update(frame[table.key[0]])
        if name == _SOUTH and (frame["latitude_deg"] < 0).any():
            found.declaration = replace(found.declaration, south=True)
        found.parts[name] = Part(sheet, frame, plain)
        found.problems += findings.problems
        found.aside += findings.aside
    if not found.parts:
        rule = "holds no table that could come in"
        raise RecordError([*found.problems, Problem("error", read.file, rule=rule, suggestion="see what is declared as not used")])  # fmt: skip


def _swiftly(plain: Plain, samples: set[str], declaration: Declaration, connection: Connection) -> tuple[Plain, Sheet]:  # fmt: skip
    standing = {
        key: block.cells for key, block in standing_blocks(connection, swift.TABLE, list(plain.names)).items()
    }
    columns = columns_of(connection, swift.TABLE, last_number(connection))
    return plain.parted(samples, declaration, columns, standing)


_REFERRED = {column.refers for table in TABLES.values() for column in table.columns if column.refers}


def _referred(frame: pd.DataFrame, table: str, names: Mapping[str, set[str]]) -> dict[str, pd.DataFrame]:
    """By table the names that rows refer to, as far as they are known; all that are where one is not, for it may be meant for any."""
    found = {}
    for target in {column.refers for column in TABLES[table].columns} - {""}:
        used = {
            name
            for column in TABLES[table].columns
            if column.refers == target
            for name in frame[column.name].dropna()
        }
        found[target] = _named(target, used if used <= names[target] else names[target])
    return found


def _named(table: str, names: Iterable[str]) -> pd.DataFrame:
    return pd.DataFrame({TABLES[table].key[0]: pd.array(list(names), dtype="str")})


def _fruit(found: Coming, samples: Iterable[str], connection: Connection) -> pd.DataFrame:
    """The fruit beside which means of these samples may not stand: those that come in, and those of the store."""
    frames = [empty("fruit")]
    if part := found.parts.get("fruit"):
        frames += [part.frame, *([part.plain.frame()] if part.plain is not None else [])]
    sheet = sheet_of_blocks(connection, "fruit", standing_blocks(connection, "fruit", list(samples)).values())
    frames.append(checked(sheet, found.declaration, Findings(sheet)))
    return pd.concat([frame for frame in frames if len(frame)] or frames[:1], ignore_index=True)


def _south(connection: Connection) -> bool:
    """Whether any site of the store lies south, where a season begins in July of the year before."""
    sites = standing_blocks(connection, _SOUTH, names_in(connection, _SOUTH))
    sheet = sheet_of_blocks(connection, _SOUTH, sites.values())
    return bool((checked(sheet, Declaration(), Findings(sheet))["latitude_deg"] < 0).any())
