"""Tables of cultivars as plain text: the columns are those declared in ``wording.columns``, each cell made by its own."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial
from typing import Any

import pandas as pd
from markupsafe import Markup

from dashboard.answers.question import Question
from dashboard.charts import small, style
from dashboard.market.verdict import TAKEN
from dashboard.wording.column_kinds import Column, Row, words
from dashboard.wording.columns import shown, why
from dashboard.wording.figures import kind


def heads(asked: Question, columns: Iterable[Column], sorts: bool = True) -> list[dict]:
    """The columns as a ``RowTable`` takes them."""
    return [
        {
            "key": column.key, "label": column.heading(asked), "kind": column.kind, **(_head(asked, column) if sorts else {}),
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
            "cells": [row["only"].get(one.key, "") for one in columns] if "only" in row else [_told(asked, one, row) for one in columns],
        }
        for row in rows
    ]  # fmt: skip
    return {"columns": heads(asked, columns, sorts=False), "rows": told}


def table(asked: Question, rows: pd.DataFrame, listed: bool = False) -> dict[str, Any]:
    """Columns and rows of the list or, where they are ``listed``, of the shortlist, drawn; and the slate's gaps behind their picking
    bars. A cell is a text or, where it is drawn, a list: its text, what is written, and the figures of its drawing."""
    columns = shown(asked, listed=listed)
    cells = [_cell(asked, column) for column in columns]
    told = [
        {"id": values["name"], "name": values["name"], "cells": [cell(values) for cell in cells], "look": _look(asked, values, listed)}
        for values in each(rows)
    ]  # fmt: skip
    return {"columns": heads(asked, columns), "rows": told, "gaps": gaps(asked)}


def gaps(asked: Question) -> str:
    """The days that the slate leaves bare for the first buyer, as a picture behind a row; none while there is no slate."""
    if not asked.shortlist or asked.strip is None:
        return "none"
    first, last = asked.strip.span
    bare = asked.strip.rows[0].gaps
    return small.gaps(((gap.first - first, gap.last - first) for gap in bare), last - first + 1)


def over_gaps(asked: Question, window: Mapping[Any, Any]) -> Markup:
    """The days of picking of a ``window`` whose first and last are known, as a bar over those gaps."""
    opens, closes = asked.selling
    days = closes - opens + 1
    bar = small.picking_bar((window["first"] - opens) / days, (window["last"] - opens + 1) / days)
    return Markup('<div style="--gaps:{}">{}</div>').format(gaps(asked), bar)


def _look(asked: Question, values: Row, listed: bool) -> str:
    out = asked.profile and values["verdict"] not in TAKEN
    chosen = not listed and values["name"] in asked.chosen
    return " ".join(word for word, on in (("out", out), ("chosen", chosen)) if on)


def _told(asked: Question, column: Column, values: Row) -> Any:
    """Its text; a mark is drawn beside its words."""
    told = column.told(asked, values)
    return [_mark(values), told] if column.kind == "mark" else told


def _mark(values: Row) -> str:
    return style.mark_class(values["flesh_colour"], values["shape_type"])


def _cell(asked: Question, column: Column) -> Callable[[Row], Any]:
    """How a column makes its cells: its axis is looked up once for all rows."""
    drawn = column.drawn
    if drawn is None:
        return partial(_told, asked, column)
    axis = drawn.axis(asked)

    def cell(values: Row) -> Any:
        told, figures = column.told(asked, values), drawn.figures(asked, values)
        if figures and figures[0] != figures[0]:  # not known: said, not drawn
            return told
        more = [_mark(values), kind(values), why(asked, values)] if drawn.look == "name" else []
        return [told, drawn.short(asked, values), *more, *(_part(figure, *axis) for figure in figures)]

    return cell


def _head(asked: Question, column: Column) -> dict[str, Any]:
    """How a column is drawn, what its figures are called where there is little room, and its limits."""
    if column.drawn is None:
        return {}
    axis, limits = column.drawn.axis(asked), column.drawn.limits(asked)
    placed = [_part(limit, *axis) for limit in limits]
    return {
        "look": column.drawn.look, "short": words(column.label, asked).lower(), "unit": words(column.unit, asked),
        **({"limits": placed} if any(part is not None for part in placed) else {}),
    }  # fmt: skip


def _part(value: float, low: float, high: float) -> float | None:
    """Where a figure lies on an axis, uncut; None where it is not known."""
    return round((value - low) / (high - low), 3) if math.isfinite(value) and low < high else None


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
