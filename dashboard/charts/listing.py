"""Tables of cultivars as plain text: the columns are those declared in ``wording.columns``, each cell made by its own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

import pandas as pd

from dashboard.answers.question import Question
from dashboard.charts import style
from dashboard.market.verdict import TAKEN
from dashboard.wording.column_kinds import Column, Row, words
from dashboard.wording.columns import shown


def heads(asked: Question, columns: Iterable[Column], sorts: bool = True) -> list[dict]:
    """The columns as a ``RowTable`` takes them."""
    return [
        {
            "key": column.key, "label": column.heading(asked), "kind": column.kind,
            **({"sorts": True} if sorts and column.by else {}),
            **({"meaning": words(column.meaning, asked)} if column.meaning else {}),
        }
        for column in columns
    ]  # fmt: skip


def of_its_own(asked: Question, columns: Iterable[Column], rows: Iterable[Row]) -> dict[str, list[dict]]:
    """A table that stays in its order. Its rows hold a name, where they need them an ``id`` and a ``look``, and a row that tells no
    cultivar what stands in it, ``only`` that, by column."""
    columns = tuple(columns)
    told = [
        {
            "id": str(row.get("id", row["name"])), "name": str(row["name"]), **({"look": row["look"]} if "look" in row else {}),
            "cells": [row["only"].get(one.key, "") for one in columns] if "only" in row else cells(asked, columns, row),
        }
        for row in rows
    ]  # fmt: skip
    return {"columns": heads(asked, columns, sorts=False), "rows": told}


def row(asked: Question, columns: Iterable[Column], values: Row, mark_chosen: bool = True) -> dict:
    """One cultivar; ``values`` is its row of a ranking with its name."""
    name = str(values["name"])
    look = " ".join(
        word
        for word, on in (
            ("out", asked.profile and values["verdict"] not in TAKEN),
            ("chosen", mark_chosen and name in asked.chosen),
        )
        if on
    )
    return {"id": name, "name": name, "cells": cells(asked, columns, values), "look": look}


def cells(asked: Question, columns: Iterable[Column], values: Row) -> list[Any]:
    """Under each column its own text; a mark is drawn beside its words."""
    return [
        [style.mark_class(values["flesh_colour"], values["shape_type"]), column.told(asked, values)]
        if column.kind == "mark"
        else column.told(asked, values)
        for column in columns
    ]


def table(asked: Question, rows: pd.DataFrame, listed: bool = False) -> dict[str, list[dict]]:
    """Columns and rows of the list or, where they are ``listed``, of the shortlist."""
    columns = shown(asked, listed=listed)
    told = [row(asked, columns, values, mark_chosen=not listed) for values in each(rows)]
    return {"columns": heads(asked, columns), "rows": told}


def each(rows: pd.DataFrame) -> Iterator[Row]:
    """The rows with their names. A column is read when it is first asked for: of many a table tells few, and it is made anew at
    every tick of a filter."""
    read = _Read(rows)
    return (_Row(read, place) for place in range(len(rows)))


class _Read(dict):
    """Columns of a frame as lists, by name."""

    def __init__(self, rows: pd.DataFrame):
        super().__init__(name=[str(name) for name in rows.index])
        self._rows = rows

    def __missing__(self, column: Any) -> list:
        self[column] = found = self._rows[column].tolist()
        return found


class _Row(Mapping[Any, Any]):
    def __init__(self, read: _Read, place: int):
        self._read, self._place = read, place

    def __getitem__(self, column: Any) -> Any:
        return self._read[column][self._place]

    def __iter__(self) -> Iterator[Any]:
        return iter(self._read)

    def __len__(self) -> int:
        return len(self._read)
