"""A fruit number typed twice is told as that, with both rows; its own number written beside it brings the fruit in."""

from __future__ import annotations

import xlsxwriter

from dashboard.records import read
from dashboard.records.workbooks import read_grids
from tests.records.importing.season import came_in, is_true, season
from tests.records.importing.test_twelve_ways import LONG, csv_file, long_rows


def test_a_number_typed_twice_waits_with_its_own_line(tmp_path):
    samples = season(1)
    rows = long_rows(samples)
    rows[14][3] = 4  # the fifth of the second sample
    file = csv_file(tmp_path / "a.csv", LONG, rows)
    outcome, _ = came_in([file], tmp_path / "trial", {})
    (error,) = [one for one in outcome.problems if one.severity == "error"]
    assert (error.row, error.column, error.value) == (16, "D", "4")
    assert error.rule == "is the number of the fruit in row 15, too, of the same sample; the row is set aside"
    assert (
        error.suggestion == "write its own number, like 5 or 11; the other row may be the one that is wrong"
    )
    assert outcome.came["samples"] == 5
    sheet = tmp_path / "trial" / "importing" / "set_aside.xlsx"
    (grid,) = read_grids(sheet)[0].values()
    written = [[*line[:6], "5" if line[2] == "D16" else line[6]] for line in grid]
    with xlsxwriter.Workbook(sheet) as book:
        page = book.add_worksheet("set aside")
        for number, line in enumerate(written):
            page.write_row(number, 0, line)
    assert came_in([file], tmp_path / "trial", {})[0].counts["aside"] == 0
    is_true(tmp_path / "trial", samples)


def test_a_row_twice_is_one_fruit_and_two_halves_of_a_row_are_one(tmp_path):
    samples = season(1)
    rows = long_rows(samples)
    rows.insert(5, list(rows[4]))
    rows.insert(11, [*rows[10][:8], ""])
    rows[10] = [*rows[10][:4], "", "", "", "", rows[10][8]]
    outcome, _ = came_in([csv_file(tmp_path / "a.csv", LONG, rows)], tmp_path / "trial", {})
    assert (outcome.code, outcome.counts["aside"]) == (0, 0)
    assert "5 new samples of 5 in the sheets" in outcome.text
    is_true(tmp_path / "trial", samples)


def test_two_fruit_of_a_second_pick_are_its_own(tmp_path):
    samples = season(1)[:2]
    samples[1].cultivar = samples[0].cultivar
    rows = [[*row, 1 + number // 10] for number, row in enumerate(long_rows(samples))][:12]
    came_in([csv_file(tmp_path / "a.csv", (*LONG, "Pick"), rows)], tmp_path / "trial", {})
    assert read(tmp_path / "trial").tables["fruit"]["sample"].value_counts().tolist() == [10, 2]
