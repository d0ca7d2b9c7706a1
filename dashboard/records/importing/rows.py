"""The rows of a block with whose fruit they hold: cultivar, site and day, from a column, a title, or what was said of all rows."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
import pandas as pd

from dashboard.records.advice import Said
from dashboard.records.importing import dates
from dashboard.records.importing.across import own_columns
from dashboard.records.importing.asked_dates import FILE, SHEET, calendar, called, year_column
from dashboard.records.importing.blocks import Block, Heading
from dashboard.records.importing.layouts import Layout, content, only_cultivars, role_of, unread
from dashboard.records.importing.ledger import NOWHERE, Ledger, parts_of
from dashboard.records.importing.mapping import Answers, Path_
from dashboard.records.importing.mean_rows import sum_up
from dashboard.records.importing.pages import Page
from dashboard.records.importing.questions import ABOVE, NOT_PICKED
from dashboard.records.importing.roles import NOT_USED, NUMBER
from dashboard.records.importing.spellings import name_fault, tidy
from dashboard.records.problems import quoted

Told = tuple[str, Said | None]  # the value, or why there is none
_BEYOND = (1 << 14) - 1
_BETWEEN = "\x1f"  # a year and the day of its row
PARTS = {"cultivar": "cultivars", "site": "sites"}


@dataclass(frozen=True, eq=False)
class Keyed:
    """The rows of a block that can be used: ``rows`` (n,) of the page; by key its text (n,) and the cells that say it (n,)."""

    layout: Layout
    block: Block
    page: int
    rows: np.ndarray
    texts: Mapping[str, np.ndarray]
    codes: Mapping[str, np.ndarray]


def keyed(
    layout: Layout, block: Block, page: int, answers: Answers, ledger: Ledger, days: tuple[date, date]
) -> Keyed:
    """What is no row of a sample is set aside or left out here, with its reason; so is what is not of the ``days`` of the trial."""
    rows = block.rows
    _set_apart(block, page, ledger)
    held = {name: _said(name, layout, block, page, rows, answers, ledger) for name in PARTS}
    held["date"] = _said("date", layout, block, page, rows, answers, ledger)
    if only_cultivars(layout, answers):  # a day in a title is not one of a picking
        held |= {name: _nothing(len(rows)) for name in ("site", "date")}
    _outside(held["date"], rows, block, page, days, ledger)
    kept = _kept(layout, block, page, rows, held, answers, ledger)
    return Keyed(
        layout, block, page, rows[kept],
        {name: texts[kept] for name, (texts, _, _) in held.items()},
        {name: codes[kept] for name, (_, codes, _) in held.items()},
    )  # fmt: skip


def _nothing(count: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    return (
        np.full(count, "", dtype=object),
        np.full(count, NOWHERE, dtype=np.int64),
        np.zeros(count, dtype=bool),
    )


def _outside(
    held: tuple[np.ndarray, np.ndarray, np.ndarray], rows: np.ndarray, block: Block, number: int, days: tuple[date, date], ledger: Ledger
) -> None:  # fmt: skip
    """Days that are not of the seasons declared take their row with them."""
    texts, codes, _ = held
    said = (
        f"is outside the years of this trial ({days[0]} to {days[1]})",
        "correct the year, or the seasons declared",
    )
    for place in [at for at, text in enumerate(texts) if dates.outside(text, days)]:
        _put_row_aside(block, number, int(rows[place]), ledger, said, parts_of(int(codes[place]))[2])
        texts[place] = ""


def days(layout: Layout, block: Block, page: int, answers: Answers, ledger: Ledger) -> np.ndarray:
    """(n,) the day of each row as the records write it, "" where it has none that can be read."""
    return _said("date", layout, block, page, block.rows, answers, ledger)[0]


def by_value(cells: np.ndarray, told: Callable[[str], Told]) -> tuple[np.ndarray, np.ndarray, list[Said]]:
    """Each different cell once: texts (n,), which reason each has (-1: none), and the reasons."""
    codes, values = pd.factorize(cells)
    found = [told(str(value)) for value in values]
    reasons: list[Said] = []
    why = np.full(len(found), -1)
    for place, (_, said) in enumerate(found):
        if said is not None:
            why[place] = len(reasons)
            reasons.append(said)
    texts = np.array([text for text, _ in found], dtype=object) if found else np.array([], dtype=object)
    return (texts[codes], why[codes], reasons) if len(cells) else (cells, np.zeros(0, dtype=int), [])


def _set_apart(block: Block, page: int, ledger: Ledger) -> None:
    """What stands where nothing can be read: rows that were torn, cells under no heading."""
    for row, column in block.strays:
        ledger.aside(
            ledger.codes(page, np.array([row]), column), "stands under no heading",
            "write a heading over it, or write “not used” in the sheet of what was set aside",
        )  # fmt: skip
    for row, why in block.torn.items():
        said = why, 'put a cell that holds a comma between quotation marks (")'
        _put_row_aside(block, page, row, ledger, said)


def _said(
    name: str, layout: Layout, block: Block, page: int, rows: np.ndarray, answers: Answers, ledger: Ledger
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Texts (n,), the cells they come from, and where each row's own cell is filled; "" where nothing says it."""
    column = next((one for one in block.headings if role_of(layout, one.label, answers)[0] == name), None)
    if column is not None:
        return _from_column(name, layout, column, block, page, rows, answers, ledger)
    text, code = _for_all(name, layout, block, page, answers, ledger)
    return (
        np.full(len(rows), text, dtype=object),
        np.full(len(rows), code, dtype=np.int64),
        np.zeros(len(rows), dtype=bool),
    )


def _from_column(
    name: str, layout: Layout, heading: Heading, block: Block, page: int, rows: np.ndarray, answers: Answers, ledger: Ledger
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:  # fmt: skip
    path, place = layout.column(heading.label), heading.columns[0][1]
    every = rows if block.table is None else block.table
    from_row = block.page.holders(every, place)
    if len(every) and answers.at((*path, "empty")) == ABOVE:
        from_row = np.maximum.accumulate(from_row)
    from_row = from_row[np.searchsorted(every, rows)]
    cells = np.where(from_row >= 0, block.page.cells[np.maximum(from_row, 0), place], "")
    codes = np.where(from_row >= 0, ledger.codes(page, np.maximum(from_row, 0), place), NOWHERE)
    if name == "date" and (years := year_column(block, answers.at((*path, "year")))) is not None:
        cells = np.where(cells != "", block.page.cells[rows, years] + _BETWEEN + cells, "")
    texts, why, reasons = by_value(cells, _meaning(name, path, answers, block.page))
    for number, said in enumerate(reasons):
        for row in rows[why == number]:
            _put_row_aside(block, page, int(row), ledger, said, place)
    if name == "date" and (how := calendar(path, answers, block.page)).cells == dates.SWAPPED:
        held = np.array([(int(row), place) in block.page.days for row in from_row], dtype=bool)
        texts[held] = by_value(cells[held], lambda cell: dates.day(cell, how))[0]
    return texts, codes, block.page.cells[rows, place] != ""


def _meaning(name: str, path: Path_, answers: Answers, page: Page) -> Callable[[str], Told]:
    if name == "date":
        how = replace(calendar(path, answers, page), cells=dates.RIGHT)  # of a text that reads like a date
        return lambda cell: _day(cell, how) if cell else ("", None)
    spelled = answers.part(PARTS[name])

    def told(cell: str) -> Told:
        bare = tidy(cell)
        said = name_fault(bare)
        return (str(spelled.get(bare, bare)), None) if said is None else ("", said)

    return told


def _day(cell: str, how: dates.Calendar) -> Told:
    """Of a cell with the year of its row before it, where that stands in a column."""
    year, between, bare = cell.rpartition(_BETWEEN)
    return dates.day(bare, replace(how, year=dates.year_in(year)) if between else how)


def _for_all(
    name: str, layout: Layout, block: Block, page: int, answers: Answers, ledger: Ledger
) -> tuple[str, int]:
    """From a title, or as it was said of all rows; "" and the reason told where it cannot be read."""
    if name == "date" and block.across:
        return _across(layout, block, page, answers, ledger)
    for key, line, place in block.titles:
        if answers.at((*layout.title(key), "is")) != name:
            continue
        code = int(ledger.codes(page, np.array([line]), place)[0])
        text = str(block.page.cells[line, place])
        if name == "date":
            found = dates.in_text(text)
            how = calendar(layout.title(key), answers, block.page)
            if (line, place) not in block.page.days:
                how = replace(how, cells=dates.RIGHT)
            day, said = dates.day(found, how) if found else ("", None)
            if not day:
                ledger.aside(
                    [code], *(said or ("holds no date, or several", "write one date, like 2024-07-03"))
                )
            return day, code
        bare = tidy(text.partition(":")[2] or text)
        return str(answers.part(PARTS[name]).get(bare, bare)), code
    said_of_all = answers.at(("layout", layout.number, "fixed", name))
    if said_of_all in (SHEET, FILE):
        text = called(block.page, str(said_of_all))
        if name == "date":
            how = calendar(("layout", layout.number, "fixed_date"), answers, block.page)
            return dates.day(dates.in_text(text), how)[0], NOWHERE
        return str(answers.part(PARTS[name]).get(tidy(text), tidy(text))), NOWHERE
    return str(said_of_all or ""), NOWHERE


def _across(layout: Layout, block: Block, page: int, answers: Answers, ledger: Ledger) -> tuple[str, int]:
    """From the heading of its day."""
    at, how = block.day, calendar(layout.days, answers, block.page)
    day, said = dates.day(str(block.page.cells[at]), how if at in block.page.days else replace(how, cells=dates.RIGHT))  # fmt: skip
    code = int(ledger.codes(page, np.array([at[0]]), at[1])[0])
    if said is not None:
        ledger.aside([code], *said)
    return day, code


def title_name(text: str) -> str:
    return tidy(text.partition(":")[2] or text)


def _kept(
    layout: Layout, block: Block, page: int, rows: np.ndarray, held: Mapping[str, tuple], answers: Answers, ledger: Ledger
) -> np.ndarray:  # fmt: skip
    """(n,) bool: rows of a sample. The others are told by what they lack."""
    read = content(layout, block, answers)
    cultivar, named = held["cultivar"][0], held["cultivar"][2]
    left_out = (cultivar == NOT_USED) | sum_up(layout, block, answers)
    for row in rows[left_out]:
        ledger.unused(_row_codes(block, page, int(row), ledger, whole=True))
    named_in = _column("cultivar", layout, block, answers)
    carries = np.isin(ledger.codes(page, rows, _BEYOND if named_in is None else named_in), held["cultivar"][1][read])  # fmt: skip
    idle = ~read & ~left_out & ~carries  # one that carries its name to the rows below is spoken of with them
    not_picked = answers.at(("layout", layout.number, "rows_without_readings")) == NOT_PICKED
    nothing = unread(layout, answers)
    for row, has_name in zip(rows[idle], (named | (cultivar != ""))[idle], strict=True):
        if nothing or (has_name and not_picked):
            ledger.unused(_row_codes(block, page, int(row), ledger))
        else:
            said = "is in a row without any reading", "write a reading beside it, or declare it as not used"
            _put_row_aside(block, page, int(row), ledger, said)
    lacking = np.zeros(len(rows), dtype=bool)
    for name in ("cultivar",) if only_cultivars(layout, answers) else ("cultivar", "site", "date"):
        missing = (held[name][0] == "") & read & ~left_out & ~lacking
        for row in rows[missing]:
            said = (
                f"has readings and no {name} that can be read; the row is set aside",
                f"write the {name} beside it",
            )
            _put_row_aside(block, page, int(row), ledger, said, lacks=_column(name, layout, block, answers))
        lacking |= missing
    for row, said in _unnumbered(layout, block, rows[read & ~left_out & ~lacking], answers).items():
        _put_row_aside(block, page, row, ledger, said, lacks=_column(NUMBER, layout, block, answers))
        lacking[np.flatnonzero(rows == row)] = True
    return read & ~left_out & ~lacking


def _column(name: str, layout: Layout, block: Block, answers: Answers) -> int | None:
    """The column of the page that was said to be this one."""
    return next((one.columns[0][1] for one in block.headings if role_of(layout, one.label, answers)[0] == name), None)  # fmt: skip


def _unnumbered(layout: Layout, block: Block, rows: np.ndarray, answers: Answers) -> dict[int, Said]:
    """Rows whose fruit has no number that can be read, where the others have one; and why."""
    column = _column(NUMBER, layout, block, answers)
    cells = block.page.cells[rows, column] if column is not None else np.full(0, "")
    if not (cells != "").any():
        return {}
    write = "write 1, 2, 3 …"
    return {
        int(row): (f"{quoted(cell)} is not the number of a fruit; the row is set aside" if cell else "has no number of its fruit; the row is set aside", write)
        for row, cell in zip(rows, cells, strict=True) if not fruit_number(cell)
    }  # fmt: skip


def fruit_number(cell: str) -> int:
    """1 to 9999, also written F1, #1 or 1.0; 0 where it is none."""
    digits = re.sub(r"\.0+$", "", cell.lstrip("Ff# "))
    return int(digits) if digits.isdecimal() and len(digits) < 5 else 0


def _row_codes(block: Block, number: int, row: int, ledger: Ledger, whole: bool = False) -> np.ndarray:
    columns = own_columns(block, row, whole)
    return np.array(
        [ledger.codes(number, np.array([row]), int(column))[0] for column in columns], dtype=np.int64
    )


def _put_row_aside(
    block: Block, number: int, row: int, ledger: Ledger, said: Said, first: int = -1, lacks: int | None = None
) -> None:
    """Every cell of a row; told at the cell of the column ``first``. ``lacks``: the column that it is empty under."""
    if lacks is not None:
        ledger.lack(int(ledger.codes(number, np.array([row]), lacks)[0]), *said)
    codes = _row_codes(block, number, row, ledger)
    at = [code for code in codes if parts_of(int(code))[2] == first]
    ledger.aside([*at, *(code for code in codes if code not in at)], *said)
