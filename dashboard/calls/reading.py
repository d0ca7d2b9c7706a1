"""A table as a reader sees it in a notebook: the answer, figures with their decimals and intervals, evidence, cautions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import pandas as pd
from markupsafe import Markup

from dashboard.ripening import date_label
from dashboard.terms.units import figure
from dashboard.wording.figures import counted, of_hundred

ROWS = 60  # shown at most
LOW, HIGH = "_low", "_high"
CHANCE = "chance"  # in the place of decimals: never told as 0 or 100, for nothing here is certain
Decimals = int | str | None
Headings = Mapping[str, Sequence[Any]]  # by column its heading and its decimals
STYLE = Markup(
    "<style>.answer { font: 14px/1.45 system-ui, sans-serif; max-width: 75em } .answer table { border-collapse: collapse }"
    ".answer th, .answer td { padding: 2px 10px; text-align: right; white-space: nowrap; border-bottom: 1px solid #8884; vertical-align: top }"
    ".answer table .words { text-align: left !important; white-space: normal; min-width: 6em; max-width: 34em } .answer .said { font-weight: 600 } .answer p { margin: 4px 0 }"
    ".answer .scroll { overflow-x: auto } .answer .small { font-size: 12.5px; opacity: .8 }</style>"
)


def page(
    table: pd.DataFrame, headings: Headings, said: Sequence[str], small: Sequence[str], whole: int
) -> Markup:
    """``said`` over the table, the first sentence in bold; ``small`` under it. The answer it was taken from has ``whole`` rows."""
    taken = (
        [f"{counted(len(table), 'row')} taken from an answer of {whole:,}:"] if len(table) != whole else []
    )
    said = (*taken, *said)
    looks = ["said", *[""] * len(said)]
    lines = [
        Markup('<p class="{}">{}</p>').format(look, line) for look, line in zip(looks, said, strict=False)
    ]
    if len(table.columns) and len(table):
        lines.append(_grid(table, headings))
    if len(table) > ROWS:
        lines.append(Markup("<p>… and {} more rows.</p>").format(f"{len(table) - ROWS:,}"))
    lines += [Markup('<p class="small">{}</p>').format(line) for line in small]
    return STYLE + Markup('<div class="answer">{}</div>').format(Markup("").join(lines))


def _grid(table: pd.DataFrame, headings: Headings) -> Markup:
    """Columns by their place: whoever took rows and columns apart may have named two alike."""
    names = [str(name) for name in table.columns]
    rows = table.iloc[:ROWS]
    ends = {
        end
        for name in names
        if {f"{name}{LOW}", f"{name}{HIGH}"} <= set(names)
        for end in (f"{name}{LOW}", f"{name}{HIGH}")
    }
    columns: list[tuple[str, str, list[str]]] = []  # heading, look, cells
    if not isinstance(table.index, pd.RangeIndex):
        columns.append((str(table.index.name or "").capitalize(), "words", [str(one) for one in rows.index]))
    for at, name in enumerate(names):
        if name in ends:
            continue
        heading, decimals = headings.get(name, (name, None))
        values = rows.iloc[:, at]
        told = [_cell(value, decimals) for value in values]
        if f"{name}{LOW}" in ends:
            low, high = (rows.iloc[:, names.index(f"{name}{end}")] for end in (LOW, HIGH))
            told = _with_ends(told, low, high, decimals)
        columns.append((heading, "" if pd.api.types.is_numeric_dtype(values) else "words", told))
    head = [
        Markup('<th scope="col" class="{}">{}</th>').format(look, heading) for heading, look, _ in columns
    ]
    lines = [
        [
            Markup('<td class="{}">{}</td>').format(look, cell)
            for (_, look, _), cell in zip(columns, line, strict=True)
        ]
        for line in zip(*(cells for *_, cells in columns), strict=True)
    ]
    return Markup('<div class="scroll"><table>{}</table></div>').format(
        Markup("").join(Markup("<tr>{}</tr>").format(Markup("").join(line)) for line in (head, *lines))
    )


def _with_ends(told: Sequence[str], low: pd.Series, high: pd.Series, decimals: Decimals) -> list[str]:
    """``2.61 (2.48–2.74)``; a question mark where the interval is not known."""
    return [
        one
        if one == "–"
        else f"{one} ({_cell(a, decimals)}–{_cell(b, decimals)})"
        if a == a
        else f"{one} (?)"
        for one, a, b in zip(told, low, high, strict=True)
    ]


def _cell(value: Any, decimals: Decimals) -> str:
    if value is None or value is pd.NaT or (isinstance(value, float) and value != value):
        return "–"
    if isinstance(value, pd.Timestamp):
        return date_label(value)
    if isinstance(value, float) and decimals == CHANCE:
        return of_hundred(value / 100)
    if isinstance(value, float):
        return figure(value, int(decimals)) if decimals is not None else f"{value:g}"
    return str(value)
