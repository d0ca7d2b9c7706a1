"""The table of readings past an end of their instrument: what is a limit, of which fruit, and what cannot be one."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.records import read
from dashboard.records.beyond import limits
from dashboard.records.summary import sample_summaries
from dashboard.terms.units import N_PER_LBF
from tests.records.small import DECLARED, tables, told, write_folder

HEAD = ["sample", "fruit", "reading", "side", "firmness_lbf", "ssc_brix"]


def with_limits(*rows: list[str], empty: tuple[tuple[str, str, int], ...] = ()):
    """The small records with these limits; ``empty``: sample, fruit and column of the readings that are not there."""
    grids = tables() | {"beyond": [HEAD, *rows]}
    for sample, fruit, column in empty:
        next(cells for cells in grids["fruit"] if cells[:2] == [sample, fruit])[column] = ""
    return grids


def test_a_limit_of_sugar_moves_the_mean_of_its_sample_and_no_other(tmp_path):
    plain = sample_summaries(read(write_folder(tmp_path / "a", with_limits(empty=(("S1", "3", 6),)))))
    records = read(write_folder(tmp_path / "b", with_limits(["S1", "3", "ssc", "above", "", "14"], empty=(("S1", "3", 6),))))  # fmt: skip
    assert not records.problems
    found = sample_summaries(records)
    assert found["sugar"][0] > plain["sugar"][0]
    assert 2 < found["sugar_n"][0] <= 3
    assert found["sugar"].tolist()[1:] == plain["sugar"].tolist()[1:]
    assert found["firmness"].tolist() == plain["firmness"].tolist()


def test_a_cheek_past_the_end_needs_the_other_and_both_the_same_side():
    fruit = pd.DataFrame(
        {"sample": ["S"] * 4, "fruit": [1.0, 2, 3, 4], "firmness_1_n": [np.nan, np.nan, np.nan, np.nan], "firmness_2_n": [50.0, np.nan, np.nan, np.nan]}
    )  # fmt: skip
    rows = [(1, "firmness 1", "above"), (2, "firmness 1", "above"), (2, "firmness 2", "above"), (3, "firmness 1", "above"), (3, "firmness 2", "below"), (4, "firmness 2", "above")]  # fmt: skip
    beyond = pd.DataFrame(
        [("S", float(number), reading, side, 60.0, np.nan) for number, reading, side in rows],
        columns=["sample", "fruit", "reading", "side", "firmness_n", "ssc_brix"],
    )
    found = limits(beyond, fruit, "firmness")
    assert found["end"].tolist() == [55.0, 60.0]
    assert found["above"].tolist() == [True, True]
    assert limits(beyond, fruit, "sugar").empty
    assert limits(beyond, fruit, "size").empty


@pytest.mark.parametrize(
    ("cells", "column", "said"),
    [
        (["S1", "1", "ssc", "above", "", "14"], "reading", "stands beside a reading of the same fruit"),
        (["S1", "1", "ssc", "above", "", ""], "reading", "says no end of the instrument"),
        (["S1", "1", "ssc", "above", "13", "14"], "firmness_lbf", "is an end of another reading than ssc"),
        (["S1", "1", "size", "above", "", "14"], "reading", "firmness 1, firmness 2 or ssc"),
        (["S9", "1", "ssc", "above", "", "14"], "sample", "S9"),
        (["S1", "3", "ssc", "more", "", "14"], "side", "did you mean above? The words are below and above"),
        (["S1", "3", "ssc", "", "", "14"], "reading", "on which side of the end it lies"),
    ],
)
def test_what_is_no_limit_is_set_aside_with_the_reason(tmp_path, cells, column, said):
    records = read(write_folder(tmp_path, with_limits(cells)))
    assert records.tables["beyond"].empty
    assert any(said in problem.sentence for problem in told(records.problems, column, "error"))
    account = records.accounts["beyond"]
    assert account.filled == account.read + account.aside
    assert account.aside >= 1


def test_the_end_is_brought_to_20_degrees_as_readings_are(tmp_path):
    grids = with_limits(["S1", "3", "ssc", "above", "", "14"], empty=(("S1", "3", 6),))
    grids["samples"] = [[*cells, value] for cells, value in zip(grids["samples"], ["juice_temp_c", "30", "30", "30", "30"], strict=True)]  # fmt: skip
    records = read(write_folder(tmp_path, grids, DECLARED | {"temperature_compensated": False, "refractometer_zero": "at 20 C"}))  # fmt: skip
    assert records.tables["beyond"]["ssc_brix"][0] == pytest.approx(14.8, abs=0.1)


def test_pounds_become_newtons(tmp_path):
    records = read(write_folder(tmp_path, with_limits(["S1", "1", "firmness 1", "above", "13", ""], empty=(("S1", "1", 4),))))  # fmt: skip
    assert records.tables["beyond"]["firmness_n"][0] == pytest.approx(13 * N_PER_LBF)
