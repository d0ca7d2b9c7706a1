"""What a heading means, and what is said of one that means nothing."""

from __future__ import annotations

import pytest

from dashboard.records.findings import Findings
from dashboard.records.headings import headings, plain
from dashboard.records.sheets import sheet_of

NEEDED = ["sample", "fruit"]


def found(table: str, *names: str):
    sheet = sheet_of(table, f"{table}.csv", "", [list(names), ["1"] * len(names)], [1, 2])
    findings = Findings(sheet)
    return headings(sheet, findings), findings


@pytest.mark.parametrize("written", ["suture_mm", " Suture_MM ", "Suture mm", "Suture (mm)", "SUTURE-MM"])
def test_case_spaces_and_brackets_do_not_matter(written):
    assert plain(written) == "suture_mm"


def test_a_unit_in_the_heading_is_taken(tmp_path):
    columns, findings = found("fruit", *NEEDED, "suture_in", "firmness_1_kgf")
    assert columns["suture_mm"].unit.suffix == "in"
    assert columns["firmness_1_n"].unit.suffix == "kgf"
    assert findings.problems == []


@pytest.mark.parametrize(
    ("table", "written", "accepted"),
    [
        ("fruit", "suture_ft", "suture_mm, suture_cm or suture_in"),
        ("fruit", "Suture", "suture_mm, suture_cm or suture_in"),
        ("fruit", "firmness_1_psi", "firmness_1_n, firmness_1_kgf or firmness_1_lbf"),
        ("fruit", "firmness_2", "firmness_2_n, firmness_2_kgf or firmness_2_lbf"),
        ("weather", "tmin_k", "tmin_c or tmin_f"),
        ("yields", "oz_per_tree", "kg_per_tree or lb_per_tree"),
    ],
)
def test_an_unknown_unit_is_one_error_that_names_those_that_are_read(table, written, accepted):
    needed = {"fruit": NEEDED, "weather": ["site", "date"], "yields": ["cultivar", "site", "year", "pick"]}[
        table
    ]
    columns, findings = found(table, *needed, written)
    (problem,) = findings.problems
    assert (problem.severity, problem.row, problem.column) == ("error", 1, written)
    assert problem.suggestion.startswith(f"name it {accepted}, as its readings are: no ")
    assert problem.suggestion.endswith(f"if it is something else, declare “{table}: {written}” as not_used")
    assert len(columns) == len(needed)
    assert [row[4] for row in findings.aside] == ["1"]


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("ssc_brx", "did you mean ssc_brix? Then rename it: no fruit has sugar until then;"),
        ("firmnes_1_n", "did you mean firmness_1_n? Then rename it: no fruit has firmness 1 until then;"),
        ("sugar", "did you mean ssc_brix? Then rename it: no fruit has sugar until then;"),
        ("Brix (%)", "did you mean ssc_brix?"),
        ("Dia 1 (in)", "did you mean suture_in? Then rename it: no fruit has suture diameter until then;"),
        ("pressure 2", "name it firmness_2_n, firmness_2_kgf or firmness_2_lbf, as its readings are:"),
        ("moon", "the columns of fruit are sample, fruit"),
    ],
)
def test_an_unknown_column_is_an_error_told_once_and_its_cells_are_kept_aside(written, said):
    _, findings = found("fruit", *NEEDED, written)
    (problem,) = findings.problems
    assert problem.severity == "error"
    assert f"declare “fruit: {written}” as not_used" in problem.suggestion
    assert said in problem.suggestion
    assert len(findings.aside) == 1


def test_a_column_that_is_there_is_not_said_to_be_missing():
    _, findings = found("fruit", *NEEDED, "sugar", "ssc_brix")
    assert "did you mean" not in findings.problems[0].suggestion


def test_a_key_under_another_name_costs_every_row():
    _, findings = found("fruit", "sample id", "fruit")
    assert "did you mean sample? Then rename it: no row is read until then" in findings.problems[0].suggestion


@pytest.mark.parametrize(
    "pair", [("suture_mm", "suture_mm"), ("suture_mm", "suture_in"), ("suture_in", "Suture IN")]
)
def test_of_two_columns_that_give_the_same_the_first_is_read(pair):
    columns, findings = found("fruit", *NEEDED, *pair)
    assert columns["suture_mm"].position == 2
    assert [problem.severity for problem in findings.problems] == ["error"]
    assert "gives the same as" in findings.problems[0].rule


def test_cells_without_a_heading_are_told_and_an_empty_column_is_not():
    _, findings = found("fruit", *NEEDED, "")
    assert "no heading" in findings.problems[0].rule
    sheet = sheet_of("fruit", "fruit.csv", "", [[*NEEDED, ""], ["S", "1", ""]], [1, 2])
    findings = Findings(sheet)
    headings(sheet, findings)
    assert findings.problems == []


def test_a_column_that_no_row_can_do_without_is_asked_for():
    _, findings = found("fruit", "fruit")
    assert findings.problems[0].sentence.startswith("fruit.csv, row 1: the column sample is not there")
