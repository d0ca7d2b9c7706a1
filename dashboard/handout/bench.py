"""The empty sheet for one site and day: what may be ripe is filled in by walking order, ten fruit side by side."""

from __future__ import annotations

import io
from datetime import date
from pathlib import Path
from typing import Any

import pandas as pd
import xlsxwriter
from xlsxwriter.utility import xl_range_abs

from dashboard.answers.catalogue import Catalogue
from dashboard.handout.ripening import in_walking_order, site_key, standing, walk
from dashboard.places import put
from dashboard.records.declaration import Declaration
from dashboard.records.descriptor import about
from dashboard.records.importing.bench import FRUIT, HEAD, HEADINGS, NAMES, READINGS, SHEET
from dashboard.records.schema import RATINGS, TABLES
from dashboard.records.seasons import season_and_day
from dashboard.records.sources import ABOUT
from dashboard.records.template import heading
from dashboard.wording.figures import counted

SPARE = 10  # cultivars that may be ripe against expectation
_WIDTHS = {"cultivar": 22, "row": 5, "position": 8, "expected": 17, "pick": 5, "reading": 14, "note": 30}
_FIGURE, _RATED = 6, 13
_READING = HEADINGS.index("reading")


def write_bench(catalogue: Catalogue, declaration: Declaration, site: str, on: date, path: Path, system: str = "us") -> str:  # fmt: skip
    """Write the sheet, its readings in the units of ``system``; gives back in a sentence what is filled in.

    ValueError, one sentence, for a site that is none; OSError where it cannot be written.
    """
    site, sites = site_key(catalogue, site), catalogue.sites["site"].astype(str).tolist()
    if site not in sites:
        raise ValueError(f"There is no site {site!r}; there are {', '.join(sites)}.")
    try:
        rows, why = walk(catalogue, site, on, by_row=True)[0], ""
    except ValueError as fault:
        rows, why = pd.DataFrame(columns=["cultivar"]), f" ({fault})"
    names = in_walking_order(standing(catalogue, site, on))["cultivar"].astype(str).tolist()
    picks = _picks(catalogue, site, on)
    made = io.BytesIO()
    plainly = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}  # fmt: skip
    with xlsxwriter.Workbook(made, plainly) as book:
        sheet = book.add_worksheet(SHEET)
        bold, cells = book.add_format({"bold": True, "bottom": 1}), [book.add_format({"border": 4, "top": top}) for top in (2, 4)]  # fmt: skip
        _head(sheet, site, on, bold)
        known = [{**row, "pick": picks.get(str(row["cultivar"]), 0) + 1} for row in rows.to_dict("records")]
        for number, row in enumerate([*known, *[{}] * SPARE]):
            _five(sheet, HEAD + 1 + number * len(READINGS), row, system, cells)
        _limits(sheet, len(known) + SPARE, len(names), declaration, system)
        book.add_worksheet(NAMES).write_column(0, 0, ["in walking order", *names])
        _declare(book.add_worksheet(ABOUT), declaration, bold)
    put(path, made.getvalue())
    return f"{counted(len(rows), 'cultivar')} that may be ripe at {site} stand in it by walking order{why}, {SPARE} places are free"  # fmt: skip


def _picks(catalogue: Catalogue, site: str, on: date) -> dict[str, int]:
    """By cultivar the last pick of this season at the site: as it is numbered, or the days of picking counted."""
    known = catalogue.summaries.dropna(subset=["date", "cultivar"])
    known = known[((known["site"].astype(str) == site) & (known["date"] <= pd.Timestamp(on))).to_numpy()]
    south = [catalogue.south]
    this, _ = season_and_day(pd.Series([pd.Timestamp(on)]), pd.Series(south).to_numpy())
    season, _ = season_and_day(known["date"], pd.Series(south * len(known)).to_numpy())
    known = known[season == this[0]]
    found = known.groupby(known["cultivar"].astype(str)).agg(days=("date", "nunique"), pick=("pick", "max"))
    return {str(name): int(count) for name, count in found.max(axis=1).items()}


def _head(sheet, site: str, on: date, bold) -> None:
    sheet.write_row(0, 0, ["site", site])
    sheet.write_row(1, 0, ["date", f"{on:%Y-%m-%d}"])
    sheet.write_row(0, 2, ["Ten fruit side by side. Leave a cell empty where nothing was measured, and what was not picked as it is."])  # fmt: skip
    for place, name in enumerate(HEADINGS):
        sheet.write_string(HEAD, place, name, bold)
        sheet.set_column(place, place, _WIDTHS.get(name, _FIGURE if name.isdigit() else _RATED))
    sheet.freeze_panes(HEAD + 1, _READING + 1)
    sheet.set_landscape()
    sheet.fit_to_pages(1, 0)
    sheet.repeat_rows(0, HEAD)


def _five(sheet, first: int, row: dict, system: str, cells) -> None:
    """The five rows of a cultivar, one a reading, in the order of the instruments."""
    said = {
        "cultivar": row.get("cultivar", ""), "row": row.get("row", ""), "position": row.get("position", ""), "pick": row.get("pick", ""),
        "expected": f"{row['expected_first']} – {row['expected_last']}" if row.get("expected_first") else row.get("remark", ""),
    }  # fmt: skip
    for line, name in enumerate(READINGS):
        for place, head in enumerate(HEADINGS):
            value: Any = said.get(head, "") if line == 0 else ""
            if head == "reading":
                value = heading(TABLES["fruit"].by_name[name], system)
            text = "" if pd.isna(value) else value
            write = sheet.write_number if isinstance(text, int) else sheet.write_string
            write(first + line, place, text if isinstance(text, int) else str(text), cells[line > 0])


def _limits(sheet, cultivars: int, names: int, declaration: Declaration, system: str) -> None:
    """What a cell may hold is said while the fruit is on the bench; none of it is refused."""
    told = {"error_type": "warning", "error_title": "look again"}
    last = HEAD + cultivars * len(READINGS)
    by_name = TABLES["fruit"].by_name
    for line, name in enumerate(READINGS):
        column, head = by_name[name], heading(by_name[name], system)
        unit, ends = column.spellings[head], column.flag or column.refuse or (0, 1)
        low, high = (round(float(unit.from_si(end)), 2) if unit else end for end in ends)
        rule = {"validate": "decimal", "criteria": "between", "minimum": low, "maximum": high, **told}
        rule["error_message"] = f"{head} is seldom outside {low:g} to {high:g}."
        rows = range(HEAD + 1 + line, last + 1, len(READINGS))
        sheet.data_validation(rows[0], _READING + 1, rows[0], _READING + FRUIT, rule | {"other_cells": [[row, _READING + 1, row, _READING + FRUIT] for row in rows[1:]]})  # fmt: skip
    for name in RATINGS:
        scale, place = declaration.ratings[name], HEADINGS.index(name)
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
    lines += [[f"{name}_{end}", value] for name, ends in items["ratings"].items() for end, value in ends.items()]  # fmt: skip
    for line, cells in enumerate(lines, 1):
        sheet.write_row(line, 0, cells)
