"""Files written from records."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

from dashboard.places import demo_data
from dashboard.records import read
from dashboard.records.plain_text import plain_cell
from dashboard.records.schema import TABLES
from dashboard.records.writing import write
from tests.records.small import DECLARED, row, tables, write_folder


@pytest.mark.parametrize("text", ["=1+1", "+x", "-x", "@x", "＝1", "＋x", "－x", "＠x", "\tx", "\rx"])
def test_what_a_spreadsheet_would_work_out_gets_an_apostrophe(text):
    assert plain_cell(text) == "'" + text


def test_no_cell_of_a_written_file_begins_like_a_formula(tmp_path):
    grids = tables()
    row(grids["samples"], 2)[-1] = "=cmd|' /C calc'!A0"
    records = read(write_folder(tmp_path / "in", grids))
    write(records.tables, records.declaration, tmp_path / "out")
    text = (tmp_path / "out" / "samples.csv").read_text(encoding="utf-8")
    assert ",'=cmd|' /C calc'!A0" in text
    assert ",=cmd" not in text
    assert read(tmp_path / "out").tables["samples"]["note"][0] == "=cmd|' /C calc'!A0"


def test_the_demo_records_come_back_the_same(tmp_path):
    first = read(demo_data())
    write(first.tables, first.declaration, tmp_path)
    second = read(tmp_path)
    for name in TABLES:
        pd.testing.assert_frame_equal(second.tables[name], first.tables[name], check_exact=True)
    assert len(second.problems) == len(first.problems)


def test_writing_twice_gives_the_same_bytes(tmp_path):
    records = read(write_folder(tmp_path / "in", tables()))
    for place in ("a", "b"):
        write(records.tables, records.declaration, tmp_path / place)

    def content(folder: Path) -> dict[str, bytes]:
        return {path.name: path.read_bytes() for path in folder.iterdir()}

    assert content(tmp_path / "a") == content(tmp_path / "b")


def test_mapped_ratings_are_declared_as_they_are_written(tmp_path):
    declared = DECLARED | {"ratings": {"shape": {"low": 0, "high": 10, "best": 0}}}
    first = read(write_folder(tmp_path / "in", tables(), declared))
    assert first.tables["samples"]["shape"].tolist() == [2, 3, 1, 5]
    write(first.tables, first.declaration, tmp_path / "out")
    assert read(tmp_path / "out").tables["samples"]["shape"].tolist() == [2, 3, 1, 5]
