"""Scales and units that change: six sheets of two sites and three years under the same headings."""

from __future__ import annotations

from pathlib import Path

import xlsxwriter

from tests.ways.names import SITES, cultivars
from tests.ways.samples import Scale, sampled, weekly
from tests.ways.sheets import grouped_head, side_by_side
from tests.ways.truth import of_samples
from tests.ways.way import Made, Way

# By site and year: diameters, firmness, and the scale of all ratings.
SHEETS: dict[tuple[str, int], tuple[str, str, Scale]] = {
    (SITES[0], 2015): ("mm", "lbf", (1, 5, 1)),
    (SITES[1], 2015): ("mm", "kgf", (1, 5, 1)),
    (SITES[0], 2016): ("in", "lbf", (1, 9, 9)),
    (SITES[1], 2016): ("mm", "n", (1, 9, 9)),
    (SITES[0], 2017): ("in", "n", (0, 10, 10)),
    (SITES[1], 2017): ("in", "kgf", (0, 10, 10)),
}
_CALIPER = {"mm": 0.1, "in": 0.01}
_CALLED = {"mm": "mm", "in": "inches", "lbf": "lb", "kgf": "kg", "n": "N"}

NOTE = (
    "One workbook, a sheet a site and year, the same headings in all. 8 mm tip, refractometer corrects itself. Days have the month first.\n"
    + "".join(
        f"{site} {year}: diameters in {_CALLED[length]}, firmness in {_CALLED[force]}, ratings {scale[0]:g} to {scale[1]:g}, {scale[2]:g} best\n"
        for (site, year), (length, force, scale) in SHEETS.items()
    )
)


def make(folder: Path, size: float) -> Made:
    names = cultivars(max(3, round(12 * size)), 909)
    every = []
    with xlsxwriter.Workbook(folder / "six sheets.xlsx") as book:
        for (site, year), (length, force, scale) in SHEETS.items():
            rated = ("red", "shape", "attractiveness")
            samples = sampled(names, [site], weekly(year, 2), 9 + year, length, force, rated, dict.fromkeys(rated, scale), _CALIPER[length])  # fmt: skip
            every += samples
            sheet = book.add_worksheet(f"{site} {year}")
            grouped_head(sheet, 0, 5, ("Suture", "Cross", "P1", "P2", "Brix"))
            sheet.write_row(1, 0, ("Variety", "Date", "Red", "Shape", "Looks"))
            for line, one in enumerate(samples, 2):
                sheet.write_row(line, 0, [one.cultivar, f"{one.day.month}/{one.day.day}/{one.day.year}", *(one.ratings[name] for name in rated), *side_by_side(one)])  # fmt: skip
    sites = {f"{site} {year}": site for site, year in SHEETS}
    return Made(of_samples(every), {name: name for name in (*names, *SITES[:2])} | sites)


def _of_sheet(place: int):
    """The answer of the sheet that a question is about."""

    def answer(question) -> str:
        told = f"{question.about} {question.line[1]}"
        found = [
            kept for (site, year), kept in SHEETS.items() if f"{site} {year}" in told and "more" not in told
        ]
        if place < 2:  # of all sheets: as the first is
            return found[0][place] if found else SHEETS[SITES[0], 2015][place]
        of_year = [kept for (_, year), kept in SHEETS.items() if str(year) in str(question.path[-1])]
        low, high, best = (found or of_year)[0][2]
        return f"{low:g} to {high:g}, {best:g} best"

    return answer


WAY = Way(
    "w09", "scales and units that change", NOTE,
    (
        ("^columns/Variety/is", "cultivar"), ("^columns/Date/is", "date"), ("^columns/Suture.*/is", "suture"), ("^columns/Cross.*/is", "cross"),
        ("^columns/P1.*/is", "firmness 1"), ("^columns/P2.*/is", "firmness 2"), ("^columns/Brix.*/is", "ssc"), ("^columns/Red/is", "red"),
        ("^columns/Shape/is", "shape"), ("^columns/Looks/is", "attractiveness"), ("/order", "month/day"), ("^fixed/site", "sheet name"),
        ("^columns/(Suture|Cross).*/unit", _of_sheet(0)), ("^columns/P[12].*/unit", _of_sheet(1)), ("/scale", _of_sheet(2)),
    ),
    make,
)  # fmt: skip
