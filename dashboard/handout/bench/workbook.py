"""The empty sheet for one site and day: what may be ripe is filled in by walking order, ten fruit side by side."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import pandas as pd
import xlsxwriter
from xlsxwriter.utility import xl_range_abs

from dashboard.handout.bench.day import SPARE, Day, expected
from dashboard.places import put
from dashboard.records.declaration import Declaration
from dashboard.records.descriptor import about
from dashboard.records.importing.bench import FRUIT, HEAD, HEADINGS, NAMES, READINGS, SHEET
from dashboard.records.plain_text import AS_TEXT
from dashboard.records.schema import RATINGS
from dashboard.records.sources import ABOUT

_WIDTHS = {"cultivar": 22, "row": 5, "position": 8, "expected": 17, "pick": 5, "reading": 14, "note": 30}
_FIGURE, _RATED = 6, 13
_READING = HEADINGS.index("reading")


def write_workbook(day: Day, path: Path) -> None:
    """Write the sheet. OSError where it cannot be written."""
    made = io.BytesIO()
    with xlsxwriter.Workbook(made, AS_TEXT) as book:
        sheet = book.add_worksheet(SHEET)
        bold, cells = book.add_format({"bold": True, "bottom": 1}), [book.add_format({"border": 4, "top": top}) for top in (2, 4)]  # fmt: skip
        _head(sheet, day, bold)
        known = day.rows.to_dict("records")
        for number, row in enumerate([*known, *[{}] * SPARE]):
            _five(sheet, HEAD + 1 + number * len(READINGS), row, day, cells)
        _limits(sheet, len(known) + SPARE, len(day.names), day)
        book.add_worksheet(NAMES).write_column(0, 0, ["in walking order", *day.names])
        _declare(book.add_worksheet(ABOUT), day.declaration, bold)
    put(path, made.getvalue())


def _head(sheet, day: Day, bold) -> None:
    sheet.write_row(0, 0, ["site", day.site])
    sheet.write_row(1, 0, ["date", f"{day.on:%Y-%m-%d}"])
    sheet.write_row(0, 2, ["Ten fruit side by side. Leave a cell empty where nothing was measured, and what was not picked as it is."])  # fmt: skip
    for place, name in enumerate(day.headings):
        sheet.write_string(HEAD, place, name, bold)
        sheet.set_column(place, place, _WIDTHS.get(name, _FIGURE if name.isdigit() else _RATED))
    sheet.freeze_panes(HEAD + 1, _READING + 1)
    sheet.set_landscape()
    sheet.fit_to_pages(1, 0)
    sheet.repeat_rows(0, HEAD)


def _five(sheet, first: int, row: dict, day: Day, cells) -> None:
    """The five rows of a cultivar, one a reading, in the order of the instruments."""
    said = {
        "cultivar": row.get("cultivar", ""), "row": row.get("row", ""), "position": row.get("position", ""), "pick": row.get("pick", ""),
        "expected": expected(row),
    }  # fmt: skip
    for line, reading in enumerate(day.readings):
        for place, head in enumerate(day.headings):
            value: Any = said.get(head, "") if line == 0 else ""
            if head == "reading":
                value = reading.head
            text = "" if pd.isna(value) else value
            write = sheet.write_number if isinstance(text, int) else sheet.write_string
            write(first + line, place, text if isinstance(text, int) else str(text), cells[line > 0])


def _limits(sheet, cultivars: int, names: int, day: Day) -> None:
    """What a cell may hold is said while the fruit is on the bench; none of it is refused."""
    told = {"error_type": "warning", "error_title": "look again"}
    last = HEAD + cultivars * len(READINGS)
    for line, reading in enumerate(day.readings):
        low, high = (round(float(end), 2) for end in reading.usual)
        rule = {"validate": "decimal", "criteria": "between", "minimum": low, "maximum": high, **told}
        past = " Past an end of the instrument, write that end: >13 or <1." if reading.past else ""
        rule["error_message"] = f"{reading.head} is seldom outside {low:g} to {high:g}.{past}"
        rows = range(HEAD + 1 + line, last + 1, len(READINGS))
        sheet.data_validation(rows[0], _READING + 1, rows[0], _READING + FRUIT, rule | {"other_cells": [[row, _READING + 1, row, _READING + FRUIT] for row in rows[1:]]})  # fmt: skip
    for name in RATINGS:
        scale, place = day.scales[name], HEADINGS.index(name)
        rule = {
            "validate": "decimal",
            "criteria": "between",
            "minimum": scale.low,
            "maximum": scale.high,
            **told,
        }
        rule["error_message"] = f"{name} goes from {scale.low:g} to {scale.high:g}; {scale.best:g} is best."
        sheet.data_validation(HEAD + 1, place, last, place, rule)
    known = {"validate": "list", "source": f"={NAMES}!{xl_range_abs(1, 0, max(1, names), 0)}", **told}
    known["error_message"] = "No cultivar of this name stands here."
    sheet.data_validation(HEAD + 1, 0, last, 0, known)


def _declare(sheet, declaration: Declaration, bold) -> None:
    """What the readings rest on, as the trial declares it; the sheet says all by itself."""
    items = about(declaration)
    sheet.write_row(0, 0, ["item", "value"], bold)
    lines = [[name, items[name]] for name in ("tip_mm", "full_bloom_open_pct")]
    lines.append(["temperature_compensated", "yes" if declaration.temperature_compensated else "no"])
    lines.append(["refractometer_zero", declaration.refractometer_zero])
    lines += [[f"{name}_{end}", value] for name, ends in items["ratings"].items() for end, value in ends.items()]  # fmt: skip
    for line, cells in enumerate(lines, 1):
        sheet.write_row(line, 0, cells)
