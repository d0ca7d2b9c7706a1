"""From fruit to sample, against figures worked out by hand and against pandas."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.places import demo_data
from dashboard.records import read
from dashboard.records.summary import fruit_values, sample_summaries
from dashboard.terms.traits import FRUIT_TRAITS, SAMPLE_TRAITS
from tests.records.small import row, tables, write_folder


@pytest.fixture
def records(tmp_path):
    grids = tables()
    # sample S1, three fruit: suture, cross (mm), two cheeks (N), soluble solids
    row(grids["fruit"], 2)[2:] = ["60", "64", "40", "36", "11"]
    row(grids["fruit"], 3)[2:] = ["66", "66", "50", "50", "13"]
    row(grids["fruit"], 4)[2:] = ["70", "", "30", "", ""]
    return read(write_folder(tmp_path, grids))


def test_means_counts_and_sums_of_squares_of_a_sample(records):
    sample = sample_summaries(records).iloc[0]
    # size 62 and 66 (the third lacks a diameter); firmness 38 and 50; sugar 11 and 13
    assert (sample["size"], sample["size_n"], sample["size_ss"]) == (64, 2, 8)
    assert (sample["firmness"], sample["firmness_n"], sample["firmness_ss"]) == (44, 2, 72)
    assert (sample["sugar"], sample["sugar_n"], sample["sugar_ss"]) == (12, 2, 2)
    assert (sample["cheek_difference"], sample["cheek_difference_n"], sample["cheek_difference_ss"]) == (
        2,
        2,
        8,
    )
    assert sample["roundness"] == pytest.approx((60 / 64 + 1) / 2)


def test_what_was_judged_and_where_it_belongs_travels_along(records):
    sample = sample_summaries(records).iloc[0]
    assert (sample["sample"], sample["cultivar"], sample["site"], sample["pick"]) == (
        "S1",
        "Alvane",
        "low",
        1,
    )
    assert (sample["date"], sample["season"], sample["day"]) == (pd.Timestamp(2023, 7, 1), 2023, 182)
    assert (sample["shape"], sample["red"], sample["split_pit"]) == (8, 6.5, 10)
    assert np.isnan(sample["cracked_tip"])


def test_a_sample_without_fruit_stays_with_nothing_measured(tmp_path):
    grids = tables()
    grids["fruit"] = [cells for cells in grids["fruit"] if cells[0] != "S3"]
    sample = sample_summaries(read(write_folder(tmp_path, grids))).iloc[2]
    assert sample["size_n"] == 0
    assert np.isnan(sample["size"])
    assert np.isnan(sample["size_ss"])


def test_a_missing_reading_leaves_what_needs_it_missing(records):
    third = fruit_values(records).iloc[2]
    assert third[list(FRUIT_TRAITS)].isna().all()
    assert (third["cultivar"], third["site"], third["season"]) == ("Alvane", "low", 2023)


def test_southern_samples_belong_to_the_season_they_ripen_in(tmp_path):
    grids = tables()
    for cells in grids["sites"][1:]:
        cells[2] = "-34"
    row(grids["samples"], 2)[3] = "2023-12-20"
    summaries = sample_summaries(read(write_folder(tmp_path, grids)))
    assert summaries["season"].tolist()[0] == 2024
    assert summaries["day"].tolist()[0] == 173  # 31 + 31 + 30 + 31 + 30 + 20


def test_the_columns_are_the_agreed_ones(records):
    summaries = sample_summaries(records)
    measured = [name for trait in FRUIT_TRAITS for name in (trait, f"{trait}_n", f"{trait}_ss")]
    assert list(summaries) == [
        "sample",
        "cultivar",
        "site",
        "date",
        "season",
        "day",
        "slack",
        "pick",
        "crop",
        *measured,
        *SAMPLE_TRAITS,
    ]
    assert list(fruit_values(records)) == ["sample", "cultivar", "site", "season", *FRUIT_TRAITS]
    assert summaries["season"].dtype.kind == "i"
    assert summaries.index.tolist() == list(range(len(summaries)))


def test_pandas_comes_to_the_same_for_every_sample_of_the_demo_records():
    records = read(demo_data())
    summaries = sample_summaries(records).set_index("sample")
    fruit = fruit_values(records)
    for trait in FRUIT_TRAITS:
        grouped = fruit.groupby("sample")[trait]
        there = grouped.count().reindex(summaries.index, fill_value=0)
        np.testing.assert_array_equal(summaries[f"{trait}_n"], there)
        np.testing.assert_allclose(summaries[trait], grouped.mean().reindex(summaries.index), rtol=1e-12)
        expected = (grouped.var(ddof=0) * grouped.count()).reindex(summaries.index)
        np.testing.assert_allclose(summaries[f"{trait}_ss"], expected, rtol=1e-6, atol=1e-9)
