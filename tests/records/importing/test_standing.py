"""A sample that stands twice in a sheet is one cause; a cell or two that differ are told one by one."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.pages import Page
from dashboard.records.importing.standing import pivoted


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
