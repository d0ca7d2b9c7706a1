"""Many places with one cause are one line."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dashboard.records.causes import FEW, gathered, in_short
from dashboard.records.problems import Problem, Whose
from dashboard.records.report import check
from tests.records.small import write_folder
from tests.records.trial import trial


def comma(row: int, column: str = "ssc_brix", file: str = "fruit.csv") -> Problem:
    return Problem("error", file, "", row, column, f"{row},5", "has a decimal comma", f"write {row}.5")


def test_the_first_place_stands_for_all_and_says_where_the_others_are():
    (one,) = gathered([comma(row) for row in range(2, 402)])
    assert one.sentence == (
        "fruit.csv, row 2, ssc_brix: “2,5” has a decimal comma; first of 400 "
        "(also rows 3, 4, 5, 6, 7, 8 and 393 more); write 2.5."
    )


def test_one_cause_in_several_columns_is_one_line_that_names_them():
    (one,) = gathered([comma(row, column) for row in (2, 3) for column in ("suture_mm", "cross_mm")])
    assert one.likewise == "first of 4 (suture_mm and cross_mm; also rows 2 and 3)"


def test_flags_of_the_newest_day_are_not_lost_among_the_older_ones():
    def on(row: int, day: str) -> Problem:
        return Problem(
            "flag", "fruit.csv", "", row, "ssc_brix", "25", "is high", "look", whose=Whose(day=day)
        )

    found = gathered(
        [on(90, "2024-07-09"), on(91, "2024-07-09"), *(on(row, "2024-07-02") for row in range(2, 30))]
    )
    assert [(one.row, bool(one.likewise)) for one in found] == [(90, False), (91, False), (2, True)]


def test_few_are_told_one_by_one():
    few = [comma(row) for row in range(2, 2 + FEW)]
    assert gathered(few) == few


@pytest.mark.parametrize(
    "other",
    [
        comma(9, file="other.csv"),
        Problem("flag", "fruit.csv", "", 9, "ssc_brix", "9,5", "has a decimal comma", "write 9.5"),
        Problem("error", "fruit.csv", "", 9, "ssc_brix", "x", "is not a number", "write 9.5"),
        Problem(
            "error", "fruit.csv", "", 9, "ssc_brix", "9,5", "has a decimal comma", "did you mean “Alvane”?"
        ),
    ],
    ids=["another file", "another severity", "another rule", "another suggestion"],
)
def test_another_cause_is_another_line(other):
    assert len(gathered([*(comma(row) for row in range(2, 9)), other])) == 2


def test_names_suggested_are_never_put_together():
    problems = [Problem("error", "samples.csv", "", row, "cultivar", f"Alvan{row}", "is not in cultivars", f"did you mean “K {row}”?") for row in range(2, 12)]  # fmt: skip
    assert gathered(problems) == problems


def test_in_short_two_of_a_cause_are_one_line_without_their_places():
    told = in_short([comma(5), comma(6), replace(comma(7), rule="is empty")])
    assert [one.likewise for one in told] == ["first of 2", ""]


def test_the_order_stays():
    first, last = Problem("error", "a.csv", rule="is odd"), Problem("error", "z.csv", rule="is odd")
    told = gathered([first, *(comma(row) for row in range(2, 9)), last])
    assert [problem.file for problem in told] == ["a.csv", "fruit.csv", "z.csv"]


def test_decimal_commas_throughout_are_one_line_and_every_cell_is_accounted_for(tmp_path):
    grids = trial()
    for cells in grids["fruit"][1:]:
        cells[2:] = [cell.replace(".", ",") for cell in cells[2:]]
    lines, code = check(write_folder(tmp_path, grids, {"title": "Trial"}, delimiter=";"))
    *told, _fine, rows, last = [line for line in lines.splitlines() if not line.startswith(("flag", "to "))]
    assert len(told) == 1
    assert "first of 7,200" in told[0]
    assert "1,440 of 1,440 fruit" in rows
    assert "7,200 set aside" in last
    assert code == 1
