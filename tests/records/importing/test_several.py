"""Rows that stand for several fruit: a count said once, a row that may be a mean, a share that is fruit of ten."""

from __future__ import annotations

import numpy as np
import pytest
import xlsxwriter

from dashboard.records import read
from tests.records.importing.season import came_in
from tests.records.importing.test_twelve_ways import csv_file

HEAD = ("Cultivar", "Site", "Date", "Brix", "se")


def means(path, sheets: dict[str, str]):
    """A sheet each, with its title: two means and their errors."""
    with xlsxwriter.Workbook(path) as book:
        for number, (name, title) in enumerate(sheets.items()):
            sheet = book.add_worksheet(name)
            sheet.write(0, 0, title)
            for line, row in enumerate([HEAD, ("Alvane", "Low", f"2016-07-{5 + number:02}", 12, 0.2), ("Brintel", "Low", f"2016-07-{5 + number:02}", 11, 0.3)], 2):  # fmt: skip
                sheet.write_row(line, 0, row)
    return path


def test_the_number_of_fruit_behind_means_is_said_once(tmp_path):
    file = means(tmp_path / "a.xlsx", {"week 27": "nine fruit each", "week 28": "nine fruit each"})
    outcome, replies = came_in([file], tmp_path / "trial", {"fruit measured": "9", "zero": "at 20 C"})
    (asked,) = [one for one in replies.asked if one.path[-1] == "fruit measured" and "fixed" in one.path]
    assert asked.shown[0] == "  a.xlsx: week 27: “nine fruit each”; “Alvane”; “Low”; “2016-07-05”"
    assert outcome.counts["aside"] == 0
    found = read(tmp_path / "trial").tables["means"]
    np.testing.assert_allclose(found[["n", "ssc_sd_brix"]], [[9, 0.6], [9, 0.9]] * 2)  # 0.2 and 0.3 times 3
    again, silent = came_in([file], tmp_path / "trial", {})
    assert (again.came["means"], silent.asked) == (0, [])


def test_sheets_may_differ_in_it_and_what_nobody_counted_waits(tmp_path):
    answers = {"fruit measured": "sheet by sheet", "a.xlsx: old": "not known", "a.xlsx: new": "4"}
    file = means(tmp_path / "a.xlsx", {"old": "Low block", "new": "four each"})
    outcome, _ = came_in([file], tmp_path / "trial", answers)
    assert outcome.counts["aside"] == 4
    assert "nobody wrote of how many fruit" in outcome.text
    np.testing.assert_allclose(read(tmp_path / "trial").tables["means"][["n", "ssc_sd_brix"]], [[4, 0.4], [4, 0.6]])  # fmt: skip


@pytest.mark.parametrize(("said", "fruit"), [("one fruit", 3), ("a mean of several", 0)])
def test_a_row_alone_is_not_taken_for_one_fruit_unasked(tmp_path, said, fruit):
    rows = [[name, "Low", "2016-07-05", 12, 3] for name in ("Alvane", "Brintel", "Corvale")]
    table = csv_file(tmp_path / "a.csv", ["Cultivar", "Site", "Date", "Brix", "Split pits"], rows)
    outcome, _ = came_in([table], tmp_path / "trial", {"row_is": said, "share_of": "10"})
    assert len(read(tmp_path / "trial").tables["fruit"]) == fruit
    assert outcome.counts["aside"] == 3 - fruit
    assert read(tmp_path / "trial").tables["samples"]["split_pit_pct"].tolist() == [30.0] * 3  # 3 of ten
