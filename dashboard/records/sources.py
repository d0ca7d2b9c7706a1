"""From a path to text: a folder of .csv tables, one .xlsx workbook or a store, and what it declares about itself."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from difflib import get_close_matches
from pathlib import Path

from dashboard.records.all_or_none import Pending, as_one, told
from dashboard.records.comma_files import NOT_TEXT, read_csv
from dashboard.records.descriptor import TooMuchError, read_descriptor
from dashboard.records.problems import Problem, RecordError, listed, quoted
from dashboard.records.rowless import rowless
from dashboard.records.schema import REQUIRED, TABLES
from dashboard.records.sheets import Sheet, Source, Stranger, sheet_of, too_wide
from dashboard.records.store.opening import is_store
from dashboard.records.workbooks import Grid, read_grids

DECLARATION = "datapackage.json"
ABOUT = "about"
_OTHER_TABLES = (".tsv", ".tab", ".xlsx", ".xls", ".xlsm", ".xlsb", ".ods")
Opened = Callable[[Path, str], tuple[Sheet | None, list[Problem], bytes]]
MEANINGS = "meanings"  # explains the columns in the empty workbook; holds no records


def read_source(path: str | Path) -> Source:
    """The text of every table found in a folder, a workbook or a store; RecordError when there is nothing to read or a required table
    is not there."""
    if is_store(path):
        from dashboard.records.store.kept import source_of

        source = source_of(path)
    else:
        source = some_source(Path(path))
    absent = [name for name in REQUIRED if name not in source.sheets]
    if absent:
        said = {problem.file.lower() for problem in source.problems if problem.severity == "error"}
        if source.about_sheet:
            faults = [
                Problem(
                    "error",
                    source.about_file,
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
                if f"{name}.csv" not in said
            ]
        errors = [problem for problem in source.problems if problem.severity == "error"]
        errors += [stranger.problem for stranger in source.strangers]
        raise RecordError([*errors, *faults])
    return source


def some_source(path: Path, opened: Opened | None = None) -> Source:
    """As ``read_source`` of files, whatever tables there are; ``opened`` gives the sheet of a .csv, what was wrong, and a hash."""
    try:
        if path.is_dir():
            return as_one(path, lambda coming: _folder(path, opened or _opened, coming), (".csv", ".json"))
        if path.is_file():
            return _file(path)
    except BlockingIOError:
        raise _refusal(
            path, "is written while it is read", "wait until that is done, and read it again"
        ) from None
    except OSError as error:
        raise _refusal(path, f"cannot be opened ({error.strerror})", "see who may read it") from None
    what = "is neither a folder nor a file" if path.exists() else "there is no such folder or file"
    raise _refusal(path, what, "name a folder of .csv tables or one .xlsx workbook")


def _refusal(path: Path, rule: str, suggestion: str) -> RecordError:
    return RecordError([Problem("error", str(path), rule=rule, suggestion=suggestion)])


def _folder(path: Path, opened: Opened, coming: Pending) -> Source:
    """As the folder is once what is ``coming`` stands in it."""
    there: dict[str, Path | None] = {item.name: item for item in path.iterdir()}
    there |= {name: place for name, place in coming.files.items() if "/" not in name}
    files = [file for name, file in sorted(there.items()) if file and not name.startswith((".", "~$"))]
    if not any(item.suffix.lower() == ".csv" for item in files):
        books = [item.name for item in files if item.suffix.lower() == ".xlsx"]
        hint = (
            f"name the workbook itself: {path / books[0]}"
            if books
            else f"put {listed(f'{name}.csv' for name in REQUIRED)} there"
        )
        raise _refusal(path, "the folder holds no .csv tables", hint)
    source = Source(problems=told(coming))
    digest = hashlib.sha256()
    for file in files:
        table = _table(file.stem)
        if not _meant_as_table(file):
            continue
        if not file.is_file():
            source.problems.append(_no_file(file))
            source.unopened.append(file.name)
        elif file.suffix.lower() != ".csv":
            source.strangers.append(Stranger(file.name, _other_kind(file), None))
            source.unopened.append(file.name)
        elif table is None or table in source.sheets:
            sheet, refused, _ = opened(file, file.name)
            fault = _unknown(file.name, "", file.stem) if table is None else _second(file.name, "", table)
            fault = next((one for one in refused if one.rule == NOT_TEXT[0]), fault)
            source.strangers.append(Stranger(file.name, fault, sheet))
            source.unopened += [file.name] if sheet is None else []
        else:
            sheet, problems, version = opened(file, table)
            source.problems += problems
            if sheet is None:
                source.unopened.append(file.name)
            else:
                source.sheets[table] = sheet
            digest.update(table.encode() + b"\0" + version)
    source.problems += rowless(source.sheets)
    _declare(coming.place(path, DECLARATION), source, digest)
    source.version = digest.hexdigest()[:10]
    return source


def _meant_as_table(file: Path) -> bool:
    """Whatever ends as a table or workbook does, and whatever is named as a table is, folders included."""
    ending = file.suffix.lower()
    return ending in (".csv", *_OTHER_TABLES) or (
        ending != ".json" and _table(file.stem) is not None and bool(ending)
    )


def _no_file(file: Path) -> Problem:
    what = (
        "is a link to a file that is not there"
        if file.is_symlink() and not file.exists()
        else "is a folder, not a file"
        if file.is_dir()
        else "is a pipe or a device, not a file"
    )
    return Problem(
        "error",
        file.name,
        rule=f"{what}; nothing was read from it",
        suggestion="put the table itself there, or remove it",
    )


def _other_kind(file: Path) -> Problem:
    return Problem("error", file.name, rule="lies among the .csv tables and was not read",
                   suggestion=f"save its tables as .csv here, or {_declared(file.name)}")  # fmt: skip


def _second(file: str, sheet: str, table: str) -> Problem:
    return Problem(
        "error",
        file,
        sheet,
        rule=f"is a second table of {table}; it was left out",
        suggestion=f"keep one of the two, or {_declared(sheet or file)}",
    )


def _declared(name: str) -> str:
    return f"declare {quoted(name)} as not_used"


def _opened(file: Path, table: str) -> tuple[Sheet | None, list[Problem], bytes]:
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
        if file.is_symlink() or file.exists():
            source.problems.append(_no_file(file))
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
        raise _refusal(
            path, "is one table of several", f"name the folder that it lies in, “{path.absolute().parent}”"
        )
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
        beyond = too_wide(len(grid[0]), len(grid)) if grid else None
        if beyond:
            source.problems.append(Problem("error", path.name, name, rule=beyond[0], suggestion=beyond[1]))
            source.unopened.append(name)
        elif name.strip().lower() == ABOUT and source.about is None:
            source.about = items_of(grid, source)
        elif table in REQUIRED or (name.strip().lower() != MEANINGS and any(any(row) for row in grid)):
            sheet = sheet_of(table or name, path.name, name, grid, range(1, len(grid) + 1))
            if table is None or table in source.sheets:
                fault = _unknown(path.name, name, name) if table is None else _second(path.name, name, table)
                source.strangers.append(Stranger(name, fault, sheet))
            else:
                source.sheets[table] = sheet
    source.problems += rowless(source.sheets)
    return source


def items_of(grid: Grid, source: Source) -> dict[str, object]:
    """Item and value of the about sheet; the first row is its headings. Of an item that stands twice the first holds."""
    items: dict[str, object] = {}
    for number, row in enumerate(grid[1:], 2):
        name, value = (row[0].strip().lower().replace(" ", "_"), row[1].strip()) if len(row) > 1 else ("", "")
        if not name or not value:
            continue
        if name == "not_used" and name in items:
            items[name] = f"{items[name]}; {value}"
        elif name in items:
            source.problems.append(
                Problem("error", source.about_file, ABOUT, number, name, value, "is declared a second time; the first holds", "keep one of the two rows")
            )  # fmt: skip
        else:
            items[name] = value
    return items


def _table(name: str) -> str | None:
    plain = name.strip().lower()
    return plain if plain in TABLES else None


def _unknown(file: str, sheet: str, name: str) -> Problem:
    near = get_close_matches(name.strip().lower(), TABLES, 1, 0.7)
    declare = _declared(sheet or file)
    meant = (
        f"rename it if it is meant to be {near[0]}, or {declare}"
        if near
        else f"{declare}; the tables are {listed(TABLES)}"
    )
    return Problem("error", file, sheet, rule=f"is not a table known here; the {'sheet' if sheet else 'file'} was left out",
                   suggestion=meant)  # fmt: skip
