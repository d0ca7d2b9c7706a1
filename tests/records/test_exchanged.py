"""Two figures of a row in each other's place: the hint says so, and proposes no other figure."""

from __future__ import annotations

import csv

import numpy as np
import pytest

from dashboard.records import read
from dashboard.records.exchanged import Place, hint, most_of, once
from dashboard.records.problems import Problem
from dashboard.records.schema import TABLES
from dashboard.terms.units import UNITS
from tests.records.importing.season import came_in
from tests.records.small import tables, write_folder

FRUIT = TABLES["fruit"].by_name
SCALED = ("write", "slipped", "would be usual;", "it may be in")


def test_what_is_usual_is_judged_in_the_unit_that_is_written():
    brix, suture = (
        Place("Brix", FRUIT["ssc_brix"], UNITS["brix"]),
        Place("Seam", FRUIT["suture_mm"], UNITS["cm"]),
    )
    rating = Place("Red", TABLES["samples"].by_name["red"], None, (0, 10))
    assert suture.usual(np.array([6.5, 65, np.nan])).tolist() == [True, False, False]
    assert brix.usual(np.array([12.0, 65])).tolist() == [True, False]
    assert rating.usual(np.array([10.5, 9])).tolist() == [False, True]
    assert not Place("Photo", TABLES["samples"].by_name["photo"]).usual(np.array([1.0])).any()
    assert most_of(np.array([1.0, 2, 3, np.nan, 4])) is None
    assert most_of(np.arange(1.0, 101)) == pytest.approx((10.9 / 1.15, 90.1 * 1.15))
    assert hint([]) == ""
    assert hint([brix]) == "does it stand exchanged with “Brix”? Both would be usual the other way round"
    assert (
        hint([brix, suture], near=True)
        == "look whether it was misread, or stands exchanged with “Brix” or “Seam”"
    )


def test_a_diameter_and_sugar_of_one_row_in_our_own_table(tmp_path):
    grids = tables()
    row = grids["fruit"][5]
    row[2], row[6] = row[6], row[2]
    found = {one.column: one for one in read(write_folder(tmp_path, grids)).problems if one.row == 6}
    assert (
        found["suture_mm"].suggestion
        == "does it stand exchanged with “ssc_brix”? Both would be usual the other way round"
    )
    assert (
        found["ssc_brix"].suggestion
        == "does it stand exchanged with “suture_mm”? Both would be usual the other way round"
    )


def test_a_slipped_point_is_told_as_ever_where_no_exchange_would_mend_it(tmp_path):
    grids = tables()
    grids["fruit"][5][2] = "6.25"
    (found,) = [
        one
        for one in read(write_folder(tmp_path, grids)).problems
        if one.row == 6 and one.column == "suture_mm"
    ]
    assert "exchanged" not in found.suggestion
    assert "62.5" in found.suggestion


ROW = {
    "Variety": "Alvane",
    "Date": "7/5/2016",
    "Fruit": 1,
    "Seam": 6.2,
    "Cross": 6.4,
    "P1": 9.5,
    "P2": 8.5,
    "Brix": 12.1,
}
ANSWERS = {
    ("Variety", "is"): "cultivar", ("Date", "is"): "date", ("Fruit", "is"): "fruit number", ("Seam", "is"): "suture", ("Cross", "is"): "cross", ("P1", "is"): "firmness 1",
    ("P2", "is"): "firmness 2", ("Brix", "is"): "ssc", ("Seam", "unit"): "cm", ("Cross", "unit"): "cm", ("P1", "unit"): "lbf", ("P2", "unit"): "lbf",
    "order": "month/day", "site": "Low",
}  # fmt: skip


@pytest.mark.parametrize(("one", "other", "least"), [("Seam", "Brix", 1), ("Cross", "Brix", 1)])
def test_two_cells_of_somebody_s_row(tmp_path, one, other, least):
    rows = [
        ROW | {"Fruit": number, "Seam": 5.8 + number / 10, "Cross": 6 + number / 10, "Brix": 11 + number / 5}
        for number in range(1, 11)
    ]
    rows[3] |= {one: rows[3][other], other: rows[3][one]}
    path = tmp_path / "week.csv"
    with path.open("w", newline="") as file:
        csv.writer(file).writerows([list(ROW), *(list(row.values()) for row in rows)])
    outcome, _ = came_in([path], tmp_path / "trial", ANSWERS)
    told = [problem for problem in outcome.problems if problem.row == 5]
    assert len(told) >= least
    for problem in told:
        assert "exchanged with" in problem.suggestion
        assert not any(word in problem.suggestion for word in SCALED)


def test_two_cells_of_one_fruit_side_by_side_and_a_fraction_among_them(tmp_path):
    numbers = range(1, 6)
    heads = ["Variety", "Date", *(f"Seam {n}" for n in numbers), *(f"Brix {n}" for n in numbers)]
    rows = [
        ["Alvane", "7/5/2016", *["2 1/2"] * 5, *[11.5] * 5],
        ["Brintel", "7/5/2016", *["2 3/8"] * 5, *[12.5] * 5],
    ]
    rows[0][4], rows[0][9] = rows[0][9], rows[0][4]
    path = tmp_path / "week.csv"
    with path.open("w", newline="") as file:
        csv.writer(file).writerows([heads, *rows])
    said = ANSWERS | {("Seam 1–5", "is"): "suture", ("Seam 1–5", "unit"): "in", ("Brix 1–5", "is"): "ssc"}
    outcome, _ = came_in([path], tmp_path / "trial", said)
    (told,) = [problem for problem in outcome.problems if problem.column == "E"]
    assert (
        told.suggestion == "does it stand exchanged with “Brix 1–5”? Both would be usual the other way round"
    )


def test_of_a_pair_one_is_told():
    def odd(row: int, column: str, suggestion: str) -> Problem:
        return Problem("error", "a.csv", row=row, column=column, suggestion=suggestion)

    said = hint([Place("Brix", FRUIT["ssc_brix"])]), hint([Place("Seam", FRUIT["suture_mm"])])
    every = [
        odd(2, "E", said[0]),
        odd(3, "E", said[0]),
        odd(2, "I", said[1]),
        odd(2, "G", "look whether it was misread"),
    ]
    assert once(every) == [every[0], every[1], every[3]]
