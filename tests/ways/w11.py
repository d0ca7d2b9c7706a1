"""Sheets twice, values that were corrected, and blocks that were copied under another name, whole and in part."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import xlsxwriter

from tests.ways.names import SITES, cultivars
from tests.ways.samples import sampled, weekly
from tests.ways.sheets import HEAD, fruit_rows, text_file
from tests.ways.truth import of_samples
from tests.ways.way import Made, Way

NOTE = f"""{SITES[0]}, 2018, mm and N, 8 mm tip, refractometer corrects itself.
picks.xlsx has the sheet "picks" and, because somebody made a copy, "picks (2)" with the same. picks again.csv is the same once more.
picks corrected.csv came later, checked against the paper. Where it says another figure, it is right.
"""
_CORRECTED = ((0, 2, 0), (1, 5, 3), (3, 7, 4), (4, 1, 1))  # sample, fruit, reading
COPIED, IN_PART = (2, 5), (6, 7)  # from, to: all ten fruit, and the first four


def make(folder: Path, size: float) -> Made:
    names = cultivars(max(8, round(9 * size)), 1111)
    true = sampled(names, SITES[:1], weekly(2018, 2), 11)
    checked = [replace(one, figures=one.figures.copy()) for one in true]
    checked[COPIED[1]].figures[:] = checked[COPIED[0]].figures
    checked[IN_PART[1]].figures[:4] = checked[IN_PART[0]].figures[:4]
    typed = [replace(one, figures=one.figures.copy()) for one in checked]
    for sample, fruit, reading in _CORRECTED:
        typed[sample].figures[fruit, reading] += 3
    with xlsxwriter.Workbook(folder / "picks.xlsx") as book:
        for name in ("picks", "picks (2)"):
            sheet = book.add_worksheet(name)
            sheet.write_row(0, 0, HEAD)
            for line, row in enumerate(fruit_rows(typed), 1):
                sheet.write_row(line, 0, row)
    text_file(folder / "picks again.csv", HEAD, fruit_rows(typed))
    text_file(folder / "picks corrected.csv", HEAD, fruit_rows(checked))
    copied = of_samples([true[COPIED[1]], true[IN_PART[1]]])
    return Made(of_samples(true), {name: name for name in (*names, SITES[0])}, may_be_wrong=copied)


WAY = Way(
    "w11", "sheets twice, corrected, copied", NOTE,
    (
        ("^differing/picks corrected", "the file is right"), ("^differing/", "keep what stands"),
    ),
    make, later=("picks corrected.csv",),
)  # fmt: skip
