"""A flag of what came in names the row of the sheet that brought it, now and at every later check."""

from __future__ import annotations

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.records import read
from dashboard.records.came_from import CAME, with_cells, with_sheets
from dashboard.records.problems import Problem, Whose
from dashboard.records.report import check
from tests.records.importing.season import came_in, season
from tests.records.importing.test_twelve_ways import LONG, csv_file, long_rows

SIDE = ("Cultivar", "Site", "Date", *(f"Brix {fruit}" for fruit in range(1, 11)))


def brought(folder, sample: str, fruit: str) -> str:
    problem = Problem("flag", "fruit.csv", row=2, whose=Whose(sample, fruit=fruit))
    return with_sheets([problem], folder)[0].brought


@given(st.dictionaries(st.integers(0, 40), st.integers(1, 60), min_size=1), st.sampled_from(["S1", "=S1", "-3, a", 'a "b"']))  # fmt: skip
def test_every_fruit_is_found_in_its_row(tmp_path_factory, rows, name):
    folder = tmp_path_factory.mktemp("trial")
    cells = pd.DataFrame({"sample": name, "file": "w 27.xlsx", "sheet": "A", "fruit": [*rows], "row": [*rows.values()]})  # fmt: skip
    (folder / CAME).parent.mkdir()
    (folder / CAME).write_bytes(with_cells(folder, cells))
    for fruit, row in rows.items():
        assert brought(folder, name, str(fruit)) == f"w 27.xlsx, sheet A, row {row}"
    (folder / CAME).write_bytes(with_cells(folder, cells.assign(row=7, file="b.csv", sheet="")))
    assert brought(folder, name, str(max(rows))).endswith("; b.csv, row 7")


@pytest.mark.parametrize("line", ["S1,a.csv,,1-x: 2", "S1,a.csv,,", "S1,a.csv", "S1,a.csv,,3-1: 2", '"'])
def test_a_line_that_somebody_broke_says_nothing(tmp_path, line):
    (tmp_path / "importing").mkdir()
    (tmp_path / CAME).write_text(f"sample,file,sheet,rows\n{line}\n", encoding="utf-8")
    assert brought(tmp_path, "S1", "1") == ""


def test_a_flag_names_the_row_of_the_sheet_at_the_import_and_at_a_later_check(tmp_path):
    samples = season(2)
    for sample in samples:
        sample.pounds = sample.pounds * 0 + 9
    samples[7].pounds[3] = 3, 9  # the fourth fruit of the eighth sample
    file = csv_file(tmp_path / "week 27.csv", LONG, long_rows(samples))
    outcome, _ = came_in([file], tmp_path / "trial", {})
    place = "firmness_1, firmness_2 (from week 27.csv, row 75)"
    assert place in outcome.text
    came_in([csv_file(tmp_path / "week 30.csv", LONG, long_rows(season(4)[15:]))], tmp_path / "trial", {})
    assert place in check(tmp_path / "trial")[0]


def test_of_fruit_side_by_side_it_is_the_row_of_the_sample(tmp_path):
    samples = season(1)
    samples[2].brix[:] = 12.0
    samples[2].brix[4] = 24.0
    rows = [[*one.key, *one.brix] for one in samples]
    rows = [[name, site, day, *brix] for name, site, day, *brix in rows]
    came_in([csv_file(tmp_path / "a.csv", SIDE, rows)], tmp_path / "trial", {})
    found = [one.brought for one in read(tmp_path / "trial").problems if one.value.startswith("24")]
    assert found == ["a.csv, row 4"]
