"""The trial that sheets come into: a folder of .csv tables, there already or made anew. What stands in it is
written over only where somebody said that a file is right."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd

from dashboard.records import RecordError
from dashboard.records.all_or_none import OWN, put_together
from dashboard.records.checking import checked, empty
from dashboard.records.declaration import Declaration
from dashboard.records.descriptor import descriptor
from dashboard.records.findings import Findings
from dashboard.records.headings import headings
from dashboard.records.keys import located
from dashboard.records.plain_text import plain_cell
from dashboard.records.reading import loaded, usable
from dashboard.records.schema import REQUIRED, TABLES, Column
from dashboard.records.sheets import Sheet
from dashboard.records.sources import DECLARATION, read_source
from dashboard.records.writing import each_once
from dashboard.terms.units import Unit

INTO = ("cultivars", "sites", "samples", "fruit", "means", "beyond")


class TrialError(ValueError):
    """Why nothing can come into a trial, in one sentence."""


@dataclass
class Trial:
    """``frames``: the rows that stand, by table, in SI; ``cells``: the same tables as text with their headings."""

    folder: Path
    new: bool
    declaration: Declaration
    frames: dict[str, pd.DataFrame] = field(default_factory=dict)
    cells: dict[str, pd.DataFrame] = field(default_factory=dict)
    changed: frozenset[str] = frozenset()  # tables of which more came in than stands in the folder
    said: bool = False  # its declaration came with the sheets, so that nobody need be asked

    @property
    def names(self) -> dict[str, list[str]]:
        return {
            "cultivars": self.frames["cultivars"]["cultivar"].tolist(),
            "sites": self.frames["sites"]["site"].tolist(),
        }


def opened_trial(folder: Path, tables: Iterable[str] = INTO) -> Trial:
    """The trial of a folder with the ``tables`` that something may come into; TrialError where nothing can come into it, so that nothing is lost or written twice."""
    if folder.suffix.lower() == ".xlsx" or (folder.exists() and not folder.is_dir()):
        raise TrialError(
            f"{folder}: sheets come into a folder of .csv tables, not into a file; name a folder. Into a store they come with  orchard-slate store bring."
        )
    if not folder.exists() or not any(
        item for item in folder.iterdir() if item.name != OWN and not item.name.startswith(".")
    ):
        frames = {name: empty(name) for name in tables}
        cells = {name: pd.DataFrame(dtype=object) for name in tables}
        return Trial(folder, True, Declaration(), frames, cells)
    try:
        source = read_source(folder)
        whole = loaded(source)
        usable(whole)
    except RecordError as fault:
        raise TrialError(
            f"{folder}: is not a trial that can be read; see  orchard-slate check {folder}. {fault.problems[0].sentence}"
        ) from None
    trial = Trial(folder, False, whole.declaration)
    for name in tables:
        sheet = source.sheets.get(name)
        trial.frames[name], trial.cells[name] = empty(name), pd.DataFrame(dtype=object)
        if sheet is None:
            continue
        account = whole.accounts[name]
        twice = whole.by_table[name].twice if name in whole.by_table else ()  # declared as not used
        if sheet.torn or account.loaded + len(twice) < account.rows:
            raise TrialError(
                f"{located(sheet)}: rows of it are set aside, so what comes in may stand there already; correct them first, see  orchard-slate check {folder}."
            )
        trial.frames[name] = checked(sheet, trial.declaration, Findings(sheet))
        trial.cells[name] = pd.DataFrame(
            dict(zip(sheet.headings, sheet.cells, strict=True)),
            index=sheet.rows,
            dtype=object,
        )
        if len(trial.cells[name].columns) < len(sheet.headings):
            raise TrialError(
                f"{located(sheet)}: two columns have the same heading; give each a name of its own first."
            )
    return trial


@dataclass
class Coming:
    """What is to be written into one table: new ``rows`` in SI, and cells that were empty or are replaced: row, column, value."""

    rows: pd.DataFrame
    filled: Sequence[tuple[int, str, object]] = ()


def write_into(
    trial: Trial, coming: Mapping[str, Coming], units: Mapping[str, str], beside: Mapping[str, bytes]
) -> None:
    """Each table with what came in below what stood there; ``units`` by column for headings that are made anew; ``beside``: further files of
    the folder that belong to it. All of them or none, also where it is killed. OSError where one cannot be written.
    """
    after = _after(trial, coming, units)
    cells = trial.cells | after
    written = [name for name in TABLES if name in trial.changed or name in after]
    made: dict[str, bytes] = {}  # all of it before the first is put, so that a fault leaves nothing behind
    for name in written:
        text = io.StringIO(newline="")
        rows = csv.writer(text, lineterminator="\n")
        rows.writerow(cells[name].columns)
        rows.writerows(cells[name].itertuples(index=False))
        made[f"{name}.csv"] = text.getvalue().encode("utf-8")
    if trial.new:
        package = descriptor(TABLES, trial.declaration, {name: list(cells[name].columns) for name in written})
        made[DECLARATION] = (json.dumps(package, indent=2, ensure_ascii=False) + "\n").encode("utf-8")
    trial.folder.mkdir(parents=True, exist_ok=True)
    put_together(trial.folder, made | dict(beside))


def with_rows(trial: Trial, coming: Mapping[str, Coming], units: Mapping[str, str]) -> Trial:
    """The trial as it will be once these rows are written, for what comes in beside them."""
    after = _after(trial, coming, units)
    frames = dict(trial.frames)
    for name, cells in after.items():
        columns = tuple(cells[heading].to_numpy(dtype=object) for heading in cells)
        numbers = np.arange(2, len(cells) + 2)
        sheet = Sheet(name, f"{name}.csv", "", tuple(map(str, cells.columns)), numbers, columns)
        after[name] = cells.set_axis(numbers)
        frames[name] = checked(sheet, trial.declaration, Findings(sheet))
    return replace(trial, frames=frames, cells=trial.cells | after, changed=trial.changed | set(after))


def standing_text(trial: Trial, name: str, column: Column, rows: pd.Index) -> np.ndarray | None:
    """(n,) the cells of a column as they stand in the trial; None where it has no such column."""
    heading = headings_of(trial, name).get(column.name)
    return None if heading is None else trial.cells[name].loc[rows, heading[0]].to_numpy(dtype=object)


def _after(trial: Trial, coming: Mapping[str, Coming], units: Mapping[str, str]) -> dict[str, pd.DataFrame]:
    """The cells of each table with what came in below what stood there; tables that stay as they are left out."""
    return {
        name: _table(trial, name, part, units) for name, part in coming.items()
        if len(part.rows) or part.filled or (trial.new and name in REQUIRED)
    }  # fmt: skip


def _table(trial: Trial, name: str, part: Coming, units: Mapping[str, str]) -> pd.DataFrame:
    cells = trial.cells[name].copy()
    known = headings_of(trial, name)
    table = TABLES[name]
    wanted = [
        column
        for column in table.columns
        if column.name in part.rows and (column.needed or _any(part.rows[column.name]))
    ]
    for column in [*wanted, *(table.by_name[one] for _, one, _ in part.filled)]:
        if column.name not in known:
            spelling, unit = _spelling(column, units.get(column.name, ""))
            known[column.name] = (spelling, unit)
            cells[spelling] = np.full(len(cells), "", dtype=object)
    for row, column_name, value in part.filled:
        heading, unit = known[column_name]
        cells.at[row, heading] = cells_of(
            pd.Series([value]), table.by_name[column_name], unit, trial.declaration
        )[0]
    added = {
        known[column.name][0]: cells_of(
            part.rows[column.name], column, known[column.name][1], trial.declaration
        )
        for column in wanted
    }
    below = pd.DataFrame(added, dtype=object).reindex(columns=cells.columns, fill_value="")
    return pd.concat([cells, below], ignore_index=True) if len(below) else cells


def headings_of(trial: Trial, name: str) -> dict[str, tuple[str, Unit | None]]:
    """By column the heading that a table of the trial has for it, and its unit."""
    if not len(trial.cells[name].columns):
        return {}
    cells = trial.cells[name]
    sheet = Sheet(
        name,
        f"{name}.csv",
        "",
        tuple(cells.columns),
        np.array([], dtype=int),
        tuple(np.array([], dtype=object) for _ in cells.columns),
    )
    found = headings(sheet, Findings(sheet), trial.declaration.not_used)
    return {key: (heading.written, heading.unit) for key, heading in found.items()}


def _spelling(column: Column, unit: str) -> tuple[str, Unit | None]:
    spellings = column.spellings
    wanted = next(
        (spelling for spelling, one in spellings.items() if one and one.suffix == unit), column.name
    )
    return wanted, spellings[wanted]


def _any(values: pd.Series) -> bool:
    return bool(((values != "") & values.notna()).any() if values.dtype == object else values.notna().any())


def cells_of(values: pd.Series, column: Column, unit: Unit | None, declaration: Declaration) -> list[str]:
    """Cells as text in the heading's unit, ratings on the scale that the trial declares."""
    if column.kind in ("number", "whole", "year"):
        return each_once(values.astype(float), lambda number: digits(in_the_trial(number, column, unit, declaration)))  # fmt: skip
    return each_once(values, lambda text: plain_cell(str(text)))


def in_the_trial(numbers: Any, column: Column, unit: Unit | None, declaration: Declaration) -> Any:
    """SI figures, or one, in the heading's unit, ratings on the scale that the trial declares."""
    if column.rating:
        scale = declaration.ratings[column.name]
        span = (scale.high - scale.low) / 10
        return scale.low + numbers * span if scale.best == scale.high else scale.high - numbers * span
    return numbers if unit is None else unit.from_si(numbers)


def digits(number: float) -> str:
    """Twelve figures: 2.625 in comes back as 2.625, not as 2.6250000000000004."""
    text = f"{number:.12g}"
    return text if "e" not in text else repr(float(text))
