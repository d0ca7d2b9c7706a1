"""Numbered selections of which a spreadsheet made days and numbers."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import xlsxwriter

from tests.ways.names import SITES
from tests.ways.samples import sampled, weekly
from tests.ways.sheets import HEAD, fruit_rows, text_file
from tests.ways.truth import of_samples
from tests.ways.way import Made, Way

# By selection what the spreadsheet of the second week made of it, and the third week's workbook, where it is a day cell.
SELECTIONS: dict[str, tuple[str, object]] = {
    "5-3": ("5-Mar", date(2021, 3, 5)),
    "7-11": ("7-Nov", date(2021, 11, 7)),
    "3-8": ("3-Aug", date(2021, 8, 3)),
    "8-3": ("8-Mar", date(2021, 3, 8)),
    "6/10": ("6-Oct", date(2021, 10, 6)),
    "2-76": ("Feb-76", date(1976, 2, 1)),
    "1E5": ("100000", 100000),
    "12.10": ("12.1", 12.1),
    "007": ("7", 7),
    "12-239": ("12239", "12-239"),
    "12-240": ("12-240", "12-240"),
    "K14-07": ("K14-07", "K14-07"),
}

NOTE = f"""Selections at {SITES[1]}, 2021, in mm and N, 8 mm tip, refractometer corrects itself. The list of what is planted:
{", ".join(SELECTIONS)}.
The first week was typed as text and is right. In the second the spreadsheet made days and numbers of some, the day first: 5-3 became 5-Mar, 8-3 became 8-Mar;
2-76 became Feb-76, 1E5 became 100000, 12.10 became 12.1, 007 became 7. Somebody typed 12239 for 12-239. In the third week they are day cells, the same way.
"""


def make(folder: Path, size: float) -> Made:
    names = list(SELECTIONS)
    weeks = weekly(2021, max(3, round(5 * size)))
    samples = sampled(names, SITES[1:2], weeks, 6)
    rows = fruit_rows(samples)
    text_file(folder / "week 1.csv", HEAD, [row for row in rows if row[2] == weeks[0].isoformat()])
    spoiled = [[SELECTIONS[str(row[0])][0], *row[1:]] for row in rows if row[2] == weeks[1].isoformat()]
    text_file(folder / "week 2.csv", HEAD, spoiled)
    with xlsxwriter.Workbook(folder / "week 3 and later.xlsx") as book:
        sheet, form = book.add_worksheet("picks"), book.add_format({"num_format": "d-mmm"})
        sheet.write_row(0, 0, HEAD)
        for line, row in enumerate((row for row in rows if row[2] > weeks[1].isoformat()), 1):
            cell = SELECTIONS[str(row[0])][1]
            if isinstance(cell, date):
                sheet.write_datetime(line, 0, cell, form)
            else:
                sheet.write(line, 0, cell)
            sheet.write_row(line, 1, row[1:])
    called = {name: name for name in (*names, SITES[1])}
    for name, (text, cell) in SELECTIONS.items():
        called |= {text: name, str(cell): name}
    return Made(of_samples(samples), called)


WAY = Way(
    "w06", "numbered selections that became dates and numbers", NOTE,
    (),
    make,
)  # fmt: skip
