"""An empty workbook with every sheet and heading, and a sheet that says what they mean."""

from __future__ import annotations

import io
from pathlib import Path

import xlsxwriter

from dashboard.places import put
from dashboard.records.meanings import ABOUT_ITEMS, limits, written_as
from dashboard.records.plain_text import AS_TEXT
from dashboard.records.schema import TABLES, Column
from dashboard.records.sources import ABOUT, MEANINGS
from dashboard.terms.units import shown_in

_ROWS = 5000  # rows that offer their words in a list


def write_template(path: str | Path, system: str = "us") -> None:
    """Write the workbook; measured columns are headed in the units of ``system`` ("us" or "si"). OSError where it cannot be."""
    made = io.BytesIO()
    with xlsxwriter.Workbook(made, AS_TEXT) as book:
        bold = book.add_format({"bold": True, "bottom": 1})
        day = book.add_format({"num_format": "yyyy-mm-dd"})
        text = book.add_format({"num_format": "@"})
        about = book.add_worksheet(ABOUT)
        about.write_row(0, 0, ["item", "value", "meaning"], bold)
        for line, item in enumerate(ABOUT_ITEMS, 1):
            about.write_row(line, 0, item)
        about.set_column(0, 1, 26)
        about.set_column(2, 2, 70)
        for table in TABLES.values():
            sheet = book.add_worksheet(table.name)
            sheet.freeze_panes(1, 0)
            for place, column in enumerate(table.columns):
                sheet.write_string(0, place, heading(column, system), bold)
                formats = {"date": day, "text": text, "note": text}
                sheet.set_column(place, place, max(12, len(column.name) + 2), formats.get(column.kind))
                words = column.words or (("yes", "no") if column.kind == "yes/no" else ())
                if words:
                    sheet.data_validation(1, place, _ROWS, place, {"validate": "list", "source": list(words)})
        _explain(book.add_worksheet(MEANINGS), bold, system)
    put(Path(path), made.getvalue())


def heading(column: Column, system: str) -> str:
    """The column's name in the units of a system: suture_in for US customary."""
    if len(column.spellings) == 1:
        return column.name
    unit = shown_in(column.quantity, system)
    return next(spelling for spelling, other in column.spellings.items() if other is unit)


def _explain(sheet, bold, system: str) -> None:
    sheet.write_row(0, 0, ["sheet", "column", "needed", "written", "meaning", "limits"], bold)
    line = 1
    for table in TABLES.values():
        for column in table.columns:
            needed = "yes" if column.needed else ""
            sheet.write_row(
                line,
                0,
                [
                    table.name,
                    heading(column, system),
                    needed,
                    written_as(column),
                    column.meaning,
                    limits(column),
                ],
            )
            line += 1
    for place, width in enumerate((12, 22, 8, 34, 60, 60)):
        sheet.set_column(place, place, width)
    sheet.freeze_panes(1, 0)
