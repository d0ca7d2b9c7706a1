"""How an answer leaves for other programs: as an Arrow table, a Parquet file, or a folder in the form of a data package.

Columns keep their names, and bring their headings and units; what the answer says and rests on goes along.
Source of the package's words: Data Package 2.0, https://datapackage.org/standard/data-package/, and Table Schema beside it.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import pandas as pd

from dashboard.calls.columns import column_of
from dashboard.calls.understood import AskError, shown
from dashboard.places import put
from dashboard.records.plain_text import plain_cell
from dashboard.terms.traits import TRAITS
from dashboard.terms.units import SYSTEMS, UNITS

NO_ARROW = "Arrow and Parquet need pyarrow; install it with  pip install 'orchard-slate[arrow]'"
FILE, PACKAGE = "answer.csv", "datapackage.json"
_SYMBOLS = {"lbf": "lbf", "n": "N"}  # a screen says lb of both force and mass; a file must not
_OF_TRAITS = {
    column_of(trait, system): trait.unit(system).suffix for trait in TRAITS.values() for system in SYSTEMS
}
_ENDS = re.compile(r"_(low|high|se|least|most|lowest|highest|more)$")
_CHANCES = re.compile(r"(chance|met|weight|first_\d+|\w+_sure)_pct")
_OTHER = {
    "chill_hours": "h", "chill_portions": "chill portions", "yield_lb_per_tree": "lb", "yield_kg_per_tree": "kg", "bacterial_spot": "0 none to 5",
    "score": "of 100", "costs_points": "points of the score", "days": "d", "days_later": "d", "days_after": "d", "days_from_check": "d",
}  # fmt: skip


def unit_of(column: str) -> str:
    """The unit of a column by its name: ``in`` of ``size_in_low``; "" for what has none."""
    name = _ENDS.sub("", column)
    if name in _OF_TRAITS:
        suffix = _OF_TRAITS[name]
        return _SYMBOLS.get(suffix, UNITS[suffix].symbol)
    if _CHANCES.fullmatch(name):
        return "%"
    price = re.fullmatch(r"price_([a-z]{3})", name)
    return price[1].upper() if price else _OTHER.get(name, "")


def arrow(table: pd.DataFrame) -> Any:
    """A ``pyarrow.Table``: each field with its heading and unit, the whole with what the answer says; AskError without pyarrow."""
    try:
        import pyarrow
    except ImportError:
        raise AskError(NO_ARROW) from None
    rows = _rows(table)
    made = pyarrow.Table.from_pandas(rows, preserve_index=False)
    fields = [
        made.schema.field(name).with_metadata({"title": title, **({"unit": unit} if unit else {})})
        for name, title, unit in _columns(table, rows)
    ]
    told = {name: json.dumps(list(lines), ensure_ascii=False) for name, lines in _told(table).items()}
    metadata = {
        **(made.schema.metadata or {}),
        **{name.encode(): text.encode() for name, text in told.items()},
    }
    return made.cast(pyarrow.schema(fields, metadata=metadata))


def parquet(table: pd.DataFrame, place: Any) -> None:
    """The Arrow table as a Parquet file; AskError for a place that cannot be written."""
    made, path = arrow(table), _path(place)
    import pyarrow.parquet

    content = pyarrow.BufferOutputStream()
    pyarrow.parquet.write_table(made, content)
    _put(path, content.getvalue().to_pybytes())


def package(table: pd.DataFrame, place: Any) -> None:
    """A folder with the answer as ``answer.csv`` and ``datapackage.json``; AskError for a place that cannot be written."""
    folder, rows = _path(place), _rows(table)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise AskError(f"{folder}: cannot be made ({fault.strerror}); name another folder.") from None
    text = io.StringIO(newline="")
    lines = csv.writer(text, lineterminator="\n")
    lines.writerow(map(plain_cell, rows.columns))
    lines.writerows(zip(*(_cells(rows[name]) for name in rows.columns), strict=True))
    _put(folder / FILE, text.getvalue().encode("utf-8"))
    described = json.dumps(_described(table, rows), indent=2, ensure_ascii=False) + "\n"
    _put(folder / PACKAGE, described.encode("utf-8"))


def _described(table: pd.DataFrame, rows: pd.DataFrame) -> dict[str, Any]:
    fields = [
        {"name": name, "type": _kind(rows[name]), "title": title, **({"unit": unit} if unit else {})}
        for name, title, unit in _columns(table, rows)
    ]
    schema: dict[str, Any] = {"fields": fields, "missingValues": [""]}
    if rows.columns[0] == "cultivar" and rows["cultivar"].is_unique:
        schema["primaryKey"] = ["cultivar"]
    resource = {
        "name": "answer", "path": FILE, "type": "table", "format": "csv", "mediatype": "text/csv", "encoding": "utf-8", "schema": schema,
    }  # fmt: skip
    told = _told(table)
    return {
        "$schema": "https://datapackage.org/profiles/2.0/datapackage.json",
        "name": "orchard-slate-answer",
        "description": "\n".join([*told["said"], *told["evidence"], *told["cautions"]]),
        "resources": [resource],
    }


def _rows(table: pd.DataFrame) -> pd.DataFrame:
    """As plain columns, the names of the rows first, whole numbers whole; attributes are told elsewhere."""
    plain = pd.DataFrame(table)
    rows = plain if isinstance(plain.index, pd.RangeIndex) else plain.reset_index()
    rows = rows.rename(columns=str)
    rows.attrs = {}
    if rows.columns.duplicated().any():
        twice = rows.columns[rows.columns.duplicated()][0]
        raise AskError(f"Two columns are called {shown(twice)}; give each a name of its own.")
    return rows


def _columns(table: pd.DataFrame, rows: pd.DataFrame) -> list[tuple[str, str, str]]:
    headings: Mapping[str, Sequence[Any]] = table.attrs.get("headings", {})
    return [(name, str(headings.get(name, [name])[0]), unit_of(name)) for name in rows.columns]


def _told(table: pd.DataFrame) -> dict[str, tuple[str, ...]]:
    return {name: tuple(table.attrs.get(name, ())) for name in ("said", "evidence", "cautions")}


def _kind(column: pd.Series) -> str:
    kinds = pd.api.types
    if kinds.is_bool_dtype(column):
        return "boolean"
    if kinds.is_datetime64_any_dtype(column):
        return "date"
    if kinds.is_integer_dtype(column):
        return "integer"
    return "number" if kinds.is_numeric_dtype(column) else "string"


def _cells(column: pd.Series) -> list[str]:
    kind, missing = _kind(column), column.isna().to_numpy()
    write = {"date": lambda day: f"{day:%Y-%m-%d}", "boolean": lambda one: str(bool(one)).lower(), "string": lambda one: plain_cell(str(one))}.get(kind, repr)  # fmt: skip
    return ["" if gone else write(one) for one, gone in zip(column.to_list(), missing, strict=True)]


def _path(place: Any) -> Path:
    if not isinstance(place, str | Path) or not str(place).strip():
        raise AskError(f"A place is the path of a file or a folder, not {shown(place)}.")
    return Path(place)


def _put(place: Path, content: bytes) -> None:
    try:
        put(place, content)
    except OSError as fault:
        raise AskError(f"{place}: cannot be written ({fault.strerror}); name another place.") from None
