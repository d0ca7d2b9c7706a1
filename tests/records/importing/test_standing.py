"""A sample that stands twice in a sheet is one cause; a cell or two that differ are told one by one."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from dashboard.records.declaration import Declaration
from dashboard.records.importing.as_written import Written
from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.pages import Page
from dashboard.records.importing.standing import Standing, pivoted
from dashboard.records.importing.trial import Trial
from tests.records.importing.season import came_in, season
from tests.records.importing.test_twelve_ways import LONG, csv_file, long_rows


@pytest.mark.parametrize(("second", "told"), [(5, 1), (2, 2)])
def test_a_second_set_of_a_sample_is_told_once(second, told):
    cells = np.array([[str(n) for n in range(10)], [str(n + 1) for n in range(10)]], dtype=object)
    ledger = Ledger([Page("week 24.xlsx", "one", cells, np.array([5, 20]))])
    rows = np.array([0] * 10 + [1] * second)
    columns = np.array([*range(10), *range(second)])
    codes = [
        int(ledger.codes(0, np.array([row]), int(column))[0])
        for row, column in zip(rows, columns, strict=True)
    ]
    facts = pd.DataFrame(
        {"name": "home 2026-06-08 Alvane", "fruit": columns + 1, "role": "suture", "value": [float(cells[row, column]) for row, column in zip(rows, columns, strict=True)], "code": codes}
    )  # fmt: skip
    values, _ = pivoted(facts, ["suture"], ["name", "fruit"], True, ledger)
    assert values["suture"].tolist() == list(range(10))
    problems = ledger.problems()
    assert len(problems) == told
    assert ledger.counts()["aside"] == second
    twice = "“home 2026-06-08 Alvane”, which stands twice (row 20)" in problems[0].rule
    assert twice == (told == 1)


def test_what_differs_is_told_as_it_is_written_and_not_in_si(tmp_path):
    first, second = long_rows(season(1)), long_rows(season(1))
    was, second[3][4] = first[3][4], 70.5
    files = [csv_file(tmp_path / f"{name}.csv", LONG, rows) for name, rows in (("a", first), ("b", second))]
    outcome, _ = came_in(files, tmp_path / "trial", {})
    (told,) = [one for one in outcome.problems if one.severity == "error"]
    assert told.value == "70.5"
    assert f"a.csv, E5 has “{was}”)" in told.rule


def test_what_the_trial_has_is_told_as_it_writes_it():
    trial = Trial(
        Path("none"),
        False,
        Declaration(),
        {},
        {"fruit": pd.DataFrame({"sample": [], "fruit": [], "suture_in": []})},
    )
    standing = Standing(pd.DataFrame({"suture_mm": [63.5]}, index=["S1"]), Written("fruit", trial))
    assert standing._stands("suture_mm", 63.5) == "2.5"
    assert standing._stands("cross_mm", 63.5) == "63.5"  # the trial has no such column
    assert Standing(pd.DataFrame())._stands("suture_mm", "x") == "x"
