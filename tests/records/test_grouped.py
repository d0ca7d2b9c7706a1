"""The same figures by one GROUP BY as by reading every row, or one sentence."""

from __future__ import annotations

import shutil
import sys

import numpy as np
import pandas as pd
import pytest

from dashboard.answers.catalogue import Catalogue
from dashboard.estimates import shapes_of, worths
from dashboard.places import demo_data
from dashboard.records import read
from dashboard.records.declaration import Declaration
from dashboard.records.grouped import grouped
from dashboard.records.summary import sample_summaries
from dashboard.terms.traits import FRUIT_TRAITS
from dashboard.terms.units import MM_PER_INCH
from tests.benchmarks import many_fruit
from tests.records.small import row, tables, write_folder

COLUMNS = [f"{trait}{part}" for trait in FRUIT_TRAITS for part in ("", "_n", "_ss")]


def both(folder) -> tuple[pd.DataFrame, pd.DataFrame]:
    records = read(folder)
    whole = sample_summaries(records)
    return grouped(folder / "fruit.csv", whole["sample"], records.declaration), whole[COLUMNS]


@pytest.mark.slow
def test_the_demo_s_summaries_are_the_same_and_so_is_the_fit(demo: Catalogue):
    there, whole = both(demo_data())
    pd.testing.assert_frame_equal(there, whole, rtol=1e-9, atol=1e-9, check_exact=False)
    checks = tuple(demo.cultivars.index[demo.cultivars["check"]])
    shapes = shapes_of(read(demo_data()).tables["cultivars"])
    fit = worths(demo.summaries.assign(**there), checks, shapes=shapes)
    for trait in FRUIT_TRAITS:
        expected = demo.worth[trait].values.select_dtypes("number")
        np.testing.assert_allclose(fit[trait].values[expected.columns], expected, rtol=1e-6, atol=1e-6)


def test_gaps_units_and_a_sample_without_fruit_are_as_when_every_row_is_read(tmp_path):
    grids = tables()
    head = row(grids["fruit"], 1)
    head[2] = "Suture (in)"
    for cells in grids["fruit"][1:]:
        cells[2] = f"{float(cells[2]) / MM_PER_INCH:.4f}"
    row(grids["fruit"], 2)[3:5] = ["", "–"]
    row(grids["fruit"], 3)[2:] = ["NA", "62", "40.", "+.5e1", " 11.5 "]
    grids["fruit"] = [cells for cells in grids["fruit"] if cells[0] != "S3"]
    for delimiter in (",", ";", "\t"):
        there, whole = both(write_folder(tmp_path / f"by{ord(delimiter)}", grids, delimiter=delimiter))
        pd.testing.assert_frame_equal(there, whole, rtol=1e-9, atol=1e-9, check_exact=False)
        assert there["size_n"].tolist() == [1, 3, 0, 3]


def test_high_numbers_of_fruit_are_told_apart_too(tmp_path):
    grids = tables()
    row(grids["fruit"], 3)[1], row(grids["fruit"], 4)[1] = "300", "301"
    there, whole = both(write_folder(tmp_path / "apart", grids))
    pd.testing.assert_frame_equal(there, whole, rtol=1e-9, atol=1e-9, check_exact=False)
    row(grids["fruit"], 4)[1] = "300"
    with pytest.raises(ValueError, match="fruit 300 of sample S1 is written twice"):
        grouped(write_folder(tmp_path / "twice", grids) / "fruit.csv", ["S1", "S2", "S3", "S4"])


def test_readings_of_another_tip_are_left_out_as_when_every_row_is_read(tmp_path):
    folder = write_folder(tmp_path / "records", tables())
    there = grouped(folder / "fruit.csv", ["S1", "S2", "S3", "S4"], Declaration(tip_mm=11))
    assert there["firmness_n"].tolist() == [0, 0, 0, 0]
    assert there["firmness"].isna().all()
    assert there["size_n"].tolist() == [3, 3, 3, 3]


@pytest.mark.parametrize(
    ("place", "written", "said"),
    [
        ((2, 2), "sixty", "1 of 12 rows hold what is no reading (suture_mm sixty)"),
        ((2, 2), "1_0", "no reading (suture_mm 1_0)"),
        ((2, 2), "nan", "no reading (suture_mm nan)"),
        ((2, 2), "999", "no reading (suture_mm 999)"),
        ((3, 6), "-1", "no reading (ssc_brix -1)"),
        ((3, 1), "", "no reading (fruit )"),
        ((3, 1), "1.5", "no reading (fruit 1.5)"),
        ((3, 0), "S9", "1 of 12 rows belong to no sample of samples.csv (S9)"),
        ((3, 0), "", "belong to no sample"),
        ((3, 1), "1", "fruit 1 of sample S1 is written twice"),
        ((1, 2), "girth_mm", "the heading 'girth_mm' is no column of its own"),
        ((1, 3), "suture_in", "the heading 'suture_in' is no column of its own"),
        ((1, 0), "fruit_of", "is no column"),
    ],
)
def test_what_reading_would_set_aside_ends_it_with_one_sentence(tmp_path, place, written, said):
    grids = tables()
    row(grids["fruit"], place[0])[place[1]] = written
    folder = write_folder(tmp_path / "records", grids)
    with pytest.raises(ValueError, match=r"fruit\.csv") as told:
        grouped(folder / "fruit.csv", ["S1", "S2", "S3", "S4"])
    assert said in str(told.value)
    assert "\n" not in str(told.value)


def test_a_file_that_is_not_there_and_a_library_that_is_not_there_are_told(tmp_path, monkeypatch):
    with pytest.raises(ValueError, match=r"fruit\.csv cannot be read"):
        grouped(tmp_path / "fruit.csv", ["S1"])
    monkeypatch.setitem(sys.modules, "duckdb", None)
    with pytest.raises(ValueError, match="pip install"):
        grouped(tmp_path / "fruit.csv", ["S1"])


@pytest.mark.slow
@pytest.mark.parametrize(("fruit", "most_mb"), [(1_000_000, 600), (20_000_000, 1200)])
def test_millions_of_fruit_are_summarized_in_bounded_memory(tmp_path, fruit, most_mb):
    told = many_fruit.measured(fruit, tmp_path / "many")
    shutil.rmtree(tmp_path / "many")
    assert told["fruit"] == fruit
    assert told["peak_mb"] <= most_mb
