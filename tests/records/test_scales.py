"""Ratings on another scale than the declared one: those that happen to lie within it must not pass for ratings of it."""

from __future__ import annotations

import pytest

from dashboard.records import read
from tests.records.small import write_folder, write_workbook
from tests.records.trial import trial

DECLARED = {"title": "Trial", "invented": True}
SHAPE = 5  # where its ratings stand in a row of samples


def rated(*cells: str, rows: int = 24) -> dict:
    """The trial's first samples, with these ratings of shape over and over."""
    grids = trial()
    grids["samples"] = grids["samples"][: rows + 1]
    kept = {row[0] for row in grids["samples"]}
    grids["fruit"] = [row for row in grids["fruit"] if row[0] in kept]
    for number, row in enumerate(grids["samples"][1:]):
        row[SHAPE] = cells[number % len(cells)]
    return grids


def errors(records) -> list:
    return [problem for problem in records.problems if problem.severity == "error"]


def balanced(records) -> bool:
    accounts = records.accounts.values()
    return all(one.filled == one.read + one.aside + one.unused for one in accounts)


def test_a_column_on_another_scale_is_set_aside_whole_and_told_once(tmp_path):
    records = read(write_folder(tmp_path, rated("5", "8", "10", "30", "60", "90"), DECLARED))
    (problem,) = errors(records)
    assert (problem.row, problem.column) == (1, "shape")
    assert problem.rule == (
        "12 of 24 ratings lie outside 0 to 10, the scale declared, so another was used, likely 0 to 100; "
        "the whole column is set aside"
    )
    assert problem.suggestion == (
        "declare the scale that was used, shape_high 100 if it was 0 to 100, under ratings in datapackage.json; "
        "where only some rows are on it, write those on the scale declared"
    )
    assert records.tables["samples"]["shape"].isna().all()
    assert records.tables["samples"]["fuzz"].notna().all()
    assert len(records.set_aside) == records.accounts["samples"].aside == 24
    assert balanced(records)


def test_of_a_workbook_the_sheet_to_declare_it_in_is_named(tmp_path):
    (problem,) = errors(read(write_workbook(tmp_path / "t.xlsx", rated("5", "60"), DECLARED)))
    assert "shape_high 100 if it was 0 to 100, in the sheet about" in problem.suggestion


@pytest.mark.alike(3)
@pytest.mark.parametrize(
    ("scale", "cells", "declare"),
    [
        ({}, ("1", "14", "18"), "shape_high 20"),
        ({"low": 1, "high": 5}, ("1", "5", "7", "9"), "shape_high 9"),
        ({"low": 1, "high": 5, "best": 1}, ("1", "5", "7", "9"), "shape_high 9"),
        ({"low": 1, "high": 9}, ("0", "5", "10"), "shape_low 0 and shape_high 10"),
        ({"low": 1, "high": 5, "best": 5}, ("0", "3", "4"), "shape_low 0"),
        ({"low": 1, "high": 5, "best": 1}, ("0", "3", "4"), "shape_low 0 and shape_best 0"),
    ],
)
def test_the_likely_scale_is_named_with_what_to_declare(tmp_path, scale, cells, declare):
    declared = DECLARED | {"ratings": {"shape": scale}}
    (problem,) = errors(read(write_folder(tmp_path, rated(*cells), declared)))
    assert f"declare the scale that was used, {declare} if it was" in problem.suggestion


@pytest.mark.parametrize("cells", [("5", "-3"), ("5", "1000")])
def test_where_no_usual_scale_holds_them_none_is_guessed(tmp_path, cells):
    (problem,) = errors(read(write_folder(tmp_path, rated(*cells), DECLARED)))
    assert "likely" not in problem.rule
    assert "declare the scale that was used with shape_low and shape_high" in problem.suggestion


def test_declared_as_told_the_ratings_load(tmp_path):
    declared = DECLARED | {"ratings": {"shape": {"high": 100}}}
    records = read(write_folder(tmp_path, rated("5", "60"), declared))
    assert errors(records) == []
    assert set(records.tables["samples"]["shape"]) == {0.5, 6.0}


@pytest.mark.parametrize(("outside", "rows"), [(2, 8), (3, 31)], ids=["fewer than three", "under a tenth"])
def test_a_few_outside_are_slips_and_set_aside_alone(tmp_path, outside, rows):
    grids = rated("5", rows=rows)
    for row in grids["samples"][1 : outside + 1]:
        row[SHAPE] = "55"
    records = read(write_folder(tmp_path, grids, DECLARED))
    assert [problem.rule for problem in errors(records)] == ["is outside 0 to 10"] * outside
    assert records.tables["samples"]["shape"].notna().sum() == rows - outside


def test_empty_cells_are_no_ratings(tmp_path):
    grids = rated("", rows=40)
    for number, row in enumerate(grids["samples"][1:13]):
        row[SHAPE] = "70" if number < 3 else "7"
    records = read(write_folder(tmp_path, grids, DECLARED))
    assert "3 of 12 ratings lie outside" in errors(records)[0].rule
    assert balanced(records)
