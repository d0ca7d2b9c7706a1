"""Diameters as fractions of an inch, in every spelling, beside pounds and degrees that are written so, too."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import xlsxwriter

from tests.ways.names import SITES, cultivars
from tests.ways.samples import by_day, sampled, weekly
from tests.ways.sheets import grouped_head, side_by_side
from tests.ways.truth import KEY, of_samples
from tests.ways.way import Made, Way

NOTE = f"""Measured with the wooden gauge at {SITES[0]}, 2023: diameters in inches and eighths, written 2 1/2, 2½, 2 5/8" or 2-5/8.
Pressure in lb, 8 mm tip, halves now and then as 7 1/2. Brix, the refractometer corrects itself.
The name of the sheet has the day. <10 and >13 are what the dial showed at its ends; 7/8 under Brix is a slip of the pen.
"""
_SIGNS = {1: "⅛", 2: "¼", 3: "⅜", 4: "½", 5: "⅝", 6: "¾", 7: "⅞"}


def make(folder: Path, size: float) -> Made:
    names = cultivars(max(2, round(12 * size)), 404)
    samples = sampled(names, SITES[:1], weekly(2023, 3), 4, "in", "lbf")
    for sample in samples:
        sample.figures[::3, 2:4] = (sample.figures[::3, 2:4] * 2).round() / 2
    gone: list[tuple] = []
    with xlsxwriter.Workbook(folder / "wooden gauge.xlsx") as book:
        for day, week in by_day(samples).items():
            sheet = book.add_worksheet(f"{day:%b} {day.day} {day.year}")
            grouped_head(
                sheet, 0, 1, ("Suture (in)", "Cross (in)", "P1 (lb)", "P2 (lb)", "Brix"), merged=False
            )
            sheet.write(1, 0, "Variety")
            for line, sample in enumerate(week, 2):
                figures = side_by_side(sample)
                told: list[object] = [eighths(value, number + line) for number, value in enumerate(figures[:20])]  # fmt: skip
                told += [halves(value, number + line) for number, value in enumerate(figures[20:40])]
                sugar: list[object] = list(figures[40:])
                if line == 2:  # what is no reading
                    told[20], told[35], sugar[8] = "<10", ">13", "7/8"
                    gone += [(*sample.key, *cell) for cell in ((1, "firmness_1_n"), (6, "firmness_2_n"), (9, "ssc_brix"))]  # fmt: skip
                sheet.write_row(line, 0, [sample.cultivar, *told, *sugar])
    waits = pd.DataFrame(gone, columns=KEY)
    return Made(of_samples(samples), {name: name for name in (*names, SITES[0])}, may_wait=waits)


def eighths(value: float, number: int) -> str:
    """2 5/8, 2⅝, 2 5/8" or 2-5/8 in turn; a whole number with or without its mark."""
    whole, part = divmod(round(value * 8), 8)
    if not part:
        return (f"{whole}", f'{whole}"')[number % 2]
    half = next(f"{part // by}/{8 // by}" for by in (4, 2, 1) if part % by == 0)
    return (f"{whole} {half}", f"{whole}{_SIGNS[part]}", f'{whole} {half}"', f"{whole}-{half}")[number % 4]


def halves(value: float, number: int) -> object:
    """A half now and then as 7 1/2, everything else as a number."""
    return f"{int(value)} 1/2" if value % 1 == 0.5 and number % 2 else value


WAY = Way(
    "w04", "fractions", NOTE,
    (
        ("^columns/Variety/is", "cultivar"), ("^columns/Suture .*/is", "suture"), ("^columns/Cross .*/is", "cross"), ("^columns/P1.*/is", "firmness 1"),
        ("^columns/P2.*/is", "firmness 2"), ("^columns/Brix.*/is", "ssc"), ("^fixed/site", SITES[0]), ("^fixed/date", "sheet name"),
    ),
    make,
)  # fmt: skip
