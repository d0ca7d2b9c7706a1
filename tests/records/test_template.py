"""The empty workbook can be filled in and read."""

from __future__ import annotations

import zipfile

import pytest

from dashboard.records import RecordError, read
from dashboard.records.meanings import ABOUT_ITEMS
from dashboard.records.schema import TABLES
from dashboard.records.template import write_template
from dashboard.records.workbooks import read_grids
from tests.records.small import filled, row, tables


@pytest.fixture(params=["us", "si"])
def template(request, tmp_path):
    path = tmp_path / "book.xlsx"
    write_template(path, request.param)
    return path


def sheets(path):
    """Rows of text by sheet."""
    grids, problems, _ = read_grids(path)
    assert problems == []
    return grids


def test_it_has_a_sheet_for_every_table_with_every_column(template):
    grids = sheets(template)
    assert list(grids) == ["about", *TABLES, "meanings"]
    for name, table in TABLES.items():
        (heads,) = grids[name]
        assert [next(c.name for c in table.columns if head in c.spellings) for head in heads] == list(
            table.by_name
        )


@pytest.mark.parametrize(("system", "head"), [("us", "suture_in"), ("si", "suture_mm")])
def test_its_measured_columns_are_in_the_units_asked_for(tmp_path, system, head):
    write_template(tmp_path / "book.xlsx", system)
    assert sheets(tmp_path / "book.xlsx")["fruit"][0][2] == head


def test_every_column_has_its_meaning(template):
    rows = sheets(template)["meanings"][1:]
    assert len(rows) == sum(len(table.columns) for table in TABLES.values())
    assert all(meaning for *_, meaning, _ in rows)


def test_no_cell_is_a_formula(template):
    with zipfile.ZipFile(template) as parts:
        pages = [parts.read(name) for name in parts.namelist() if name.startswith("xl/worksheets/sheet")]
    assert len(pages) == len(TABLES) + 2
    assert not any(b"<f>" in page for page in pages)


def test_an_empty_workbook_asks_for_a_cultivar_and_for_nothing_else(template):
    with pytest.raises(RecordError) as caught:
        read(template)
    assert [problem.rule for problem in caught.value.problems] == ["no cultivar can be loaded"]


def test_filled_in_it_reads_without_a_word(tmp_path):
    grids = tables()
    row(grids["weather"], 1)[2:] = ["tmin_c", "tmax_c"]
    row(grids["weather"], 2)[2:] = ["-5", "5"]
    records = read(filled(tmp_path / "filled.xlsx", grids))
    assert records.problems == ()
    for name, grid in grids.items():
        assert len(records.tables[name]) == len(grid) - 1


def test_what_it_declares_is_what_is_taken_to_hold_anyway():
    usual = {item: value for item, value, _ in ABOUT_ITEMS if item.startswith("shape")}
    assert usual == {"shape_low": 0, "shape_high": 10, "shape_best": 10}
