"""An .xlsx workbook read as sheets of text, or one sentence on why it cannot be."""

from __future__ import annotations

import hashlib
import io
import zipfile
from datetime import date, datetime
from pathlib import Path

from python_calamine import CalamineError, PasswordError, load_workbook

from dashboard.records.cell_formats import shown
from dashboard.records.problems import Problem
from dashboard.records.sheets import MAX_BYTES
from dashboard.records.unpacking import looked_through

Grid = list[list[str]]


def read_grids(path: Path) -> tuple[dict[str, Grid], list[Problem], bytes]:
    """The sheets by name (none when the workbook is refused), what was wrong, and a hash of the bytes read.

    Numbers, dates and yes/no come out as the text a person would write; formulas as their last result.
    """

    def refused(rule: str, suggestion: str) -> tuple[dict[str, Grid], list[Problem], bytes]:
        return {}, [Problem("error", path.name, rule=rule, suggestion=suggestion)], b""

    try:
        size = path.stat().st_size
        with path.open("rb") as file:
            raw = b"" if size > MAX_BYTES else file.read(MAX_BYTES + 1)
    except OSError as error:
        return refused(
            f"the file cannot be opened ({error.strerror})",
            "see who may read it, and whether it is still there",
        )
    if max(size, len(raw)) > MAX_BYTES:
        return refused(
            f"the file has {size / 1e6:,.0f} MB, more than the {MAX_BYTES / 1e6:.0f} MB that are read",
            "split the records by season",
        )
    return *grids_of(raw, path.name), hashlib.sha256(raw).digest()


def grids_of(
    raw: bytes, file: str, days: dict[str, set[tuple[int, int]]] | None = None
) -> tuple[dict[str, Grid], list[Problem]]:
    """``read_grids`` of a workbook's bytes; ``file`` is what it is called. Into ``days`` go, by sheet, row and column of the cells that hold
    a date and not a text that reads like one."""

    def refused(rule: str, suggestion: str) -> tuple[dict[str, Grid], list[Problem]]:
        return {}, [Problem("error", file, rule=rule, suggestion=suggestion)]

    refusal, formulas = looked_through(raw)
    if refusal:
        return refused(*refusal)
    try:
        with load_workbook(io.BytesIO(raw)) as book:
            grids = {}
            for name in book.sheet_names:
                cells = book.get_sheet_by_name(name).to_python(skip_empty_area=False)
                if days is not None:
                    _mark(cells, days.setdefault(name, set()))
                grids[name] = [[_text(cell) for cell in row] for row in cells]
    except PasswordError:
        return refused("the workbook has a password", "save a copy without one")
    except (CalamineError, OSError, ValueError) as error:
        said = str(error).splitlines()[0] if str(error) else type(error).__name__
        return refused(f"the workbook is damaged ({said})", "save it again as .xlsx")
    return grids, _as_shown(grids, raw, file, formulas)


def _mark(cells: list[list], days: set[tuple[int, int]]) -> None:
    """The places of the cells that hold a date go into ``days``."""
    for row, line in enumerate(cells):
        days.update((row, column) for column, cell in enumerate(line) if isinstance(cell, date))


def _as_shown(grids: dict[str, Grid], raw: bytes, file: str, formulas: bool) -> list[Problem]:
    """Put into the grids what cells show where their value says something else; the formulas are told once."""
    formulas_in: dict[str, list[str]] = {}
    with zipfile.ZipFile(io.BytesIO(raw)) as packed:
        for name, found in shown(packed, formulas).items():
            grid = grids.get(name, [])
            for (row, column), text in found.texts.items():
                grid += [[] for _ in range(row - len(grid))]
                grid[row - 1] += [""] * (column - len(grid[row - 1]))
                grid[row - 1][column - 1] = text
            if found.formulas:
                formulas_in[name] = list(found.formulas)
    if not formulas_in:
        return []
    sheet, first = next((name, cells[0]) for name, cells in formulas_in.items())
    count, one = sum(map(len, formulas_in.values())), len(formulas_in) == 1
    where = "" if one else f" of {len(formulas_in):,} sheets"
    there = f"the first in {first}" if one else f"the first in {first} of {sheet}"
    rule = f"{count:,} cells{where} hold formulas, {there}; their last results were read"
    suggestion = "see that the workbook was saved after it was last worked out, or paste the values"
    return [Problem("flag", file, sheet if one else "", rule=rule, suggestion=suggestion)]


def _text(cell: object) -> str:
    """A cell as a person would write it: 12, 12.5, yes, 2024-07-03."""
    if isinstance(cell, str):
        return cell
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float):
        return str(int(cell)) if cell.is_integer() and abs(cell) < 1e15 else repr(cell)
    if isinstance(cell, datetime):
        return (
            cell.date().isoformat() if not (cell.hour or cell.minute or cell.second) else cell.isoformat(" ")
        )
    return cell.isoformat() if isinstance(cell, date) else str(cell)
