"""8+, 7-, 6-7 and ~8 count as what somebody said of the form, once for all cells of it, and wait where nobody did."""

from __future__ import annotations

import csv

import pytest

from dashboard.records import read
from dashboard.records.importing.figures import How, figure
from dashboard.records.importing.forms import ALONE, LOWER, MIDDLE, UPPER, counted, form_of
from dashboard.records.importing.grouped import together
from dashboard.records.importing.roles import ROLES
from tests.records.importing.season import came_in


@pytest.mark.parametrize(
    ("cell", "form", "figures"),
    [
        ("8+", "8+", ("8",)), ("7.5 +", "8+", ("7.5",)), ("7-", "7-", ("7",)), ("7–", "7-", ("7",)), ("~8", "~8", ("8",)), ("ca. 8", "~8", ("8",)), ("About 8", "~8", ("8",)),
        ("6-7", "6-7", ("6", "7")), ("6 – 7", "6-7", ("6", "7")), ("6 to 7", "6-7", ("6", "7")), ("7-6", "6-7", ("7", "6")), ("6,5-7", "6-7", ("6,5", "7")), ("12-14.5", "6-7", ("12", "14.5")),
    ],
)  # fmt: skip
def test_forms(cell, form, figures):
    assert form_of(cell) == (form, figures)


@pytest.mark.parametrize("cell", ["8", "-8", "+8", "8.5", "<8", "7/8", "6-70", "5-5", "2 1/2", "2-5/8", "8++", "6-7-8", "2016-08-05", "8 kg", "8+1", "1e-3", "", "-", "+"])  # fmt: skip
def test_no_forms(cell):
    assert form_of(cell) is None


def test_what_they_count_as():
    assert [counted(("6", "7"), said) for said in (MIDDLE, LOWER, UPPER, "set aside", "")] == [
        "6.5",
        "6",
        "7",
        "",
        "",
    ]
    assert [counted(("7", "6.1"), said) for said in (MIDDLE, LOWER, UPPER)] == ["6.55", "6.1", "7"]
    assert counted(("8",), ALONE) == "8"
    assert counted(("", "7"), UPPER) == ""
    brix = ROLES["ssc"]
    assert (
        figure("6-7", How(brix)).said == figure("12-13", How(brix)).said
    )  # nobody said anything: it waits, as ever
    assert figure("12,5-13", How(brix, decimal=",", forms={"6-7": MIDDLE})).text == "12.75"
    assert figure("12,5-13", How(brix, forms={"6-7": MIDDLE})).said is not None
    assert figure("12+", How(brix, forms={"8+": "set aside"})).said is not None


def test_each_form_is_asked_once_for_all_columns_and_one_of_them_may_differ(tmp_path):
    rows = [["Alvane", "7/1/2016", "6-7", "8+", "5"], ["Brintel", "7/1/2016", "7-8", "7+", "6-7"], ["Corvale", "7/1/2016", "~5", "8", "4"], ["Dusk Marrow", "7/1/2016", "3-9", "2", "1"]]  # fmt: skip
    path = tmp_path / "walk.csv"
    with path.open("w", newline="") as file:
        csv.writer(file).writerows([["Variety", "Date", "Red", "Shape", "Fuzz"], *rows])
    said = {
        ("Variety", "is"): "cultivar", ("Date", "is"): "date", "order": "month/day", "scale": "0 to 10, 10 best", "site": "Low", "row_is": "one fruit",
        ("forms", "6-7"): MIDDLE, ("forms", "8+"): ALONE, ("forms", "~8"): "set aside",
    }  # fmt: skip
    outcome, replies = came_in([path], tmp_path / "trial", said)
    frame = read(tmp_path / "trial").tables["samples"].set_index("cultivar")
    assert frame["red"].dropna().to_dict() == {"Alvane": 6.5, "Brintel": 7.5}
    assert frame["shape"].to_dict() == {"Alvane": 8, "Brintel": 7, "Corvale": 8, "Dusk Marrow": 2}
    assert frame["fuzz"].to_dict() == {"Alvane": 5, "Brintel": 6.5, "Corvale": 4, "Dusk Marrow": 1}
    assert outcome.counts["aside"] == 2  # ~5, and 3-9, which is too wide to be one figure
    asked = [one for one in replies.asked if "forms" in one.path]
    told = {str(group.first.path[-1]): [part.seen for part in group.parts] for group in together(asked)}
    assert told == {"6-7": ["3 cells in Red, Fuzz"], "8+": ["2 cells in Shape"], "~8": ["1 cell in Red"]}
    assert "  “6-7” → the middle: 6.5; the lower: 6; the upper: 7" in asked[0].shown
