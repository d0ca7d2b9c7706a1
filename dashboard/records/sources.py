"""From a path to text: a folder of .csv tables or one .xlsx workbook, and what it declares about itself."""

from __future__ import annotations

import hashlib
import json
from difflib import get_close_matches
from pathlib import Path

from dashboard.records.comma_files import read_csv
from dashboard.records.descriptor import TooMuchError, read_descriptor
from dashboard.records.problems import Problem, RecordError, listed
from dashboard.records.schema import REQUIRED, TABLES
from dashboard.records.sheets import Source, sheet_of, too_wide
from dashboard.records.workbooks import Grid, read_grids

DECLARATION = "datapackage.json"
ABOUT = "about"
MEANINGS = "meanings"  # explains the columns in the empty workbook; holds no records


def read_source(path: Path) -> Source:
    """The text of every table found; RecordError when there is nothing to read or a required table is not there."""
    try:
        if path.is_dir():
            source = _folder(path)
        elif path.is_file():
            source = _file(path)
        else:
            what = "is neither a folder nor a file" if path.exists() else "there is no such folder or file"
            raise _refusal(path, what, "name a folder of .csv tables or one .xlsx workbook")
    except OSError as error:
        raise _refusal(path, f"cannot be opened ({error.strerror})", "see who may read it") from None
    absent = [name for name in REQUIRED if name not in source.sheets]
    if absent:
        told = {problem.file.lower() for problem in source.problems if problem.severity == "error"}
        if source.about_sheet or path.is_file():
            faults = [
                Problem(
                    "error",
                    path.name,
                    sheet=name,
                    rule="the sheet is not there",
                    suggestion=f"add a sheet named {name}",
                )
                for name in absent
            ]
        else:
            faults = [
                Problem(
                    "error",
                    f"{name}.csv",
                    rule="the file is not in the folder",
                    suggestion=f"add {name}.csv to {path}",
                )
                for name in absent
                if f"{name}.csv" not in told
            ]
        errors = [problem for problem in source.problems if problem.severity == "error"]
        raise RecordError([*errors, *faults])
    return source


def _refusal(path: Path, rule: str, suggestion: str) -> RecordError:
    return RecordError([Problem("error", str(path), rule=rule, suggestion=suggestion)])


def _folder(path: Path) -> Source:
    files = sorted(
        item for item in path.iterdir() if item.suffix.lower() == ".csv" and not item.name.startswith(".")
    )
    if not files:
        books = sorted(
            item.name
            for item in path.iterdir()
            if item.suffix.lower() == ".xlsx" and not item.name.startswith("~$")
        )
        hint = (
            f"name the workbook itself: {path / books[0]}"
            if books
            else f"put {listed(f'{name}.csv' for name in REQUIRED)} there"
        )
        raise _refusal(path, "the folder holds no .csv tables", hint)
    source = Source()
    digest = hashlib.sha256()
    for file in files:
        table = _table(file.stem)
        if table is None:
            source.problems.append(_unknown(file.name, "", file.stem, "file"))
        elif table in source.sheets:
            source.problems.append(
                Problem(
                    "error",
                    file.name,
                    rule=f"is a second table of {table}; it was left out",
                    suggestion="keep one of the two",
                )
            )
        else:
            sheet, problems, version = _opened(file, table)
            source.problems += problems
            if sheet is not None:
                source.sheets[table] = sheet
            digest.update(table.encode() + b"\0" + version)
    _declare(path / DECLARATION, source, digest)
    source.version = digest.hexdigest()[:10]
    return source


def _opened(file: Path, table: str):
    if not file.is_file():  # opening a pipe would wait for ever
        what = "is a folder" if file.is_dir() else "is no file" if file.exists() else "is a link to nothing"
        fault = Problem(
            "error", file.name, rule=f"{what}; no {table} were read", suggestion="put the table in its place"
        )
        return None, [fault], b""
    try:
        return read_csv(file, table)
    except OSError as error:
        fault = Problem(
            "error",
            file.name,
            rule=f"the file cannot be opened ({error.strerror})",
            suggestion="see who may read it",
        )
        return None, [fault], b""


def _declare(file: Path, source: Source, digest) -> None:
    """Take the declaration from a data package's descriptor, when there is one."""
    if not file.is_file():
        return
    try:
        content, raw = read_descriptor(file)
        digest.update(raw)
        about = content.get("orchard_slate", {})
        source.about = {"title": content.get("title", ""), **about}
    except (OSError, ValueError, AttributeError, TypeError) as error:
        said = {json.JSONDecodeError: f"line {getattr(error, 'lineno', 0)}", TooMuchError: str(error)}.get(
            type(error), "not the JSON of a data package"
        )
        source.about = {}
        source.problems.append(
            Problem("error", file.name, rule=f"cannot be read ({said}); the usual declaration is used instead",
                    suggestion="correct it, or write it anew from the template")
        )  # fmt: skip


def _file(path: Path) -> Source:
    ending = path.suffix.lower()
    if ending == ".csv":
        raise _refusal(path, "is one table of several", f"name the folder it lies in: {path.parent}")
    if ending in (".xls", ".xlsm", ".xlsb", ".ods"):
        raise _refusal(path, f"is a workbook that ends in {ending}", "save it as .xlsx, without macros")
    if ending != ".xlsx":
        raise _refusal(
            path, "is not a workbook (.xlsx)", "name a folder of .csv tables or one .xlsx workbook"
        )
    grids, problems, version = read_grids(path)
    if not grids:
        raise RecordError(problems)
    source = Source(
        about_file=path.name,
        about_sheet=ABOUT,
        problems=problems,
        version=version.hex()[:10],
    )
    for name, grid in grids.items():
        table = _table(name)
        beyond = too_wide(len(grid[0]), len(grid)) if table is not None and grid else None
        if beyond:
            source.problems.append(Problem("error", path.name, name, rule=beyond[0], suggestion=beyond[1]))
        elif table is not None and table not in source.sheets:
            source.sheets[table] = sheet_of(table, path.name, name, grid, range(1, len(grid) + 1))
        elif name.strip().lower() == ABOUT:
            source.about = _items(grid)
        elif table is not None or (name.strip().lower() != MEANINGS and any(any(row) for row in grid)):
            source.problems.append(_unknown(path.name, name, name, "sheet"))
    return source


def _items(grid: Grid) -> dict[str, object]:
    """Item and value of the about sheet; the first row is its headings."""
    return {
        row[0].strip().lower().replace(" ", "_"): row[1].strip()
        for row in grid[1:]
        if len(row) > 1 and row[0].strip() and row[1].strip()
    }


def _table(name: str) -> str | None:
    plain = name.strip().lower()
    return plain if plain in TABLES else None


def _unknown(file: str, sheet: str, name: str, what: str) -> Problem:
    near = get_close_matches(name.strip().lower(), TABLES, 1, 0.7)
    suggestion = f"rename it if it is meant to be {near[0]}" if near else f"the tables are {listed(TABLES)}"
    return Problem(
        "flag",
        file,
        sheet=sheet,
        rule=f"is not a table known here; the {what} was left out",
        suggestion=suggestion,
    )
