"""Cells to values: what is taken, what is refused, and what is said of it."""

from __future__ import annotations

import time

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.records.checking import checked, empty
from dashboard.records.declaration import Declaration, Scale
from dashboard.records.findings import Findings
from dashboard.records.schema import RATINGS, TABLES
from dashboard.records.sheets import sheet_of
from tests.records.cells import read_cell


@pytest.mark.parametrize(
    ("heading", "cell", "value"),
    [
        ("suture_mm", "63.5", 63.5),
        ("suture_mm", "+63", 63),
        ("suture_mm", "6.35e1", 63.5),
        ("suture_in", "2.5", 63.5),
        ("suture_cm", "6.35", 63.5),
        ("firmness_1_lbf", "10", 44.4822161526),
        ("ssc_brix", "12.0", 12),
        ("firmness_1_n", "0", 0),
    ],
)
def test_numbers_are_read_into_si(heading, cell, value):
    got, problem = read_cell("fruit", heading, cell)
    assert problem is None
    assert got == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize("cell", ["", "  ", "-", "–", ".", "NA", "n/a"])
def test_nothing_measured_is_missing_without_a_word(cell):
    got, problem = read_cell("fruit", "suture_mm", cell)
    assert np.isnan(got)
    assert problem is None


@pytest.mark.parametrize(
    ("heading", "cell", "rule", "suggestion"),
    [
        ("suture_mm", "63,5", "has a decimal comma", "write 63.5"),
        ("suture_mm", "63.5 mm", "has its unit typed in", "write 63.5; the unit stands in the column's name"),
        ("suture_mm", "2.5 in", "and not the column's", "write 63.5, or name the column suture_in"),
        ("suture_mm", '2.5"', "and not the column's", "write 63.5, or name the column suture_in"),
        ("suture_in", "63.5mm", "and not the column's", "write 2.5, or name the column suture_mm"),
        ("firmness_1_lbf", "9 lbs", "has its unit typed in", "write 9;"),
        ("suture_in", "2½", "is written with a fraction", "write 2.5"),
        ("suture_in", "2 1/2", "is written with a fraction", "write 2.5"),
        ("suture_in", "2-5/8", "is written with a fraction", "write 2.625"),
        ("suture_in", "2½ in", "is written with a fraction", "write 2.5; the unit stands in the column's name"),
        ("suture_mm", '2½"', "and not the column's", "write 63.5, or name the column suture_in"),
        ("suture_mm", "60/61", "holds two figures", "write the one that was read"),
        ("suture_mm", "1,250", "may stand before decimals or between thousands", "write 1.250 or 1250"),
        ("suture_mm", "63,500", "has a decimal comma", "write 63.500"),
        ("suture_mm", "0,250", "has a decimal comma", "write 0.250"),
        ("suture_mm", "1,250,000", "has a comma between thousands", "write 1250000"),
        ("ssc_brix", "12 / 13", "holds two figures, so the cell is set aside", "write the one that was read"),
        ("ssc_brix", "12.5/13", "holds two figures", "write the one that was read"),
        ("ssc_brix", "12/13", "holds two figures", "write the one that was read"),
        ("ssc_brix", "13/12", "holds two figures", "write the one that was read"),
        ("ssc_brix", "8/16 / 9", "is not a number", "digits"),
        ("suture_in", "2 7/12", "is not a number", "write it with digits"),
        ("suture_in", "2 9/16", "is written with a fraction", "write 2.562"),
        ("suture_in", "2 5/8 in", "is written with a fraction", "write 2.625"),
        ("suture_in", "3/4", "is written with a fraction", "write 0.75"),
        ("suture_mm", "1,2,3", "has commas where a number has none", "write it with digits"),
        ("suture_mm", "63.5 big", "is not a number alone", "write the number alone"),
        ("suture_mm", "70 %", "is a per cent, and the column is not", "write the value itself"),
        ("suture_mm", "=B2+1", "is a formula without a stored result", "open and save the workbook"),
        ("suture_mm", "nan", "is not a number", "leave the cell empty"),
        ("suture_mm", "inf", "is not a number", "leave the cell empty"),
        ("suture_mm", "-Infinity", "is not a number", "leave the cell empty"),
        ("suture_mm", "#DIV/0!", "is not a number", "leave the cell empty"),
        ("suture_mm", ">60", "is not one number", "write the reading itself"),
        ("suture_mm", "big", "is not a number", "write it with digits and a point"),
        ("suture_mm", "1_000", "is not a number", "digits"),
        ("suture_mm", "0x40", "is not a number", "digits"),
        ("suture_mm", "６３", "is not a number", "digits"),
        ("suture_mm", "6\x003", "is not a number", "digits"),
        ("suture_mm", "1e308", "is outside 15 to 150 mm", "look whether it was misread"),
        ("suture_in", "1e308", "is outside 0.5906 to 5.906 in", "look whether it was misread"),
        ("suture_mm", "1e999", "is not a number", ""),
        ("suture_mm", "2.5", "is outside 15 to 150 mm", "it may be in inches: write 63.5 here"),
        ("suture_in", "63.5", "is outside 0.5906 to 5.906 in", "it may be in mm: write 2.5 here"),
        ("suture_mm", "635", "is outside 15 to 150 mm", "a slipped decimal point? 63.5 would be usual"),
        ("suture_mm", "-60", "is outside", ""),
        ("firmness_1_n", "-0.1", "is outside 0 to 150 N", ""),
        ("ssc_brix", "125", "is outside 0 to 35 °Brix", "a slipped decimal point? 12.5 would be usual"),
    ],
)  # fmt: skip
def test_a_number_at_fault_is_set_aside_with_its_reason(heading, cell, rule, suggestion):
    got, problem = read_cell("fruit", heading, cell)
    assert np.isnan(got)
    assert (problem.severity, problem.row, problem.column, problem.value) == ("error", 2, heading, cell)
    assert rule in problem.rule
    assert suggestion in problem.suggestion


# The ranges as they were agreed for these records: the very limit is taken, what lies past it is not.
REFUSED = {
    "suture_mm": (15, 150),
    "cross_mm": (15, 150),
    "firmness_1_n": (0, 150),
    "firmness_2_n": (0, 150),
    "ssc_brix": (0, 35),
}
FLAGGED = {
    "suture_mm": (35, 110),
    "cross_mm": (35, 110),
    "firmness_1_n": (0, 90),
    "firmness_2_n": (0, 90),
    "ssc_brix": (6, 22),
}


@pytest.mark.parametrize("heading", REFUSED)
def test_the_limits_of_what_is_possible(heading):
    low, high = REFUSED[heading]
    for inside in (low, high):
        got, _ = read_cell("fruit", heading, str(inside))
        assert got == inside
    for outside in (low - 0.01, high + 0.01):
        got, problem = read_cell("fruit", heading, str(outside))
        assert np.isnan(got)
        assert problem.severity == "error"


@pytest.mark.parametrize("heading", FLAGGED)
def test_the_limits_of_what_is_usual(heading):
    low, high = FLAGGED[heading]
    for inside in (low, high):
        assert read_cell("fruit", heading, str(inside))[1] is None
    outside = [high + 0.01] + ([low - 0.01] if low else [])
    for number in outside:
        got, problem = read_cell("fruit", heading, str(number))
        assert got == number
        assert problem.severity == "flag"
        assert "is unusually" in problem.rule


@pytest.mark.parametrize(
    ("table", "heading", "cell", "rule", "suggestion"),
    [
        ("samples", "shape", "70 %", "is a per cent, and the column is not", "write the rating on the declared scale"),
        ("samples", "split_pit_pct", "30%", "has its unit typed in, or is formatted as per cent", "write 30 as a plain number"),
        ("cultivars", "chill_requirement_h", "1,250", "has a comma between thousands", "write 1250"),
        ("cultivars", "stone", "=A2", "is a formula without a stored result", "or write the value"),
    ],
)  # fmt: skip
def test_a_cell_of_another_table_at_fault_is_told_as_well(table, heading, cell, rule, suggestion):
    _, problem = read_cell(table, heading, cell)
    assert rule in problem.rule
    assert suggestion in problem.suggestion


@pytest.mark.parametrize("cell", ["0", "10", "6.5"])
def test_ratings_run_from_0_to_10(cell):
    assert read_cell("samples", "shape", cell) == (float(cell), None)


@pytest.mark.parametrize("cell", ["11", "-1", "10.1"])
def test_a_rating_off_its_scale_is_set_aside(cell):
    got, problem = read_cell("samples", "shape", cell)
    assert np.isnan(got)
    assert "is outside 0 to 10" in problem.rule


@pytest.mark.parametrize(
    ("scale", "cell", "value"),
    [
        (Scale(1, 5, 5), "1", 0), (Scale(1, 5, 5), "3", 5), (Scale(1, 5, 5), "5", 10),
        (Scale(1, 5, 1), "1", 10), (Scale(1, 5, 1), "2", 7.5), (Scale(1, 5, 1), "5", 0),
        (Scale(0, 100, 0), "25", 7.5),
    ],
)  # fmt: skip
def test_a_declared_scale_is_mapped_with_its_direction(scale, cell, value):
    declaration = Declaration(ratings={name: Scale() for name in RATINGS} | {"fuzz": scale})
    assert read_cell("samples", "fuzz", cell, declaration) == (pytest.approx(value), None)
    got, problem = read_cell("samples", "fuzz", str(scale.high + 1), declaration)
    assert np.isnan(got)
    assert problem.severity == "error"


@pytest.mark.parametrize("cell", ["1.5", "0", "-1", "x", "1e30"])
def test_a_number_of_a_fruit_is_whole_and_from_1(cell):
    got, problem = read_cell("fruit", "fruit", cell)
    assert got is None
    assert problem.severity == "error"


def test_rows_without_the_cell_they_need_are_told_once_and_each_set_aside():
    grid = [
        ["sample", "fruit", "ssc_brix"],
        ["S1", "1", "12"],
        ["", "2", "12"],
        ["", "3", "12"],
        ["S1", "4", "12"],
    ]
    sheet = sheet_of("fruit", "fruit.csv", "", grid, range(1, 6))
    findings = Findings(sheet)
    frame = checked(sheet, Declaration(), findings)
    assert frame.index.tolist() == [2, 5]
    assert [problem.sentence for problem in findings.problems] == [
        "fruit.csv, row 3, sample: has no sample; 2 rows are set aside (rows 3 and 4); write it: the sample it belongs to."
    ]
    assert [row[2] for row in findings.aside] == [3, 4]


@pytest.mark.parametrize("tip", [8, 7.9375])  # 5/16 in is 7.9375 mm
def test_firmness_on_an_8_mm_tip_is_read(tip):
    got, problem = read_cell("fruit", "firmness_1_n", "40", Declaration(tip_mm=tip))
    assert (got, problem) == (40, None)


@pytest.mark.parametrize("tip", [11, 11.1125, 5])
def test_firmness_on_another_tip_is_refused_with_the_reason_and_never_converted(tip):
    got, problem = read_cell("fruit", "firmness_1_lbf", "9", Declaration(tip_mm=tip))
    assert np.isnan(got)
    assert problem.row == 1
    assert f"was read with a {tip:g} mm tip" in problem.rule


@pytest.mark.parametrize("name", TABLES)
def test_an_empty_table_has_the_columns_and_types_of_a_full_one(name):
    assert list(empty(name).columns) == list(TABLES[name].by_name)
    assert len(empty(name)) == 0


def test_fifty_thousand_rows_are_checked_in_a_second():
    chance = np.random.default_rng(1)
    rows = 50_000
    columns = [
        chance.normal(middle, 2, rows).round(1).astype(str).tolist() for middle in (65, 66, 40, 40, 12)
    ]
    samples = [f"S{number // 10:05d}" for number in range(rows)]
    numbers = [str(number % 10 + 1) for number in range(rows)]
    grid = [list(TABLES["fruit"].by_name), *map(list, zip(samples, numbers, *columns, strict=True))]
    sheet = sheet_of("fruit", "fruit.csv", "", grid, range(1, rows + 2))
    took = []
    for _ in range(3):
        start = time.perf_counter()
        frame = checked(sheet, Declaration(), Findings(sheet))
        took.append(time.perf_counter() - start)
    assert len(frame) == rows
    assert min(took) < 1.0


@given(
    st.lists(
        st.tuples(
            st.sampled_from(["S1", "<b>S2", "S\u200b3", "", "'=S4", "S  5"]),
            st.sampled_from(["60", "", "-", "sixty", "900", "61.25"]),
        ),
        min_size=1,
        max_size=12,
    )
)
def test_a_text_in_many_rows_is_read_as_it_would_be_in_one(rows):
    def told(cells, numbers):
        sheet = sheet_of("samples", "samples.csv", "", [["sample", "cultivar", "site", "date", "juice_temp_c"], *cells], [1, *numbers])  # fmt: skip
        findings = Findings(sheet)
        frame = checked(sheet, Declaration(), findings)
        alone = [
            one for one in findings.problems if "row" not in one.rule
        ]  # rows without a name are told together
        return sorted(map(repr, alone)), list(zip(frame.index, frame["sample"], frame["juice_temp_c"].map(repr), strict=True))  # fmt: skip

    cells = [[sample, "Alvane", "low", "2024-07-01", figure] for sample, figure in rows]
    whole = told(cells, range(2, len(cells) + 2))
    each = [told([row], [number]) for number, row in enumerate(cells, 2)]
    assert whole == (sorted(one for said, _ in each for one in said), [one for _, rows in each for one in rows])  # fmt: skip


def test_rows_are_found_by_their_numbers_in_whatever_order_they_stand():
    sheet = sheet_of("sites", "sites.csv", "", [["site"], ["a"], ["b"], ["c"]], [1, 9, 4, 6])
    assert sheet.places([4, 9, 1, 6, 12]).tolist() == [1, 0, -1, 2, -1]
    assert sheet_of("sites", "sites.csv", "", [["site"]], [1]).places([2]).tolist() == [-1]
