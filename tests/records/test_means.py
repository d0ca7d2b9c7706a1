"""Means in the place of fruit: the same figures as the fruit themselves give, and nothing that cannot be weighed."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.records import read
from dashboard.records.report import check
from dashboard.records.summary import fruit_counts, fruit_values, sample_summaries
from dashboard.terms.units import N_PER_LBF
from tests.records.small import DECLARED, row, tables, told, write_folder
from tests.records.trial import trial

HEAD = ["sample", "n", "size_mm", "size_sd_mm", "firmness_lbf", "firmness_sd_lbf", "ssc_brix", "ssc_sd_brix"]


def with_means(*rows: list[str], singles: bool = False):
    """The small records, S1 without its fruit unless ``singles``, and these means."""
    grids = tables() | {"means": [HEAD, *rows]}
    if not singles:
        grids["fruit"] = [cells for cells in grids["fruit"] if cells[0] != "S1"]
    return grids


def test_a_mean_and_its_deviation_carry_the_sum_of_squares(tmp_path):
    records = read(write_folder(tmp_path, with_means(["S1", "10", "64", "3", "9", "2", "11.5", "0.8"])))
    sample = sample_summaries(records).iloc[0]
    # (n - 1) s²: 9 × 9, 9 × (2 lbf)², 9 × 0.64
    assert (sample["size"], sample["size_n"], sample["size_ss"]) == (64, 10, 81)
    assert sample["firmness"] == pytest.approx(9 * N_PER_LBF)
    assert sample["firmness_ss"] == pytest.approx(9 * (2 * N_PER_LBF) ** 2)
    assert (sample["sugar"], sample["sugar_n"]) == (11.5, 10)
    assert sample["sugar_ss"] == pytest.approx(9 * 0.64)
    assert sample["roundness_n"] == 0
    assert not records.problems
    assert fruit_counts(sample_summaries(records), fruit_values(records)).tolist() == [10, 3, 3, 3]


def test_what_the_model_reads_is_the_same_whether_fruit_or_their_means_were_kept(tmp_path):
    """It reads nothing else of the fruit (docs/methods.md, exact from sample means)."""
    grids = trial()
    whole = sample_summaries(read(write_folder(tmp_path / "fruit", grids)))
    replaced = set(whole["sample"][::2])
    by_mean = [[*HEAD[:4], "firmness_n", "firmness_sd_n", *HEAD[6:]]]
    for _, one in whole[whole["sample"].isin(replaced)].iterrows():
        by_mean.append([one["sample"], "10"])
        for trait in ("size", "firmness", "sugar"):
            by_mean[-1] += [repr(one[trait]), repr(float(np.sqrt(one[f"{trait}_ss"] / 9)))]
    grids["fruit"] = [cells for cells in grids["fruit"] if cells[0] not in replaced]
    there = sample_summaries(read(write_folder(tmp_path / "means", grids | {"means": by_mean})))
    columns = [f"{trait}{part}" for trait in ("size", "firmness", "sugar") for part in ("", "_n", "_ss")]
    pd.testing.assert_frame_equal(there[columns], whole[columns], rtol=1e-9)


@pytest.mark.parametrize(
    ("cells", "column", "said"),
    [
        (["S1", "10", "64", "", "", "", "", ""], "size_mm", "without its standard deviation"),
        (["S1", "10", "", "3", "", "", "", ""], "size_sd_mm", "without its mean"),
        (["S1", "", "64", "3", "", "", "", ""], "n", "has no n"),
        (["S9", "10", "64", "3", "", "", "", ""], "sample", "S9"),
        (["S1", "10", "640", "3", "", "", "", ""], "size_mm", "is outside 15 to 150 mm"),
    ],
)
def test_what_cannot_be_weighed_is_set_aside_with_the_reason(tmp_path, cells, column, said):
    records = read(write_folder(tmp_path, with_means(cells)))
    assert any(said in problem.sentence for problem in told(records.problems, column, "error"))
    assert sample_summaries(records)["size_n"].tolist() == [0, 3, 3, 3]
    account = records.accounts["means"]
    assert account.filled == account.read + account.aside
    assert account.aside >= 1


def test_one_fruit_needs_no_deviation(tmp_path):
    records = read(write_folder(tmp_path, with_means(["S1", "1", "64", "", "", "", "", ""])))
    sample = sample_summaries(records).iloc[0]
    assert (sample["size"], sample["size_n"], sample["size_ss"]) == (64, 1, 0)


def test_a_mean_beside_single_fruit_is_set_aside_and_told(tmp_path):
    grids = with_means(["S1", "10", "64", "3", "9", "2", "", ""], singles=True)
    whole = sample_summaries(read(write_folder(tmp_path / "before", tables())))
    folder = write_folder(tmp_path / "after", grids)
    records = read(folder)
    pd.testing.assert_frame_equal(sample_summaries(records), whole)
    assert len(told(records.problems, "size_mm", "error")) == 1
    assert check(folder)[1] == 1


def test_firmness_means_of_another_tip_are_left_out(tmp_path):
    grids = with_means(["S1", "10", "64", "3", "9", "2", "11.5", "0.8"])
    records = read(write_folder(tmp_path, grids, DECLARED | {"tip_mm": 11}))
    assert sample_summaries(records)["firmness_n"].tolist() == [0, 0, 0, 0]
    assert sample_summaries(records)["size_n"].tolist() == [10, 3, 3, 3]


def test_records_of_means_alone_are_read(tmp_path):
    grids = with_means(*([f"S{number}", "10", "64", "3", "9", "2", "11.5", "0.8"] for number in range(1, 5)))
    grids["fruit"] = grids["fruit"][:1]
    records = read(write_folder(tmp_path, grids))
    assert sample_summaries(records)["size_n"].tolist() == [10, 10, 10, 10]
    assert row(grids["samples"], 2)[0] == "S1"
