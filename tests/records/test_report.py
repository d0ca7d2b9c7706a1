"""The report of the command ``orchard-slate check``."""

from __future__ import annotations

import xlsxwriter

from dashboard.records.importing.aside import HEADINGS
from dashboard.records.problems import Problem
from dashboard.records.report import check, written
from tests.records.small import row, tables, write_folder


def test_good_records_are_three_lines_of_counts_and_0(tmp_path):
    text, code = check(write_folder(tmp_path, tables()))
    assert text.splitlines() == [
        "fine: 4 of 4 samples, with all their fruit",
        "rows loaded: 3 of 3 cultivars, 2 of 2 sites, 4 of 4 samples, 12 of 12 fruit, 1 of 1 bloom, 1 of 1 weather; newest sample picked 2024-07-28",
        "0 errors, 0 flags; 150 filled cells: 150 read, 0 set aside, 0 declared as not used",
    ]
    assert code == 0


def test_flags_alone_end_with_0(tmp_path):
    grids = tables()
    row(grids["fruit"], 2)[6] = "5.9"
    text, code = check(write_folder(tmp_path, grids))
    assert text.splitlines() == [
        "to look at: 1 place, the newest first",
        "flag   2023-07-01, Alvane, low: fruit.csv, row 2, ssc_brix: “5.9” is unusually low, under 6 °Brix; look whether it was misread.",
        "fine: 3 of 4 samples, with all their fruit",
        "rows loaded: 3 of 3 cultivars, 2 of 2 sites, 4 of 4 samples, 12 of 12 fruit, 1 of 1 bloom, 1 of 1 weather; newest sample picked 2024-07-28",
        "0 errors, 1 flag; 150 filled cells: 150 read, 0 set aside, 0 declared as not used",
    ]
    assert code == 0


def test_errors_end_with_1_and_the_samples_left_are_counted(tmp_path):
    grids = tables()
    row(grids["samples"], 3)[1] = "Nobody"
    text, code = check(write_folder(tmp_path, grids))
    assert ", 3 of 4 samples, 9 of 12 fruit," in text.splitlines()[-2]
    assert (
        text.splitlines()[-1]
        == "2 errors, 0 flags; 150 filled cells: 121 read, 29 set aside, 0 declared as not used"
    )
    assert code == 1


def test_what_an_import_left_waiting_is_told(tmp_path):
    folder = write_folder(tmp_path, tables())
    place = folder / "importing" / "set_aside.xlsx"
    place.parent.mkdir()
    with xlsxwriter.Workbook(place) as book:
        page = book.add_worksheet("set aside")
        page.write_row(0, 0, HEADINGS)
        for line, instead in enumerate(("", "2.5", ""), 1):
            page.write_row(line, 0, ["week 24.xlsx", "one", f"C{line}", "25", "why", "what", instead])
    text, code = check(folder)
    assert f"2 cells of week 24.xlsx wait in {place}: write beside them" in text.splitlines()[-3]
    assert code == 0


def test_a_row_that_cannot_be_taken_apart_counts_as_not_loaded(tmp_path):
    folder = write_folder(tmp_path, tables())
    with (folder / "samples.csv").open("a", encoding="utf-8") as file:
        file.write('S5,"Alvane,low,2024-07-01,1,,,,\n')
    text, code = check(folder)
    assert ", 4 of 5 samples," in text.splitlines()[-2]
    assert text.endswith("1 error, 0 flags; 155 filled cells: 150 read, 5 set aside, 0 declared as not used")
    assert code == 1


def test_nothing_to_load_ends_with_1(tmp_path):
    text, code = check(tmp_path / "nowhere")
    assert text.splitlines()[-1] == "1 error, 0 flags; nothing loaded"
    assert code == 1


def test_thousands_have_a_comma(tmp_path):
    grids = tables()
    grids["samples"] += [[f"N{number}", *row(grids["samples"], 2)[1:]] for number in range(1200)]
    text, _ = check(write_folder(tmp_path, grids))
    assert ", 1,204 of 1,204 samples," in text.splitlines()[-2]
    assert "; 9,750 filled cells: 9,750 read, 0 set aside" in text.splitlines()[-1]


def test_every_problem_is_one_line():
    problem = Problem("error", "a.csv", value="two\nlines", rule="is odd")
    assert written([problem, problem]).splitlines() == ["error  a.csv: “two\\nlines” is odd."] * 2
