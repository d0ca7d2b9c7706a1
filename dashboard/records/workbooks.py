"""An .xlsx workbook read as sheets of text, or one sentence on why it cannot be."""

from __future__ import annotations

import io
import re
import struct
import zipfile
import zlib
from datetime import date, datetime
from pathlib import Path

from python_calamine import CalamineError, PasswordError, load_workbook

from dashboard.records.cell_formats import shown
from dashboard.records.problems import Problem
from dashboard.records.sheets import MAX_BYTES

# A real workbook of records unpacks to 5-20 times its size; a bomb to a thousand times.
_MAX_UNPACKED = 600_000_000
_MAX_RATIO = 150
_MAX_CELLS = 30_000_000  # a sheet is held whole, empty cells included

_CELL = re.compile(rb'\br="([A-Z]{1,3})([0-9]{1,7})"')
_FORMULA = re.compile(rb"<f[ >/]")

Grid = list[list[str]]


def read_grids(path: Path) -> tuple[dict[str, Grid], list[Problem], bytes]:
    """The sheets by name (none when the workbook is refused), what was wrong, and the bytes read.

    Numbers, dates and yes/no come out as the text a person would write; formulas as their last result.
    """
    raw = b""
    size = path.stat().st_size
    if size > MAX_BYTES:
        fault = (
            f"the file has {size / 1e6:,.0f} MB, more than the {MAX_BYTES / 1e6:.0f} MB that are read",
            "split the records by season",
        )
        return {}, [Problem("error", path.name, rule=fault[0], suggestion=fault[1])], raw
    raw = path.read_bytes()
    refusal, formulas = _looked_into(raw)
    if refusal:
        return {}, [Problem("error", path.name, rule=refusal[0], suggestion=refusal[1])], raw
    try:
        with load_workbook(io.BytesIO(raw)) as book:
            grids = {
                name: [
                    [_text(cell) for cell in row]
                    for row in book.get_sheet_by_name(name).to_python(skip_empty_area=False)
                ]
                for name in book.sheet_names
            }
    except PasswordError:
        return (
            {},
            [
                Problem(
                    "error",
                    path.name,
                    rule="the workbook has a password",
                    suggestion="save a copy without one",
                )
            ],
            raw,
        )
    except (CalamineError, OSError, ValueError) as error:
        said = str(error).splitlines()[0] if str(error) else type(error).__name__
        return (
            {},
            [
                Problem(
                    "error",
                    path.name,
                    rule=f"the workbook is damaged ({said})",
                    suggestion="save it again as .xlsx",
                )
            ],
            raw,
        )
    return grids, _as_shown(grids, raw, path.name, formulas), raw


def _as_shown(grids: dict[str, Grid], raw: bytes, file: str, formulas: bool) -> list[Problem]:
    """Put into the grids what cells show where their value says something else; the formulas are told sheet by sheet."""
    faults = []
    with zipfile.ZipFile(io.BytesIO(raw)) as packed:
        for name, found in shown(packed, formulas).items():
            grid = grids.get(name, [])
            for (row, column), text in found.texts.items():
                grid += [[] for _ in range(row - len(grid))]
                grid[row - 1] += [""] * (column - len(grid[row - 1]))
                grid[row - 1][column - 1] = text
            if found.formulas:
                faults.append(
                    Problem("flag", file, name, rule=f"{len(found.formulas):,} cells hold formulas, the first in {found.formulas[0]}; their last results were read",
                            suggestion="see that the workbook was saved after it was last worked out, or paste the values")
                )  # fmt: skip
    return faults


def _looked_into(raw: bytes) -> tuple[tuple[str, str] | None, bool]:
    """Why a workbook is refused (rule and suggestion) or None, and whether it holds formulas."""
    again = "save it again as .xlsx"
    if not raw:
        return ("the file is empty", "write the sheets, or name another file"), False
    if raw.startswith(b"\xd0\xcf\x11\xe0"):
        return (
            "the file ends in .xlsx but is an old workbook (.xls) or has a password",
            again + ", without a password",
        ), False
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as packed:
            members = packed.infolist()
            unpacked = sum(member.file_size for member in members)
            if unpacked > _MAX_UNPACKED or any(
                member.file_size > 10_000_000 and member.file_size > _MAX_RATIO * max(1, member.compress_size)
                for member in members
            ):
                return (
                    f"the workbook unpacks to {unpacked / 1e6:,.0f} MB, far more than it holds",
                    "copy the sheets into a new workbook",
                ), False
            names = {member.filename for member in members}
            if "xl/workbook.xml" not in names and "[Content_Types].xml" not in names:
                return ("the file ends in .xlsx but is not a workbook", again), False
            if any(name.endswith("vbaProject.bin") for name in names):
                return ("the workbook holds macros", "save it as .xlsx, without macros"), False
            formulas = False
            for member in members:
                content = packed.read(member)  # also checks that the sizes declared are true
                if member.filename.startswith("xl/worksheets/"):
                    formulas = formulas or bool(_FORMULA.search(content))
                    if _area(content) > _MAX_CELLS:
                        return (
                            "a sheet has cells far away from its table",
                            "delete the rows and columns beyond the table",
                        ), False
    except (
        zipfile.BadZipFile,
        zipfile.LargeZipFile,
        zlib.error,
        struct.error,
        NotImplementedError,
        RuntimeError,
        EOFError,
        OSError,
    ):
        return ("the file ends in .xlsx but is not a workbook, or is damaged", again), False
    return None, formulas


def _area(content: bytes) -> int:
    """Rows times columns of a sheet, up to the outermost cell it names."""
    places = _CELL.findall(content)
    if not places:
        return 0
    return max(int(row) for _, row in places) * max(
        _number(letters) for letters in {letters for letters, _ in places}
    )


def _number(letters: bytes) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + letter - 64
    return number


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
