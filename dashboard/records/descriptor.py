"""The data package that describes records to any other tool: datapackage.json, written from the schema.

Open standard: Data Package with Tabular Data Resources and Table Schema (datapackage.org). What the standard
has no word for stands under the key "orchard_slate".
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from dashboard.records.brix_at_20 import NOT_KNOWN
from dashboard.records.declaration import Declaration
from dashboard.records.schema import TABLES, Column, Table
from dashboard.records.taken import ALL

LARGEST = 1_000_000  # bytes
DEEPEST = 20  # lists and tables in each other; a data package of these tables has eight

_TYPES = {
    "text": "string",
    "note": "string",
    "class": "string",
    "number": "number",
    "whole": "integer",
    "year": "year",
    "date": "date",
    "yes/no": "boolean",
}


class TooMuchError(ValueError):
    """A descriptor that no data package is as large, or as deep, as."""


def read_descriptor(file: Path) -> tuple[Any, bytes]:
    """What a descriptor says, and its bytes. TooMuchError, OSError, or ValueError where it is no JSON."""
    if file.stat().st_size > LARGEST:
        raise TooMuchError(f"it has more than {LARGEST / 1e6:.0f} MB")
    raw = file.read_bytes()
    try:
        content = json.loads(raw.decode("utf-8-sig"))
    except RecursionError:
        content, deep = None, True
    else:
        deep = _deeper(content, DEEPEST)
    if deep:
        raise TooMuchError(f"its lists and tables stand in each other {DEEPEST} times and more")
    return content, raw


def _deeper(content: object, levels: int) -> bool:
    """Whether lists and tables stand in each other to more than so many levels."""
    inner = content.values() if isinstance(content, dict) else content if isinstance(content, list) else ()
    return levels < 0 or any(_deeper(one, levels - 1) for one in inner)


def descriptor(
    schema: Mapping[str, Table] = TABLES,
    declaration: Declaration | None = None,
    headings: Mapping[str, Sequence[str]] | None = None,
) -> dict[str, Any]:
    """A valid Data Package as a dict, ready for JSON.

    ``headings`` names, by table, the columns a file really has, in their order (any accepted spelling:
    suture_in for suture_mm); without it every table is described with every column.
    """
    declaration = declaration or Declaration()
    written = (
        {name: list(columns) for name, columns in (headings or {}).items()} if headings is not None else None
    )
    tables = [table for name, table in schema.items() if written is None or name in written]
    package: dict[str, Any] = {
        "profile": "tabular-data-package",
        "name": _slug(declaration.title),
        "title": declaration.title or "Records",
        "resources": [
            _resource(
                table,
                written[table.name] if written else list(table.by_name),
                {other.name for other in tables},
                declaration,
            )
            for table in tables
        ],
        "orchard_slate": about(declaration),
    }
    return package


def about(declaration: Declaration) -> dict[str, Any]:
    """What is declared once for the whole data set."""
    items: dict[str, Any] = {
        "title": declaration.title,
        "region": declaration.region,
        "invented": declaration.invented,
        "tip_mm": declaration.tip_mm,
        "temperature_compensated": declaration.temperature_compensated,
        "full_bloom_open_pct": declaration.full_bloom_open_pct,
        "ratings": {
            name: {"low": scale.low, "high": scale.high, "best": scale.best}
            for name, scale in declaration.ratings.items()
        },
    }
    if declaration.refractometer_zero != NOT_KNOWN:
        items["refractometer_zero"] = declaration.refractometer_zero
    if declaration.seasons:
        items["seasons"] = list(declaration.seasons)
    if declaration.date_precision != "day":
        items["date_precision"] = declaration.date_precision
    if declaration.taken.way != ALL:
        items["fruit_taken"] = declaration.taken.way
    if declaration.taken.smallest_mm is not None:
        items["smallest_taken_mm"] = declaration.taken.smallest_mm
    if declaration.not_used.entries:
        items["not_used"] = list(declaration.not_used.entries)
    if declaration.currency:
        items["currency"] = declaration.currency
    return items


def _resource(
    table: Table, headings: list[str], present: set[str], declaration: Declaration
) -> dict[str, Any]:
    spelled = table.by_spelling
    columns = {heading: spelled[heading] for heading in headings}
    there = {column.name for column in columns.values()}
    schema: dict[str, Any] = {
        "fields": [_field(heading, column, declaration) for heading, column in columns.items()],
        "missingValues": [""],
        "primaryKey": [name for name in table.key if name in there],
    }
    keys = [
        {"fields": heading, "reference": {"resource": column.refers, "fields": TABLES[column.refers].key[0]}}
        for heading, column in columns.items()
        if column.refers in present
    ]
    if keys:
        schema["foreignKeys"] = keys
    return {
        "profile": "tabular-data-resource",
        "name": table.name,
        "path": f"{table.name}.csv",
        "description": f"One row is {table.row}.",
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "schema": schema,
    }


def _field(heading: str, column: Column, declaration: Declaration) -> dict[str, Any]:
    unit = column.spellings[heading]
    field: dict[str, Any] = {
        "name": heading,
        "type": _TYPES[column.kind],
        "description": column.meaning[:1].upper() + column.meaning[1:] + ".",
    }
    if unit and unit.symbol:
        field["unit"] = unit.symbol
    if column.kind == "yes/no":
        field |= {"trueValues": ["yes"], "falseValues": ["no"]}
    constraints: dict[str, Any] = {"required": True} if column.needed else {}
    if column.words:
        constraints["enum"] = list(column.words)
    limits = column.refuse
    if column.rating:
        scale = declaration.ratings[column.name]
        limits = (scale.low, scale.high)
    if limits:
        # Rounded outward, so that a value at the very limit passes in every unit.
        low, high = (unit.from_si(limit) if unit else limit for limit in limits)
        constraints |= {"minimum": _tidy(low, -1), "maximum": _tidy(high, 1)}
    return field | ({"constraints": constraints} if constraints else {})


def _tidy(limit: float, outward: int) -> float | int:
    if float(limit).is_integer():
        return int(limit)
    rounded = round(limit, 6)
    return rounded + outward * 1e-6


def _slug(title: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-") or "records"
