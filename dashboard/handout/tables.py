"""The ranking or the shortlist as .csv and .xlsx, with units in the headings and text that stays text.

A cell that a spreadsheet would take for a formula (= + - @, their wide forms, tab or return in front) is written as text in .xlsx; in
.csv, which knows no types, an apostrophe is set before it.
"""

from __future__ import annotations

import datetime as dt
import io
from collections.abc import Sequence
from typing import Any

import pandas as pd
import xlsxwriter

from dashboard.answers.choices import WEEKS_OF
from dashboard.answers.question import Question
from dashboard.market.prospects import POSSIBLE
from dashboard.market.verdict import SURE
from dashboard.market.weighing import BY
from dashboard.records.plain_text import AS_TEXT, plain_cell
from dashboard.ripening import day_label
from dashboard.terms.traits import TRAITS
from dashboard.wording.cautions import CAUTIONS
from dashboard.wording.column_kinds import words
from dashboard.wording.columns import chosen, shown
from dashboard.wording.gaps import days_told
from dashboard.wording.lists import DROPPABLE, droppable_filed


def table(asked: Question, part: str) -> pd.DataFrame:
    """``part`` is "ranking" or "shortlist": one row a cultivar, headings as a reader writes them, numbers as numbers."""
    listed = part == "shortlist"
    rows = asked.shortlisted if listed else asked.ranking
    filed = [one for column in shown(asked, "file", listed) for one in column.filed]
    told = {words(one.heading, asked): one.cells(asked, rows) for one in filed}
    if listed:
        told[DROPPABLE] = droppable_filed(asked, rows.index)
    return pd.DataFrame(told)


def meanings(asked: Question) -> list[tuple[str, str]]:
    """What the table rests on, line by line: date, data version, market, method, interval, cautions."""
    catalogue = asked.catalogue
    method = asked.values["size"]["method"]
    return [
        ("Made by", "Orchard Slate"),
        ("Date", dt.date.today().isoformat()),
        ("Records", catalogue.records_title + (" (invented)" if catalogue.invented else "")),
        ("Data version", catalogue.version),
        ("Market", asked.profile.name if asked.profile else "none"),
        ("Estimates", str(method.iloc[0]) if len(method) else "none"),
        ("low, high", "the likely range (90 %) of the estimate; empty where it is not known"),
        *_market_meanings(asked),
        *_droppable_meaning(asked),
        *((trait.heading(asked.units), trait.meaning) for trait in TRAITS.values()),
        *((column.heading(asked), words(column.meaning, asked)) for column in chosen(asked)),
        *(("Caution", caution) for caution in CAUTIONS),
    ]


def _droppable_meaning(asked: Question) -> list[tuple[str, str]]:
    if asked.droppable is None:
        return []
    days = days_told(*asked.selling, asked.catalogue.south)
    return [(DROPPABLE, f"of those on the list, for selling days {days}: the others cover its days")]


def _market_meanings(asked: Question) -> list[tuple[str, str]]:
    if asked.profile is None:
        return []
    return [
        (
            "Score",
            "how far the market's wishes are met, as is to be expected over the doubt in the estimates",
        ),
        (
            "For this market",
            f"qualifies from a chance of {100 * SURE:.0f} % that all limits hold, may qualify from {100 * POSSIBLE:.0f} %",
        ),
        ("Chance that all limits hold", "in the long run, over the doubt in the estimates"),
        ("Limits on the share of fruit", "share of the fruit to come at sites and in seasons like these"),
        (
            "Weights moved",
            f"places among those that qualify, all weights up or down by {100 * BY:.0f} %",
        ),
        *([("No chances", f"the averages decide who qualifies: {asked.refused}")] if asked.refused else []),
    ]


def csv(asked: Question, part: str) -> bytes:
    """UTF-8 with a mark at the start, so that spreadsheets read the names right; one header row, one row a cultivar."""
    return comma_separated(table(asked, part)).encode("utf-8-sig")


def weeks_csv(asked: Question) -> bytes:
    """Each class of fruit by week: how many are being picked on its average day, and the chance in % that enough are on its worst."""
    found, south = asked.class_weeks, asked.catalogue.south
    rows = [
        (kind, f"{day_label(start, south)} to {day_label(start + 6, south)}", round(float(count), 2), round(100 * float(chance)))
        for kind, counts, chances in zip(found.classes, found.count, found.chance, strict=True)
        for start, count, chance in zip(found.starts, counts, chances, strict=True)
    ] if found else []  # fmt: skip
    heads = ["Class", "Week", "Being picked", f"Chance of at least {asked.least} on the worst day, %"]
    market = asked.profile.name if asked.profile else "none"
    asks: dict[str, Any] = {
        "Market": market,
        "Counted": WEEKS_OF[asked.weeks_of],
        "Status": ", ".join(asked.status) or "any",
        "Seasons of evidence": asked.seasons,
        "Season": asked.season_kind,
        "Covered with": f"fruit in {asked.certainty} years in 10",
    }
    return comma_separated(pd.DataFrame(rows, columns=heads).assign(**asks)).encode("utf-8-sig")


def xlsx(asked: Question, part: str) -> bytes:
    """Two sheets: the table, and what its words mean. Every text is written as text."""
    rows, out = table(asked, part), io.BytesIO()
    with xlsxwriter.Workbook(out, AS_TEXT) as book:
        write_rows(book, part, rows)
        write_lines(book, "meanings", meanings(asked))
    return out.getvalue()


def write_rows(book: xlsxwriter.Workbook, name: str, rows: pd.DataFrame) -> None:
    """A sheet with one row a row, headings that stay in sight, text as text and what is not known left empty."""
    bold = book.add_format({"bold": True, "text_wrap": True, "valign": "top"})
    sheet = book.add_worksheet(name)
    for c, heading in enumerate(rows.columns):
        sheet.write_string(0, c, heading, bold)
        for r, cell in enumerate(rows[heading], start=1):
            if isinstance(cell, str):
                sheet.write_string(r, c, cell)
            elif not pd.isna(cell):
                sheet.write_number(r, c, float(cell))
    sheet.freeze_panes(1, 1)
    sheet.set_column(0, 0, 22)
    sheet.set_column(1, max(1, len(rows.columns) - 1), 12)


def write_lines(book: xlsxwriter.Workbook, name: str, lines: Sequence[tuple[str, str]]) -> None:
    """A sheet of words and what is to be said about each."""
    bold = book.add_format({"bold": True, "text_wrap": True, "valign": "top"})
    wrap = book.add_format({"text_wrap": True, "valign": "top"})
    sheet = book.add_worksheet(name)
    for r, (word, told) in enumerate(lines):
        sheet.write_string(r, 0, word, bold)
        sheet.write_string(r, 1, told, wrap)
    sheet.set_column(0, 0, 30)
    sheet.set_column(1, 1, 90)


def comma_separated(rows: pd.DataFrame) -> str:
    """The table as text; no spreadsheet takes a cell of it for a formula."""
    texts = {
        column: [plain_cell(cell) if isinstance(cell, str) else cell for cell in rows[column]]
        for column in rows.columns
        if not pd.api.types.is_numeric_dtype(rows[column])
    }
    return rows.assign(**texts).to_csv(index=False, lineterminator="\n")
