"""Ratings only: three lists, and a table with a column a date."""

from __future__ import annotations

from pathlib import Path

import xlsxwriter

from tests.ways.names import SITES, cultivars
from tests.ways.samples import Sample, sampled, weekly
from tests.ways.sheets import text_file
from tests.ways.truth import of_samples
from tests.ways.way import Made, Way

NOTE = f"""Only looked at, nothing measured. Year 2019.
walk {SITES[0]}.csv and walk {SITES[1]}.csv: Red, Shape and Appearance, 0 to 10, 10 best. Days have the month first.
fuzz.csv: Fuzz 1 to 5, 1 is the least fuzzy and the best. The site stands in it.
red by day.xlsx: how red each was, 0 to 10, 10 best, a column a day of picking, at {SITES[2]}.
"""
_RATED = ("red", "shape", "attractiveness")


def make(folder: Path, size: float) -> Made:
    names = cultivars(max(3, round(12 * size)), 1010)
    every: list[Sample] = []
    for number, site in enumerate(SITES[:2]):
        samples = sampled(names, [site], weekly(2019, 4), 10 + number, rated=_RATED)
        rows = [[one.cultivar, f"{one.day.month}/{one.day.day}/{one.day.year}", *(one.ratings[name] for name in _RATED)] for one in samples]  # fmt: skip
        text_file(folder / f"walk {site}.csv", ("Variety", "Date", "Red", "Shape", "Appearance"), rows)
        every += samples
    fuzzy = sampled(names, SITES[3:], weekly(2019, 3), 12, rated=("fuzz",), scales={"fuzz": (1, 5, 1)})
    rows = [[one.cultivar, one.site, one.day.isoformat(), one.ratings["fuzz"]] for one in fuzzy]
    text_file(folder / "fuzz.csv", ("Variety", "Site", "Date", "Fuzz"), rows)
    days = weekly(2019, 4)
    crossed = sampled(names, SITES[2:3], days, 13, rated=("red",))
    with xlsxwriter.Workbook(folder / "red by day.xlsx") as book:
        sheet, form = book.add_worksheet("Red"), book.add_format({"num_format": "m/d/yyyy"})
        sheet.write(0, 0, "Variety")
        for place, day in enumerate(days, 1):
            sheet.write_datetime(0, place, day, form)
        for line, name in enumerate(names, 1):
            sheet.write_row(line, 0, [name, *(one.ratings["red"] for one in crossed if one.cultivar == name)])
    called = {name: name for name in (*names, *SITES)} | {f"walk {site}": site for site in SITES}
    return Made(of_samples([*every, *fuzzy, *crossed], readings=False), called)


WAY = Way(
    "w10", "ratings only", NOTE,
    (
        ("^columns/Variety/is", "cultivar"), ("^columns/Site/is", "site"), ("^columns/Date/is", "date"), ("^columns/Red/is", "red"), ("^columns/Shape/is", "shape"),
        ("^columns/Appearance/is", "attractiveness"), ("^columns/Fuzz/is", "fuzz"), ("/order", "month/day"),
        ("^columns/Fuzz/scale", "1 to 5, 1 best"), ("/scale", "0 to 10, 10 best"), ("^fixed/site .*walk", "file name"), ("^fixed/site .*red by day", SITES[2]), ("^columns/days across.*/is", "red"),

    ),
    make,
)  # fmt: skip
