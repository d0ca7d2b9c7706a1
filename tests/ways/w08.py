"""Means in place of fruit: with n and a deviation, with ±, with the error of the mean, and a file of which nobody knows of how many fruit."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import xlsxwriter

from tests.ways.names import SITES, cultivars
from tests.ways.samples import SI, sampled, weekly
from tests.ways.sheets import HEAD, fruit_rows, text_file
from tests.ways.truth import of_means, of_samples
from tests.ways.way import Made, Way

NOTE = f"""Old books of {SITES[1]}; only means of the fruit were kept. 8 mm tip, refractometer corrects itself.
1998.csv   n fruit, mean and standard deviation of each; mm and N.
1999.xlsx  mean ± standard deviation, in inches, lb and Brix; n stands beside.
2000.csv   mean and standard error; n stands beside. cm, kg, Brix.
2001.csv   mean and standard deviation in mm and N. Nobody knows of how many fruit.
2002.csv   mean and standard deviation in mm and N, of ten fruit each. The day is 2002's, as 7/3, the month first.
2003.csv   single fruit of two cultivars, mm and N.
In all others diameters are the mean of both, firmness the mean of both cheeks.
"""


def make(folder: Path, size: float) -> Made:
    names = cultivars(max(3, round(8 * size)), 808)
    chance, parts, uncounted = np.random.default_rng(8), [], []

    def rows(year: int, length: str, force: str, error: bool = False, counted: bool = True):
        for sample in sampled(names, SITES[1:2], weekly(year, 2), year, length, force):
            n = int(chance.integers(6, 16)) if year < 2002 else 10
            figures = sample.figures
            each = (figures[:, :2].mean(axis=1), figures[:, 2:4].mean(axis=1), figures[:, 4])
            places = (3, 2, 2) if length != "mm" else (1, 1, 2)
            told = [(round(float(one.mean()), place), round(float(one.std(ddof=1)), place)) for one, place in zip(each, places, strict=True)]  # fmt: skip
            if error:
                told = [(mean, round(sd / np.sqrt(n), 3)) for mean, sd in told]
            true = [(mean, sd * np.sqrt(n) if error else sd) for mean, sd in told]
            (size_, size_sd), (firm, firm_sd), (sugar, sugar_sd) = true
            values = {"size_mm": size_ * SI[length], "size_sd_mm": size_sd * SI[length], "firmness_n": firm * SI[force], "firmness_sd_n": firm_sd * SI[force], "ssc_brix": sugar, "ssc_sd_brix": sugar_sd}  # fmt: skip
            (parts if counted else uncounted).append(
                of_means(sample.key, ({"n": n} if counted else {}) | values)
            )
            yield sample, n, told

    flat = lambda told: [figure for pair in told for figure in pair]  # noqa: E731
    head = ("Cultivar", "Site", "Date", "n", "Mean size (mm)", "SD size (mm)", "Mean firmness (N)", "SD firmness (N)", "Avg Brix", "SD Brix")  # fmt: skip
    text_file(
        folder / "1998.csv", head, ([*_keys(one), n, *flat(told)] for one, n, told in rows(1998, "mm", "n"))
    )
    with xlsxwriter.Workbook(folder / "1999.xlsx") as book:
        sheet = book.add_worksheet("means")
        sheet.write_row(0, 0, ("Variety", "Site", "Date", "n", "Size (in)", "Pressure (lb)", "Brix"))
        for line, (one, n, told) in enumerate(rows(1999, "in", "lbf"), 1):
            sheet.write_row(line, 0, [*_keys(one), n, *(f"{mean} ± {sd}" for mean, sd in told)])
    head = ("Cultivar", "Site", "Date", "n", "Avg dia (cm)", "SE", "Avg pressure (kg)", "SE", "Avg Brix", "SE")  # fmt: skip
    text_file(
        folder / "2000.csv",
        head,
        ([*_keys(one), n, *flat(told)] for one, n, told in rows(2000, "cm", "kgf", error=True)),
    )
    head = ("Cultivar", "Site", "Date", "Mean size (mm)", "SD size (mm)", "Mean firmness (N)", "SD firmness (N)", "Mean Brix", "SD Brix")  # fmt: skip
    text_file(
        folder / "2001.csv",
        head,
        ([*_keys(one), *flat(told)] for one, n, told in rows(2001, "mm", "n", counted=False)),
    )
    head = ("Name", "Place", "Day", "Mean size", "SD size", "Mean pressure", "SD pressure", "Mean Brix", "SD Brix")  # fmt: skip
    text_file(
        folder / "2002.csv",
        head,
        (
            [one.cultivar, one.site, f"{one.day.month}/{one.day.day}", *flat(told)]
            for one, n, told in rows(2002, "mm", "n")
        ),
    )
    fruit = sampled(names[:2], SITES[1:2], weekly(2003, 1), 2003)
    text_file(folder / "2003.csv", HEAD, fruit_rows(fruit))
    parts.append(of_samples(fruit))
    waits = pd.concat(uncounted, ignore_index=True)
    return Made(
        pd.concat([*parts, waits], ignore_index=True),
        {name: name for name in (*names, SITES[1])},
        may_wait=waits,
    )


def _keys(sample) -> list[str]:
    return [sample.cultivar, sample.site, sample.day.isoformat()]


WAY = Way(
    "w08", "means instead of fruit", NOTE,
    (
        ("^columns/(Cultivar|Variety|Name)/is", "cultivar"), ("^columns/(Site|Place)/is", "site"), ("^columns/(Date|Day)/is", "date"), ("^columns/n/is", "fruit measured"),
        ("^columns/(Mean size|Size|Avg dia).*/is", "mean size"), ("^columns/(Mean firmness|Pressure|Avg pressure|Mean pressure).*/is", "mean firmness"),
        ("^columns/Brix/is.* 2003.csv", "ssc"), ("^columns/(Avg Brix|Brix|Mean Brix)/is", "mean sugar"), ("^columns/SD size.*/is", "sd size"), ("^columns/SD (firmness|pressure).*/is", "sd firmness"), ("^columns/SD Brix/is", "sd sugar"),
        (r"^columns/SE \(F\)/is", "se size"), (r"^columns/SE \(H\)/is", "se firmness"), (r"^columns/SE \(J\)/is", "se sugar"),
        (r"^columns/SE \(F\)/unit", "cm"), (r"^columns/SE \(H\)/unit", "kgf"), ("^columns/(Mean|SD) size/unit", "mm"), ("^columns/(Mean|SD) pressure/unit", "n"),
        ("/behind", "sd"), ("^columns/Day/order", "month/day"), ("^columns/Day/year", "file name"),
        ("^fixed/fruit measured.*2001", "not known"), ("^fixed/fruit measured.*2002", "10"),
    ),
    make,
)  # fmt: skip
