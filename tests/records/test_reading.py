"""Reading as a whole: nothing is lost, nothing changes by reading twice, and one fault costs one place."""

from __future__ import annotations

import copy
import tempfile
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dashboard.records import Problem, RecordError, read
from dashboard.records.schema import TABLES
from dashboard.records.writing import write
from tests.records.small import DECLARED, row, tables, told, write_folder, write_workbook


def test_good_records_load_whole_and_without_a_word(tmp_path):
    records = read(write_folder(tmp_path, tables()))
    assert records.problems == ()
    assert {name: len(frame) for name, frame in records.tables.items()} == {
        "cultivars": 3, "sites": 2, "samples": 4, "fruit": 12, "means": 0, "beyond": 0, "trees": 0, "bloom": 1, "yields": 0, "weather": 1, "nursery": 0,
    }  # fmt: skip
    assert records.set_aside.empty
    assert records.declaration.title == "Small trial"
    assert records.source == str(tmp_path)


def test_every_table_has_every_column_in_its_type_also_without_rows(tmp_path):
    records = read(write_folder(tmp_path, tables()))
    kinds = {"text": "str", "note": "str", "class": "str", "date": "datetime64[us]", "yes/no": "bool"}
    for name, table in TABLES.items():
        frame = records.tables[name]
        assert list(frame.columns) == list(table.by_name)
        assert {column.name: str(frame[column.name].dtype) for column in table.columns} == {
            column.name: kinds.get(column.kind, "float64") for column in table.columns
        }


def test_a_workbook_reads_the_same_as_a_folder(tmp_path):
    folder = read(write_folder(tmp_path / "folder", tables()))
    book = read(write_workbook(tmp_path / "book.xlsx", tables()))
    assert book.problems == ()
    assert book.declaration == folder.declaration
    for name in TABLES:
        pd.testing.assert_frame_equal(book.tables[name], folder.tables[name])


def test_units_in_the_headings_are_turned_into_si(tmp_path):
    grids = tables()
    grids["fruit"][0] = [" Suture_IN " if name == "suture_mm" else name for name in grids["fruit"][0]]
    grids["fruit"][0][4:6] = ["firmness_1_lbf", "Firmness 2 (kgf)"]
    for cells in grids["fruit"][1:]:
        cells[2], cells[4], cells[5] = "2.5", "10", "4"
    records = read(write_folder(tmp_path, grids))
    fruit = records.tables["fruit"]
    assert records.problems == ()
    assert fruit["suture_mm"].unique().tolist() == [63.5]  # 2.5 x 25.4
    np.testing.assert_allclose(fruit["firmness_1_n"], 44.4822161526)  # 10 x 0.45359237 x 9.80665
    np.testing.assert_allclose(fruit["firmness_2_n"], 39.2266)  # 4 x 9.80665
    np.testing.assert_allclose(records.tables["weather"][["tmin_c", "tmax_c"]], [[-5, 5]])  # 23 and 41 F


def test_the_version_follows_the_content_and_not_the_place(tmp_path):
    first = read(write_folder(tmp_path / "a", tables()))
    again = read(write_folder(tmp_path / "b", tables()))
    changed = tables()
    row(changed["fruit"], 2)[2] = "61.6"
    assert first.version == again.version != ""
    assert read(write_folder(tmp_path / "c", changed)).version != first.version


def test_a_row_is_set_aside_whole_so_that_it_can_be_corrected(tmp_path):
    grids = tables()
    row(grids["samples"], 3)[3] = "05/07/2024"
    records = read(write_folder(tmp_path, grids))
    aside = records.set_aside
    sample = aside[aside["file"] == "samples.csv"].iloc[0]
    assert (sample["row"], sample["column"], sample["value"]) == (3, "date", "05/07/2024")
    assert "cultivar=Alvane; site=high; date=05/07/2024" in sample["whole_row"]
    assert aside[aside["file"] == "fruit.csv"]["row"].tolist() == [5, 6, 7]
    fruit = next(problem for problem in records.problems if problem.file == "fruit.csv")
    assert "samples.csv, row 3" in fruit.sentence
    assert records.rows_written["samples"] == 4
    assert len(records.tables["samples"]) == 3


def test_errors_come_before_flags_and_the_newest_fruit_first(tmp_path):
    grids = tables()
    row(grids["fruit"], 9)[2] = "1000"
    row(grids["fruit"], 3)[6] = "x"
    row(grids["fruit"], 2)[6] = "5.9"
    told_of = [(problem.severity, problem.row) for problem in read(write_folder(tmp_path, grids)).problems]
    assert told_of == [("error", 9), ("error", 3), ("flag", 2)]


def test_a_required_column_that_is_missing_stops_the_reading(tmp_path):
    grids = tables()
    grids["samples"] = [[cells[0], *cells[2:]] for cells in grids["samples"]]
    with pytest.raises(RecordError, match=r"samples\.csv, row 1: the column cultivar is not there"):
        read(write_folder(tmp_path, grids))


def test_no_cultivar_left_is_nothing_to_show(tmp_path):
    grids = tables()
    grids["cultivars"] = grids["cultivars"][:1]
    with pytest.raises(RecordError, match="no cultivar can be loaded"):
        read(write_folder(tmp_path, grids))


def test_an_optional_table_without_its_key_is_told_and_empty(tmp_path):
    grids = tables()
    grids["bloom"][0][0] = "variety"
    records = read(write_folder(tmp_path, grids))
    assert records.tables["bloom"].empty
    assert any("the column cultivar is not there" in problem.rule for problem in records.problems)


def test_southern_seasons_begin_in_july_of_the_year_before(tmp_path):
    grids = tables()
    for cells in grids["samples"][1:]:
        cells[3] = "2022-12-20"
    north = read(write_folder(tmp_path / "north", grids))
    assert north.tables["samples"].empty
    for cells in grids["sites"][1:]:
        cells[2] = "-34"
    south = read(write_folder(tmp_path / "south", grids))
    assert len(south.tables["samples"]) == 4


@pytest.mark.parametrize("declared", [None, {}])
def test_records_that_declare_nothing_load_with_one_flag(tmp_path, declared):
    records = read(write_folder(tmp_path, tables(), declared))
    assert [problem.severity for problem in records.problems] == ["flag"]
    assert records.declaration.tip_mm == 8


# ---- for any records at all -------------------------------------------------------------------------------

_WORDS = st.text(st.characters(codec="utf-8", categories=["L", "N", "P", "S", "Zs"]), max_size=30)
_HOSTILE = st.sampled_from(
    ["", "nan", "inf", "-inf", "1e308", "-1e308", "1e999", "0x10", "1_000", "=1+1", "@x", "+1", "-", "NA", "\x00", "a\x00b", "<script>", "\u202eabc", "\ufeff",
     "2.5 in", "63,5", "03/07/2024", "9999-99-99", "2024-02-30", "0000-00-00", "é", "１２", "٣", '"', 'a"b', "a,b", "a;b", "a\nb", "a\r\nb", "'", "'=x", "9" * 400, "x" * 5000, "true", "None"]
)  # fmt: skip
_CELLS = st.one_of(_WORDS, _HOSTILE, st.text(max_size=12))
_ANY = settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@_ANY
@given(st.data())
def test_a_damaged_cell_never_costs_another_row(data):
    grids = tables()
    name = data.draw(st.sampled_from(["cultivars", "samples", "fruit"]))
    number = data.draw(st.integers(2, len(grids[name])))
    column = data.draw(st.integers(0, len(grids[name][0]) - 1))
    cell = data.draw(_CELLS)
    grids[name][number - 1][column] = cell
    with tempfile.TemporaryDirectory() as place:
        whole = read(write_folder(Path(place) / "whole", tables()))
        records = read(write_folder(Path(place) / "damaged", grids))
    # Rows that hang on the damaged one by its name go with it; all others stay as they were.
    damaged = tables()[name][number - 1][0]
    samples = [cells[0] for cells in tables()["samples"][1:] if damaged in cells[:2]]
    for table in ("cultivars", "samples", "fruit"):
        key = list(TABLES[table].key)
        first = key[0]
        before = whole.tables[table]
        keep = ~before[first].isin([damaged, *samples])
        if table == "fruit" and name == "fruit":
            keep = before.index != number - 2
        elif table == "fruit" and name == "samples" and damaged:
            keep = ~before["sample"].isin([damaged])
        after = before[keep].merge(records.tables[table], how="left", indicator=True)
        assert (after["_merge"] == "both").all()
    # And the damage is told, or it is there as it was written.
    if len(records.tables[name]) < len(whole.tables[name]):
        assert any(problem.severity == "error" or "twice" in problem.rule for problem in records.problems)


@_ANY
@given(st.data())
def test_reading_what_was_written_gives_the_same_records(data):
    grids = tables()
    for name in ("cultivars", "samples"):
        for cells in grids[name][1:]:
            cells[-1] = data.draw(_CELLS)
    old, new = "Alvane", data.draw(_CELLS)
    for cells in grids["cultivars"][1:] + grids["samples"][1:]:
        cells[:2] = [new if cell == old else cell for cell in cells[:2]]
    for cells in grids["fruit"][1:]:
        cells[2] = repr(data.draw(st.floats(36, 109)))
        cells[4] = repr(data.draw(st.floats(0, 90)))
    with tempfile.TemporaryDirectory() as place:
        first = read(write_folder(Path(place) / "first", grids))
        write(first.tables, first.declaration, Path(place) / "second")
        second = read(Path(place) / "second")
    for name in TABLES:
        pd.testing.assert_frame_equal(second.tables[name], first.tables[name], check_exact=True)
    assert second.declaration == first.declaration
    assert not told(second.problems, severity="error")


@_ANY
@given(
    st.lists(
        st.tuples(
            st.sampled_from(["cultivars", "samples", "fruit"]), st.integers(1, 3), st.integers(0, 6), _CELLS
        ),
        max_size=6,
    )
)
def test_reading_twice_and_rows_written_twice_change_nothing(damages):
    grids = tables()
    for name, number, column, cell in damages:
        grids[name][number][column] = cell
    twice = copy.deepcopy(grids)
    for grid in twice.values():
        grid += copy.deepcopy(grid[1:])
    with tempfile.TemporaryDirectory() as place:
        folder = write_folder(Path(place) / "once", grids)
        try:
            first = read(folder)
        except RecordError:
            return  # every cultivar was damaged
        again = read(folder)
        doubled = read(write_folder(Path(place) / "twice", twice))
    assert again.problems == first.problems
    assert again.version == first.version
    for name in TABLES:
        pd.testing.assert_frame_equal(again.tables[name], first.tables[name])
        pd.testing.assert_frame_equal(doubled.tables[name], first.tables[name])


@_ANY
@given(
    st.lists(st.lists(_CELLS, min_size=4, max_size=9), min_size=1, max_size=6),
    st.sampled_from(["cultivars", "samples", "fruit", "weather"]),
)
def test_any_grid_at_all_is_read_or_refused_in_sentences(grid, name):
    grids = tables() | {name: [tables()[name][0], *grid]}
    with tempfile.TemporaryDirectory() as place:
        folder = write_folder(Path(place), grids, DECLARED)
        try:
            problems = read(folder).problems
        except RecordError as error:
            problems = error.problems
    assert all(isinstance(problem, Problem) and problem.sentence.isprintable() for problem in problems)
