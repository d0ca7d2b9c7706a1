"""Fruit that were copied, from one column to the other or from one sample to another, are told; what agrees by chance is not."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.records.causes import gathered
from dashboard.records.copied import COLUMNS, _pairs, suspect_copies
from dashboard.records.findings import Findings
from dashboard.records.sheets import sheet_of
from tests.records.test_suspicions import problems
from tests.records.trial import of_sample, trial


@pytest.mark.parametrize("pair", [(2, 3), (4, 5)])
def test_one_column_copied_into_the_other_is_flagged(tmp_path, pair):
    grids = trial()
    for cells in grids["fruit"][395:403]:  # the last of one sample and the first of the next
        cells[pair[1]] = cells[pair[0]]
    (problem,) = problems(tmp_path, grids)
    assert (problem.severity, problem.row, problem.value) == ("flag", 396, "S040")
    assert (
        problem.rule == "begins 8 fruit on end, up to fruit 2 of “S041”, with the same value in both columns"
    )


def test_a_column_that_is_a_copy_throughout_is_one_flag(tmp_path):
    grids = trial()
    for cells in grids["fruit"][1:]:
        cells[3] = cells[2]
    (problem,) = problems(tmp_path, grids)
    assert "begins 1440 fruit on end" in problem.rule


@pytest.mark.alike(3)
@pytest.mark.parametrize("column", [2, 3, 4, 5, 6])
def test_a_column_copied_from_another_sample_is_flagged(tmp_path, column):
    grids = trial()
    for cells, other in zip(of_sample(grids, "S041"), of_sample(grids, "S040"), strict=True):
        cells[column] = other[column]
    (problem,) = [p for p in problems(tmp_path, grids) if "in the same order" in p.rule]
    assert (problem.severity, problem.row, problem.value) == ("flag", 402, "S041")
    assert problem.rule == "has the values of another sample for all its 10 fruit, in the same order"
    assert problem.suggestion.startswith("look whether “S041” was copied from “S040” (")


@pytest.mark.parametrize("count", [3, 6, 10])
def test_fruit_copied_from_another_sample_are_one_flag_that_names_both(tmp_path, count):
    grids = trial()
    for one, other in (("S041", "S040"), ("S070", "S012"), ("S090", "S012"), ("S095", "S012"), ("S096", "S012")):  # fmt: skip
        for cells, copied in list(zip(of_sample(grids, one), of_sample(grids, other), strict=True))[:count]:
            cells[2:] = copied[2:]
    found = [p for p in problems(tmp_path, grids) if "another sample" in p.rule]
    named = {p.value: p.suggestion.split("“")[2].split("”")[0] for p in found}
    assert named == {"S041": "S040", "S070": "S012", "S090": "S012", "S095": "S012", "S096": "S012"}
    assert {p.rule for p in found} == {f"has all figures of another sample in {count} of its 10 fruit"}
    assert len(gathered(found)) == 5  # more than are told one by one elsewhere
    told = next(p for p in found if p.value == "S041")
    (first,) = [cells for cells in grids["samples"] if cells[0] == "S040"]
    assert (told.row, told.column) == (402, "")
    assert (
        told.suggestion
        == f"look whether “S041” was copied from “S040” ({first[3]}, {first[1]}, {first[2]}, fruit.csv, row 392)"
    )


def test_fruit_that_agree_by_chance_in_coarse_figures_are_not_flagged():
    chance = np.random.default_rng(0)
    samples = pd.DataFrame({"sample": [f"S{one}" for one in range(400)], "cultivar": "A", "site": "low", "date": pd.Timestamp(2024, 7, 1)})  # fmt: skip
    fruit = pd.DataFrame(
        {"sample": np.repeat(samples["sample"], 10).array, "fruit": np.tile(np.arange(1, 11), 400)}
    )
    for column, spread in zip(COLUMNS, (1.2, 1.2, 1.5, 1.5, 0.7), strict=True):
        fruit[column] = np.round(chance.normal(60, spread, 4000))
    sheet = sheet_of("fruit", "fruit.csv", "", [list(fruit)], [1])
    suspect_copies(fruit, samples, none := Findings(sheet))
    assert not none.problems
    pairs = _pairs(pd.factorize(pd.MultiIndex.from_frame(fruit[list(COLUMNS)]))[0], np.repeat(np.arange(400), 10))  # fmt: skip
    assert (pairs[1] >= 3).any()  # three are no sign here
    fruit.loc[1000:1009, list(COLUMNS)] = fruit.loc[10:19, list(COLUMNS)].to_numpy()
    suspect_copies(fruit, samples, one := Findings(sheet))
    assert [p.rule for p in one.problems] == ["has all figures of another sample in 10 of its 10 fruit"]


def test_fruit_with_fewer_figures_do_not_hide_a_copy(tmp_path):
    grids = trial()
    for cells in grids["fruit"][1:]:
        if cells[0] > "S050":  # sugar and one cheek alone are often the same
            cells[2:6] = "", "", f"{round(float(cells[4])):d}", ""
    for cells, copied in list(zip(of_sample(grids, "S041"), of_sample(grids, "S040"), strict=True))[:5]:
        cells[2:] = copied[2:]
    (problem,) = [p for p in problems(tmp_path, grids) if "another sample" in p.rule]
    assert problem.value == "S041"


def test_coarse_readings_that_agree_by_chance_are_not_flagged(tmp_path):
    grids = trial()
    for cells in grids["fruit"][1:]:
        cells[4] = cells[5] = "40"
        cells[6] = f"{round(float(cells[6])):d}"
    grids["fruit"][1][5] = "41"
    assert [p for p in problems(tmp_path, grids) if "in the same order" in p.rule] == []
