"""Readings that may be but seldom are."""

from __future__ import annotations

from dashboard.records import read
from tests.records.small import row, tables, write_folder


def many_fruit(sizes: list[str], sugars: list[str] | None = None):
    grids = tables()
    grids["fruit"] = [grids["fruit"][0]]
    del grids["samples"][2:]
    for number, size in enumerate(sizes, 1):
        sugar = sugars[number - 1] if sugars else "12"
        cheeks = [str(38 + number % 3), str(40 + number % 5)]
        grids["fruit"].append(["S1", str(number), f"{float(size) - 1}", f"{float(size) + 1}", *cheeks, sugar])
    return grids


EVEN = [f"{64 + number % 5}" for number in range(24)]  # median 66, half within 1 of it


def test_a_fruit_far_from_its_cultivar_is_flagged_and_loaded(tmp_path):
    records = read(write_folder(tmp_path, many_fruit([*EVEN, "90"])))
    (problem,) = records.problems
    assert (problem.severity, problem.row, problem.value) == ("flag", 26, "90.0 mm")
    assert "far from the other fruit of “Alvane”" in problem.rule
    assert len(records.tables["fruit"]) == 25


def test_fruit_within_five_spreads_are_not_flagged(tmp_path):
    # spread: 1.4826 x 1 mm, taken as at least 1.5 mm; 5 x 1.5 = 7.5
    assert read(write_folder(tmp_path / "within", many_fruit([*EVEN, "73.4"]))).problems == ()
    assert len(read(write_folder(tmp_path / "beyond", many_fruit([*EVEN, "73.6"]))).problems) == 1


def test_few_fruit_are_not_judged(tmp_path):
    assert read(write_folder(tmp_path, many_fruit([*EVEN[:18], "90"]))).problems == ()


def test_sugar_far_from_its_cultivar_is_flagged(tmp_path):
    sugars = [f"{11.5 + number % 3 / 2}" for number in range(24)]
    (problem,) = read(write_folder(tmp_path, many_fruit([*EVEN, "66"], [*sugars, "19"]))).problems
    assert (problem.row, problem.column, problem.value) == (26, "ssc_brix", "19.0 °Brix")


def test_cheeks_more_than_four_pounds_apart_are_flagged(tmp_path):
    for number, (difference, flags) in enumerate(((3.9, 0), (4.0, 0), (4.1, 1))):
        grids = tables()
        grids["fruit"][0][4:6] = ["firmness_1_lbf", "firmness_2_lbf"]
        for cells in grids["fruit"][1:]:
            cells[4:6] = ["10", "10"]
        row(grids["fruit"], 5)[4:6] = ["10", str(10 + difference)]
        problems = read(write_folder(tmp_path / str(number), grids)).problems
        assert [problem.row for problem in problems] == [5] * flags


def test_diameters_more_than_15_per_cent_apart_are_flagged(tmp_path):
    for number, (suture, flags) in enumerate((("69.7", 0), ("69.8", 1))):  # 60 and 69.73: 15 % of 64.86
        grids = tables()
        row(grids["fruit"], 5)[2:4] = ["60", suture]
        problems = read(write_folder(tmp_path / str(number), grids)).problems
        assert [(problem.row, problem.value) for problem in problems] == [(5, "9.8 mm")] * flags


def test_two_cheeks_of_0_are_flagged_and_one_is_not(tmp_path):
    grids = tables()
    row(grids["fruit"], 4)[4:6] = ["0", "0"]
    row(grids["fruit"], 5)[4:6] = ["0", "12"]
    (problem,) = read(write_folder(tmp_path, grids)).problems
    assert (problem.severity, problem.row, problem.value) == ("flag", 4, "0 and 0")
    assert problem.suggestion == "leave both cells empty where nothing was measured"


def test_a_low_above_the_high_and_a_bloom_in_another_year_are_flagged(tmp_path):
    grids = tables()
    row(grids["weather"], 2)[2:] = ["50", "41"]
    row(grids["bloom"], 2)[3] = "2023-04-05"
    records = read(write_folder(tmp_path, grids))
    assert sorted((problem.file, problem.severity) for problem in records.problems) == [
        ("bloom.csv", "flag"),
        ("weather.csv", "flag"),
    ]
    assert len(records.tables["weather"]) == len(records.tables["bloom"]) == 1
