"""How long it takes to bring in ten years of weekly sheets: ``python -m tests.benchmarks.importing``."""

from __future__ import annotations

import tempfile
import time
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import xlsxwriter

from tests.records.importing.season import FRUIT, came_in
from tests.records.importing.test_twelve_ways import week_sheet

YEARS, WEEKS, SAMPLES = range(2014, 2024), 15, 25


def workbooks(folder: Path) -> list[Path]:
    """One a year, a sheet a week, with titles and merged headings; figures by chance."""
    chance = np.random.default_rng(3)
    files = []
    for year in YEARS:
        files.append(folder / f"trial_{year}.xlsx")
        with xlsxwriter.Workbook(files[-1]) as book:
            for week in range(WEEKS):
                day = date(year, 6, 1) + timedelta(days=7 * week)
                rows = [
                    [
                        f"C{week * 10 + number:03d}", int(chance.integers(0, 11)), *(chance.integers(17, 25, 2 * FRUIT) / 8).tolist(),
                        *(chance.integers(40, 140, 2 * FRUIT) / 10).tolist(), *(chance.integers(90, 150, FRUIT) / 10).tolist(),
                    ]
                    for number in range(SAMPLES)
                ]  # fmt: skip
                titles = ["Block", f"Picked {day.month}/{day.day}/{day.year}"]
                week_sheet(book.add_worksheet(f"Week {20 + week}"), rows, titles)
    return files


def main() -> None:
    with tempfile.TemporaryDirectory() as place:
        files = workbooks(Path(place))
        started = time.process_time()
        answers: dict[object, str] = {
            "scale": "0 to 10, 10 best",
            "order": "month/day",
            "site": "Low",
            "zero": "a reading",
        }
        outcome, replies = came_in(files, Path(place) / "trial", answers)
        spent = time.process_time() - started
        print(outcome.text.splitlines()[-1])
        print(f"{len(replies.asked)} questions, {spent:.1f} s of processor")


if __name__ == "__main__":
    main()
