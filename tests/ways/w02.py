"""Five people and five words for everything: headings, units, days, classes, and codes for sites."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import xlsxwriter

from tests.ways.names import SITES, cultivars
from tests.ways.samples import READINGS, Sample, sampled, weekly
from tests.ways.sheets import HEAD, fruit_rows, grouped_head, side_by_side, text_file
from tests.ways.truth import of_classes, of_samples
from tests.ways.way import Made, Way

NOTE = f"""Season 2024, two sites: {SITES[0]} and {SITES[1]}. All read with the 8 mm tip and a refractometer that corrects itself.
ann.csv      mm and N, days as 2024-07-03.
bert.xlsx    Seam is along the suture, Cheek dia across, both in inches. P1 and P2 are lb. Days are day cells.
carol.csv    D1 is along the suture, D2 across, both in cm. PSI A and PSI B are the two sides in kg. Days as 17.7.2024, the day first.
             Decimal commas. Flesh: G is yellow, B is white.
dora.xlsx    ten fruit side by side, in inches and lb; days as July 24. Flesh: yel and wht.
egon.csv     a row a reading: seam and width in mm, sun and shade are the two cheeks in N, refract is Brix. Days as 7/31/24, the month first.
             L1 is {SITES[0]}, H2 is {SITES[1]}. "Who" is who read it, not needed.
"""
_FLESH = ("yellow", "white")
_WORDS = ("seam", "width", "sun", "shade", "refract")


def make(folder: Path, size: float) -> Made:
    names = cultivars(max(2, round(10 * size)), 202)
    flesh = {name: _FLESH[number % 3 == 1] for number, name in enumerate(names)}
    weeks = weekly(2024, 5)
    units = (("mm", "n"), ("in", "lbf"), ("cm", "kgf"), ("in", "lbf"), ("mm", "n"))
    of = [sampled(names, SITES[:2], weeks[number : number + 1], 2 + number, *pair) for number, pair in enumerate(units)]  # fmt: skip
    ann, bert, carol, dora, egon = of
    text_file(folder / "ann.csv", HEAD, fruit_rows(ann))  # fmt: skip
    _bert(folder / "bert.xlsx", bert)
    _carol(folder / "carol.csv", carol, flesh)
    _dora(folder / "dora.xlsx", dora, flesh)
    _egon(folder / "egon.csv", egon)
    called = {name: name for name in (*names, *SITES[:2])} | {"L1": SITES[0], "H2": SITES[1]}
    told = [of_samples([sample for samples in of for sample in samples]), of_classes({"flesh_colour": flesh})]
    return Made(pd.concat(told, ignore_index=True), called)


def _bert(path: Path, samples: list[Sample]) -> None:
    with xlsxwriter.Workbook(path) as book:
        sheet, day = book.add_worksheet("2024"), book.add_format({"num_format": "m/d/yyyy"})
        sheet.write_row(0, 0, ("Variety", "Block", "Picked", "No", "Seam", "Cheek dia", "P1", "P2", "Sugar"))
        for line, row in enumerate(fruit_rows(samples, lambda sample: sample.day), 1):
            sheet.write_row(line, 0, row[:2])
            sheet.write_datetime(line, 2, row[2], day)
            sheet.write_row(line, 3, row[3:])


def _carol(path: Path, samples: list[Sample], flesh: dict[str, str]) -> None:
    rows = fruit_rows(samples, lambda one: f"{one.day.day}.{one.day.month}.{one.day.year}", lambda value: f"{value:g}".replace(".", ","))  # fmt: skip
    rows = [[*row, "G" if flesh[str(row[0])] == "yellow" else "B"] for row in rows]
    text_file(path, ("Selection", "Loc", "Harvested", "Frt", "D1", "D2", "Side A", "Side B", "TSS", "Flesh"), rows, ";")  # fmt: skip


def _dora(path: Path, samples: list[Sample], flesh: dict[str, str]) -> None:
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("Dora 2024")
        grouped_head(sheet, 0, 4, ("Sut dia (in)", "Equator (in)", "Press a (lb)", "Press b (lb)", "Bx"))
        sheet.write_row(1, 0, ("Name", "Orchard", "Day", "Flesh color"))
        for line, sample in enumerate(samples, 2):
            sheet.write_row(line, 0, (sample.cultivar, sample.site, f"{sample.day:%B} {sample.day.day}", {"yellow": "yel", "white": "wht"}[flesh[sample.cultivar]], *side_by_side(sample)))  # fmt: skip


def _egon(path: Path, samples: list[Sample]) -> None:
    codes = {SITES[0]: "L1", SITES[1]: "H2"}
    rows = []
    for sample in samples:
        day = f"{sample.day.month}/{sample.day.day}/{sample.day:%y}"
        for number, values in enumerate(sample.figures, 1):
            rows += [
                [codes[sample.site], day, sample.cultivar, number, word, f"{value:g}", "EG"]
                for word, value in zip(_WORDS, np.asarray(values, dtype=float), strict=True)
            ]
    text_file(path, ("Place", "Date", "Var", "Nr", "Measure", "Figure", "Who"), rows)
    assert len(_WORDS) == len(READINGS)


WAY = Way(
    "w02", "five people, five words for everything", NOTE,
    (
        ("^columns/(Cultivar|Variety|Selection|Name|Var)/is", "cultivar"), ("^columns/(Site|Block|Loc|Orchard|Place)/is", "site"),
        ("^columns/(Date|Picked|Harvested|Day)/is", "date"), ("^columns/(Fruit|No|Frt|Nr)/is", "fruit number"),
        ("^columns/(Suture .mm.|Seam|D1|Sut dia.*)/is", "suture"), ("^columns/(Cross .mm.|Cheek dia|D2|Equator.*)/is", "cross"),
        ("^columns/(Firmness 1 .N.|P1|Side A|Press a.*)/is", "firmness 1"), ("^columns/(Firmness 2 .N.|P2|Side B|Press b.*)/is", "firmness 2"),
        ("^columns/(Brix|Sugar|TSS|Bx.*)/is", "ssc"), ("^columns/Flesh( color)?/is", "flesh color"), ("^columns/Who/is", "not used"),
        ("^columns/Measure/is", "which reading"), ("^columns/Figure/is", "as the row says"),
        ("^readings/seam/is", "suture"), ("^readings/width/is", "cross"), ("^readings/sun/is", "firmness 1"), ("^readings/shade/is", "firmness 2"), ("^readings/refract/is", "ssc"),
        ("^columns/(Seam|Cheek dia)/unit", "in"), ("^columns/(P1|P2)/unit", "lbf"), ("^columns/(D1|D2)/unit", "cm"), ("^columns/Side ./unit", "kgf"),
        ("^readings/(seam|width)/unit", "mm"), ("^readings/(sun|shade)/unit", "n"),
        ("^columns/Harvested/order", "day/month"), ("^columns/Date/order", "month/day"), ("/century", "20"), ("^columns/Day/year", "sheet name"),
        ("/decimals", ","), ("words/(G|yel) ", "yellow"), ("words/(B|wht) ", "white"),
    ),
    make,
)  # fmt: skip
