"""99, 999 or -9 that stand again and again far from all figures are asked about, as 0 is; a figure that may be one is not."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.records.importing.figures import missing_codes
from tests.records.importing.season import came_in, held, season
from tests.records.importing.test_twelve_ways import LONG, csv_file, long_rows


@pytest.mark.alike(3)
@pytest.mark.parametrize(
    ("code", "answer", "left"), [("99", "nothing", 48), ("-9", "nothing", 48), ("99", "a reading", 48)]
)
def test_a_code_is_asked_about_and_left_out(tmp_path, code, answer, left):
    rows = long_rows(season(1))
    for number in (3, 17):
        rows[number][8] = code
    outcome, replies = came_in([csv_file(tmp_path / "a.csv", LONG, rows)], tmp_path / "trial", {code: answer})
    (asked,) = [one for one in replies.asked if one.path[-2] == "words"]
    assert (asked.asks, asked.line[2]) == (
        f"is {code} a reading, or was nothing measured?",
        f"{code} in 2 cells",
    )
    brix = np.concatenate([[fruit[4] for fruit in one.values()] for one in held(tmp_path / "trial").values()]) if answer == "nothing" else ()  # fmt: skip
    assert outcome.counts["aside"] == (0 if answer == "nothing" else 2)  # 99 °Brix cannot be
    assert not len(brix) or np.isfinite(brix).sum() == left


def test_one_alone_is_no_code(tmp_path):
    rows = long_rows(season(1))
    rows[3][8] = "99"
    _, replies = came_in([csv_file(tmp_path / "a.csv", LONG, rows)], tmp_path / "trial", {})
    assert not [one for one in replies.asked if one.path[-2] == "words"]


@given(st.lists(st.integers(80, 98), min_size=3))
def test_near_others_it_is_a_figure(others):
    assert missing_codes([*map(str, others), "99", "88"]) == []
    assert missing_codes([*map(str, others), "999", "-9", "-99"]) == (["999", "-9", "-99"] if len(set(others) - {88}) > 2 else [])  # fmt: skip


@pytest.mark.parametrize("cells", [["-3", "-2", "1", "2", "-9"], ["1", "2", "99"], ["a", "b", "c", "99"]])
def test_where_others_are_below_zero_or_few_nothing_is_said(cells):
    assert missing_codes(cells) == []
