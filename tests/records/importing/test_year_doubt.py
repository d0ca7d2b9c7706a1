"""Date cells of the year of typing, in a sheet that is called by another, are flagged; those of the sheet's year are not."""

from __future__ import annotations

from datetime import datetime

import pytest
import xlsxwriter

from tests.records.importing.season import came_in, season

HEAD = ("Cultivar", "Site", "Date", "Red")


@pytest.mark.alike(3)
@pytest.mark.parametrize(
    ("sheet", "title", "typed", "flagged"),
    [
        ("2016", "", 2026, True), ("2016", "", 2016, False), ("Sheet1", "Harvest 2016", 2026, True), ("Sheet1", "Harvest 2016", 2016, False),
        ("Sheet1", "", 2026, False), ("2015 to 2016", "", 2026, False),
    ],
)  # fmt: skip
def test_days_of_another_year(tmp_path, sheet, title, typed, flagged):
    with xlsxwriter.Workbook(tmp_path / "a.xlsx") as book:
        page, day = book.add_worksheet(sheet), book.add_format({"num_format": "d-mmm"})
        page.write_row(0, 0, [title] if title else HEAD)
        page.write_row(2 if title else 0, 0, HEAD)
        for line, one in enumerate(season(2), 3 if title else 1):
            page.write_row(line, 0, (one.cultivar, one.site))
            page.write_datetime(line, 2, datetime(typed, one.day.month, one.day.day), day)
            page.write(line, 3, 7)
    answers = {"scale": "0 to 10, 10 best", "A, 2 above": "not used", ("A, 2 above", "is"): "not used"}
    outcome, _ = came_in([tmp_path / "a.xlsx"], tmp_path / "trial", answers)
    flags = [one for one in outcome.problems if "stands in its name or above it" in one.rule]
    assert [(one.row, one.column, one.value) for one in flags] == ([(4 if title else 2, "C", "2026-07-05")] if flagged else [])  # fmt: skip
