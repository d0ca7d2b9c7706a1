"""Values that may be but seldom are."""

from __future__ import annotations

from dashboard.records import read
from tests.records.small import row, tables, told, write_folder


def many_fruit(sizes: list[str], sugars: list[str] | None = None):
    grids = tables()
    grids["fruit"] = [grids["fruit"][0]]
    for number, size in enumerate(sizes, 1):
        sugar = sugars[number - 1] if sugars else "12"
        grids["fruit"].append(["S1", str(number), size, size, "40", "40", sugar])
    return grids


EVEN = [f"{64 + number % 5}" for number in range(24)]  # median 66, half within 1 of it


def test_a_fruit_far_from_its_cultivar_is_flagged_and_loaded(tmp_path):
    records = read(write_folder(tmp_path, many_fruit([*EVEN, "90"])))
    (problem,) = records.problems
    assert (problem.severity, problem.row, problem.value) == ("flag", 26, "90.0 mm")
    assert "far from the other fruit of Alvane" in problem.rule
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


def dated(days: list[str]):
    grids = tables()
    grids["samples"] = [
        grids["samples"][0],
        *([f"S{n}", "Alvane", "low", day, "1", "", "", "", ""] for n, day in enumerate(days, 1)),
    ]
    del grids["fruit"][1:]
    return grids


def test_a_day_far_from_the_cultivars_own_season_is_flagged(tmp_path):
    usual = ["2023-07-01", "2023-07-08", "2024-06-29", "2024-07-02"]
    records = read(write_folder(tmp_path, dated([*usual, "2024-09-05"])))
    (problem,) = told(records.problems, "date")
    assert (problem.severity, problem.row) == ("flag", 6)
    assert "days after the usual day of Alvane" in problem.rule
    assert len(records.tables["samples"]) == 5


def test_a_day_within_45_of_the_usual_one_is_not(tmp_path):
    usual = ["2023-07-01"] * 4
    assert read(write_folder(tmp_path / "within", dated([*usual, "2023-08-15"]))).problems == ()
    assert len(read(write_folder(tmp_path / "beyond", dated([*usual, "2023-08-16"]))).problems) == 1


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
