"""Three heaps: what to mend, what to look at, what is fine; the newest fruit first, each place with whose fruit it is."""

from __future__ import annotations

from dashboard.records import read
from dashboard.records.heaps import LOOK, MEND, fine, heap, heaps
from dashboard.records.report import PLACES, check, checked
from tests.records.small import row, tables, write_folder


def damaged(tmp_path):
    grids = tables()
    row(grids["fruit"], 2)[6] = "5.9"  # S1 of 2023
    row(grids["fruit"], 12)[6] = "5.8"  # S4 of 2024
    row(grids["samples"], 4)[1] = "Brintl"  # S3: set aside with its fruit
    row(grids["weather"], 2)[2:] = ["50", "41"]  # no day is so
    return write_folder(tmp_path, grids)


def test_what_is_set_aside_or_surely_wrong_is_mended_what_is_odd_is_looked_at(tmp_path):
    found = heaps(read(damaged(tmp_path)).problems)
    assert [(one.file, one.severity) for one in found[MEND]] == [
        ("samples.csv", "error"),
        ("fruit.csv", "error"),
        ("weather.csv", "flag"),
    ]
    assert [one.value for one in found[LOOK]] == ["5.8", "5.9"]


def test_each_place_says_whose_fruit_it_is_also_where_it_was_set_aside(tmp_path):
    problems = read(damaged(tmp_path)).problems
    assert [str(one.whose) for one in problems] == [
        "2024-07-20, Brintl, low",
        "2024-07-20, Brintl, low",
        "2024-01-01, low",
        "2024-07-28, T 12-034, low",
        "2023-07-01, Alvane, low",
    ]
    assert [one.whose.sample for one in problems] == ["S3", "S3", "", "S4", "S1"]


def test_fine_are_the_samples_loaded_of_which_and_of_whose_fruit_nothing_is_said(tmp_path):
    records = read(damaged(tmp_path))
    assert fine(records.problems, records.tables["samples"]["sample"]) == (1, 3)
    assert "fine: 1 of 3 samples, with all their fruit" in check(tmp_path)[0].splitlines()


def test_no_sample_is_fine_whose_sugar_stands_under_a_wrong_heading(tmp_path):
    grids = tables()
    grids["fruit"][0][6] = "sugar"
    for number, cells in enumerate(grids["fruit"][1:]):  # else they would be copies of each other
        cells[5] = f"{38 + number}"
    for cells in grids["fruit"][8:]:
        cells[6] = ""
    records = read(write_folder(tmp_path, grids))
    assert fine(records.problems, records.tables["samples"]["sample"]) == (1, 4)  # of S4 none was measured


def test_command_and_file_have_the_same_order(tmp_path):
    text, code, every = checked(damaged(tmp_path))
    lines = text.splitlines()
    assert code == 1
    assert lines[0] == "to mend: 3 places, the newest first"
    assert lines[4] == "to look at: 2 places, the newest first"
    told = [line.partition(": ")[0][7:] for line in (*lines[1:4], *lines[5:7])]
    assert told == [", ".join(filter(None, cells)) for cells in every[["day", "cultivar", "site"]].to_numpy()]
    assert tuple(every.columns) == PLACES
    assert list(every["row"]) == ["4", "8", "2", "12", "2"]


def test_the_demo_has_nothing_to_mend(demo):
    assert all(heap(one) == LOOK for one in demo.problems)
    days = [one.whose.day for one in demo.problems]
    assert days == sorted(days, reverse=True)
    assert all(one.whose.cultivar and one.whose.site for one in demo.problems)
