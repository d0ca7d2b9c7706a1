"""Records written back as files that read the same: a folder of .csv tables with its data package."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd

from dashboard.places import put
from dashboard.records.brix_at_20 import NOT_KNOWN
from dashboard.records.declaration import Declaration, Scale
from dashboard.records.descriptor import descriptor
from dashboard.records.not_used import ALL_USED
from dashboard.records.plain_text import plain_cell
from dashboard.records.schema import RATINGS, TABLES, Column, Table


def write(tables: Mapping[str, pd.DataFrame], declaration: Declaration, folder: str | Path) -> None:
    """Each table as .csv in SI units, and datapackage.json; the folder is made where missing.

    Ratings in checked tables are on 0 to 10, 10 most desirable, whatever scale they were taken on, and are
    declared so; sugar is at 20 °C wherever it can be, so nothing is declared by which it would be corrected again. Text that a spreadsheet would take for a formula gets an apostrophe before it.
    """
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    columns = {name: _columns(name, frame) for name, frame in tables.items()}
    for name, frame in tables.items():
        text = io.StringIO(newline="")
        rows = csv.writer(text, lineterminator="\n")
        rows.writerow(column.name for column in columns[name])
        rows.writerows(zip(*(written(frame[column.name], column) for column in columns[name]), strict=True))
        put(folder / f"{name}.csv", text.getvalue().encode("utf-8"))
    same = replace(
        declaration,
        ratings={name: Scale() for name in RATINGS},
        not_used=ALL_USED,
        refractometer_zero=NOT_KNOWN,
    )
    package = descriptor(TABLES, same, {name: [column.name for column in columns[name]] for name in tables})
    put(
        folder / "datapackage.json",
        (json.dumps(package, indent=2, ensure_ascii=False) + "\n").encode("utf-8"),
    )


def _columns(name: str, frame: pd.DataFrame) -> list[Column]:
    """All of them, but for what is seldom told and an optional part of the key, where no row has it: a key has no empty cells."""
    table = TABLES[name]
    return [
        column
        for column in table.columns
        if _always(column, table) or (column.name in frame and frame[column.name].notna().any())
    ]


def _always(column: Column, table: Table) -> bool:
    return (column.needed or column.name not in table.key) and not column.seldom


def written(values: pd.Series, column: Column) -> list[str]:
    """A column as cells of text; reading them gives the very same values."""
    if column.kind == "yes/no":
        return ["yes" if value else "no" for value in values]
    if column.kind == "date":
        return each_once(values, lambda day: f"{day:%Y-%m-%d}")
    return each_once(values, _digits if column.kind in ("number", "whole", "year") else plain_cell)


def each_once(values: pd.Series, word: Callable[[Any], str]) -> list[str]:
    """The word for each value, "" for none; what stands in many rows is worded once."""
    codes, distinct = pd.factorize(values)
    return np.array([*map(word, distinct), ""], dtype=object)[codes].tolist()  # the last is that of none


def _digits(value: float) -> str:
    return str(int(value)) if value.is_integer() else repr(value)
