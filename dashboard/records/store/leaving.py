"""A state of a store written out: a folder of .csv tables that is a data package, the same in one .zip, or a workbook."""

from __future__ import annotations

import csv
import io
import json
import zipfile
from collections.abc import Iterator
from pathlib import Path

import xlsxwriter

from dashboard.places import put
from dashboard.records.declaration import Declaration, declared
from dashboard.records.descriptor import about, descriptor
from dashboard.records.not_used import plain
from dashboard.records.plain_text import AS_TEXT, FORMULA_STARTS
from dashboard.records.schema import RATINGS, TABLES
from dashboard.records.sheets import Sheet, Source
from dashboard.records.sources import ABOUT, DECLARATION
from dashboard.records.store.columns import column_under
from dashboard.records.store.kept import last_number, shown, source_in
from dashboard.records.store.opening import Place, StoreError, reading

MOST_ROWS = 1_048_575  # under the headings of a sheet
_MEASURED = ("number", "whole", "year")


def write_out(place: Place, target: Path, number: int | None = None) -> str:
    """Write the newest state, or that after import ``number``, into a new place; says what was written.

    StoreError where the target is there already or cannot hold it; OSError where it cannot be written.
    """
    if target.exists() and not (target.is_dir() and not any(target.iterdir())):
        raise StoreError(f"{target}: is there already and is left as it is; choose another name.")
    with reading(place) as connection:
        last = last_number(connection)
        if number is not None and not 1 <= number <= last:
            raise StoreError(f"{place}: there is no import {number}; the last is {last}.")
        source = source_in(connection, shown(place), number)
    declaration = declared(source)[0]
    if target.suffix == ".xlsx":
        put(target, _workbook(source, declaration))
    elif target.suffix == ".zip":
        put(target, _packed(source, declaration))
    elif target.suffix:
        raise StoreError(f"{target}: name a folder, a workbook (.xlsx), or a packed data package (.zip).")
    else:
        target.mkdir(parents=True, exist_ok=True)
        for name, content in _files(source, declaration):
            put(target / name, content)
    rows = ", ".join(f"{len(sheet):,} {name}" for name, sheet in source.sheets.items())
    return f"{target} written: {rows}, as they stood after import {number or last}"


def _files(source: Source, declaration: Declaration) -> Iterator[tuple[str, bytes]]:
    for name, sheet in source.sheets.items():
        yield f"{name}.csv", _comma_separated(sheet, declaration)
    if source.about is not None:
        yield DECLARATION, _package(source, declaration)


def _comma_separated(sheet: Sheet, declaration: Declaration) -> bytes:
    """Its cells as they are, but for an apostrophe before text that a spreadsheet would work out; reading takes that away."""
    columns = []
    for place, heading in enumerate(sheet.headings):
        column = column_under(sheet.table, heading, declaration)
        cells = sheet.cells[place].tolist()
        if column is None or column.kind not in _MEASURED:
            cells = [
                "'" + cell if cell.startswith(FORMULA_STARTS) and not _number(cell) else cell
                for cell in cells
            ]
        columns.append(cells)
    text = io.StringIO(newline="")
    rows = csv.writer(text, lineterminator="\r\n")  # with another end a lone \r in a cell would not be quoted
    rows.writerow(sheet.headings)
    rows.writerows(zip(*columns, strict=True))
    return text.getvalue().encode("utf-8")


def _package(source: Source, declaration: Declaration) -> bytes:
    tables = {
        name: [plain(heading) for heading in sheet.headings if column_under(name, heading, declaration)]
        for name, sheet in source.sheets.items()
    }  # fmt: skip
    package = descriptor(TABLES, declaration, tables)
    return (json.dumps(package, indent=2, ensure_ascii=False) + "\n").encode("utf-8")


def _packed(source: Source, declaration: Declaration) -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in _files(source, declaration):
            packed.writestr(name, content)
    return made.getvalue()


def _workbook(source: Source, declaration: Declaration) -> bytes:
    """A sheet a table. What is a number and nothing else is written as one, all else as the text it is."""
    made = io.BytesIO()
    with xlsxwriter.Workbook(made, AS_TEXT) as book:
        bold = book.add_format({"bold": True, "bottom": 1})
        if source.about is not None:
            sheet = book.add_worksheet(ABOUT)
            sheet.write_row(0, 0, ["item", "value"], bold)
            for line, (item, value) in enumerate(_items(declaration), 1):
                sheet.write_string(line, 0, item)
                sheet.write_string(line, 1, value)
        for name, table in source.sheets.items():
            if len(table) > MOST_ROWS:
                raise StoreError(f"A sheet holds {MOST_ROWS:,} rows, and {name} has {len(table):,}; write a folder instead.")  # fmt: skip
            sheet = book.add_worksheet(name)
            for place, (heading, cells) in enumerate(zip(table.headings, table.cells, strict=True)):
                sheet.write_string(0, place, heading, bold)
                for row, cell in enumerate(cells, 1):
                    if cell and _as_number(cell):
                        sheet.write_number(row, place, float(cell))
                    elif cell:
                        sheet.write_string(row, place, cell)
    return made.getvalue()


def _items(declaration: Declaration) -> Iterator[tuple[str, str]]:
    """What is declared as the sheet about has it: one item a row, scales and seasons by their ends."""
    for item, value in about(declaration).items():
        if item == "ratings":
            for rating in RATINGS:
                yield from ((f"{rating}_{end}", f"{one:g}") for end, one in value[rating].items())
        elif item == "seasons":
            yield from zip(("first_season", "last_season"), map(str, value), strict=True)
        elif isinstance(value, list):
            yield item, "; ".join(value)
        elif isinstance(value, bool):
            yield item, "yes" if value else "no"
        elif value != "":
            yield item, f"{value:g}" if isinstance(value, float) else str(value)


def _number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True


def _as_number(cell: str) -> bool:
    """Whether reading the number from a workbook gives the very same text: 62.5 does, 62.50, 1e3 and 007 do not."""
    if not _number(cell):
        return False
    value = float(cell)
    if value != value or abs(value) >= 1e15 or float(f"{value:.16G}") != value:  # a workbook holds 16 figures
        return False
    return cell == (str(int(value)) if value.is_integer() else repr(value))
