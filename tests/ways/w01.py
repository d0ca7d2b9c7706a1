"""A sheet a week: titles above, merged cells, ten fruit side by side under groups, averages between."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import xlsxwriter

from tests.ways.names import SITES, cultivars
from tests.ways.samples import by_day, sampled, weekly
from tests.ways.sheets import grouped_head, side_by_side
from tests.ways.truth import of_samples
from tests.ways.way import Made, Way

NOTE = f"""Peach block at {SITES[0]}, 2025. One sheet a week in one workbook.
Diameters in inches, pressure in lb (8 mm tip), Brix; our refractometer corrects for temperature.
Red is how much of the skin is red, 0 to 10, 10 is all of it.
The day in the title has the month first. "Average" lines are ours, do not use them.
A name without figures was on the list that week and was not picked.
"""
GROUPS = ("Suture (in)", "Cross (in)", "Firmness 1 (lb)", "Firmness 2 (lb)", "Brix")
_EVERY = 5  # rows, after which an average stands


def make(folder: Path, size: float) -> Made:
    names = cultivars(max(3, round(10 * size)), 101)
    samples = sampled(names, SITES[:1], weekly(2025, 4), 1, "in", "lbf", ("red",))
    samples = [sample for number, sample in enumerate(samples) if number != 5]  # not picked that week
    with xlsxwriter.Workbook(folder / "peach block.xlsx") as book:
        bold = book.add_format({"bold": True, "align": "center"})
        for day, week in by_day(samples).items():
            sheet = book.add_worksheet(f"Week of {day:%b %d}")
            for line, title in enumerate(("Stone fruit block", f"Site: {SITES[0]}", f"Picked {day.month}/{day.day}/{day.year}")):  # fmt: skip
                sheet.merge_range(line, 0, line, 8, title, bold)
            grouped_head(sheet, 4, 2, GROUPS)
            sheet.write_row(5, 0, ["Variety", "Red"])
            line, since = 6, []
            for name in names:
                sheet.write(line, 0, name)
                for sample in week:
                    if sample.cultivar == name:
                        sheet.write_row(line, 1, [sample.ratings["red"], *side_by_side(sample)])
                        since.append(side_by_side(sample))
                line += 1
                if len(since) == _EVERY:
                    sheet.write_row(line, 0, ["Average", "", *np.mean(since, axis=0).round(2).tolist()])
                    line, since = line + 1, []
    return Made(
        of_samples(samples), {name: name for name in names} | {"Average": "not used", SITES[0]: SITES[0]}
    )


WAY = Way(
    "w01", "a sheet a week, titles, merged cells, averages between", NOTE,
    (
        (r"^titles/A, \d+ above/is", lambda one: _title(one.shown[0])), ("/order ", "month/day"),
        ("^columns/Variety/is", "cultivar"), ("^columns/Red/is", "red"), ("^columns/Suture .*/is", "suture"), ("^columns/Cross .*/is", "cross"),
        ("^columns/Firmness 1.*/is", "firmness 1"), ("^columns/Firmness 2.*/is", "firmness 2"), ("^columns/Brix.*/is", "ssc"),
        ("/scale", "0 to 10, 10 best"), ("^rows_without_readings", "nothing was picked"),
    ),
    make,
)  # fmt: skip


def _title(shown: str) -> str:
    return "site" if "Site" in shown else "date" if "Picked" in shown else "not used"
