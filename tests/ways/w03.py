"""Days of eight kinds, a file each."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import xlsxwriter

from tests.ways.names import SITES, cultivars
from tests.ways.samples import Sample, sampled, weekly
from tests.ways.sheets import HEAD, fruit_rows, text_file
from tests.ways.truth import of_samples
from tests.ways.way import Made, Way

NOTE = f"""{SITES[0]}, season 2024, mm and N, 8 mm tip, refractometer corrects itself. Each of us writes days another way:
a iso: 2024-05-20.  b slashed: the day first, 10/6/2024.  c short: the month first, 6-17-24.  d named 2024: Jul 1, the year is the file's.
e number: days as a spreadsheet counts them from 1900.  f of year: the day of the year, 211 is July 29 in 2024; the column Year has the year.
g french: juin, juil. and août are June, July and August.  h cells: day cells of a workbook, they are right.
"""
_FRENCH = {6: "juin", 7: "juil.", 8: "août"}
# By file how its days are called, and how one is written.
_WAYS = {
    "a iso.csv": ("Date", lambda day: day.isoformat()),
    "b slashed.csv": ("Pick date", lambda day: f"{day.day}/{day.month}/{day.year}"),
    "c short.csv": ("Picked", lambda day: f"{day.month}-{day.day}-{day:%y}"),
    "d named 2024.csv": ("Day", lambda day: f"{day:%b} {day.day}"),
    "e number.csv": ("Sampled", lambda day: str((day - date(1899, 12, 30)).days)),
    "f of year.csv": ("Harvested", lambda day: str(day.timetuple().tm_yday)),
    "g french.csv": ("Harvest date", lambda day: f"{day.day} {_FRENCH[day.month]} {day.year}"),
}


def make(folder: Path, size: float) -> Made:
    names = cultivars(max(2, round(6 * size)), 303)
    weeks = weekly(2024, 16, (5, 20))
    samples: list[Sample] = []
    for number, (name, (called, written)) in enumerate(_WAYS.items()):
        here = sampled(names, SITES[:1], weeks[number * 2 : number * 2 + 2], 3)
        rows = fruit_rows(here, lambda sample, written=written: written(sample.day))
        head = ("Cultivar", called, HEAD[1], *HEAD[3:])
        rows = [[row[0], row[2], row[1], *row[3:]] for row in rows]
        if name.startswith("f"):
            head, rows = (*head[:2], "Year", *head[2:]), [[*row[:2], 2024, *row[2:]] for row in rows]
        text_file(folder / name, head, rows)
        samples += here
    last = sampled(names, SITES[:1], weeks[14:], 3)
    with xlsxwriter.Workbook(folder / "h cells.xlsx") as book:
        sheet, form = book.add_worksheet("all"), book.add_format({"num_format": "d-mmm"})
        sheet.write_row(0, 0, ("Cultivar", "Picked on", HEAD[1], *HEAD[3:]))
        for line, row in enumerate(fruit_rows(last, lambda sample: sample.day), 1):
            sheet.write(line, 0, row[0])
            sheet.write_datetime(line, 1, row[2], form)
            sheet.write_row(line, 2, [row[1], *row[3:]])
    return Made(of_samples([*samples, *last]), {name: name for name in (*names, SITES[0])})


WAY = Way(
    "w03", "dates of eight kinds", NOTE,
    (
        ("^columns/Year/is", "not used"),
        ("^columns/(Date|Pick date|Picked|Day|Sampled|Harvested|Harvest date|Picked on)/is", "date"),
        ("^columns/Pick date/order", "day/month"), ("^columns/Picked/order", "month/day"), ("/century", "20"),
        ("^columns/Day/year", "file name"), ("^columns/Sampled/day_numbers", "from 1900"),
        ("^columns/Harvested/day_numbers", "day of the year"), ("^columns/Harvested/year", "column Year"),
        ("^months/juin", "June"), ("^months/juil", "July"), ("^months/août", "August"),
    ),
    make,
)  # fmt: skip
