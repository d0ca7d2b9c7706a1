"""A cell as a number, against figures worked out by hand; what may be two things is none."""

from __future__ import annotations

import pytest

from dashboard.records.importing.figures import How, figure, is_pair
from dashboard.records.importing.roles import ROLES, certain, offered

INCHES = How(ROLES["suture"], "in")
POUNDS = How(ROLES["firmness 1"], "lbf")


@pytest.mark.parametrize(
    ("cell", "number"),
    [
        ("2 1/2", 2.5), ("2½", 2.5), ("2 ½", 2.5), ('2 5/8"', 2.625), ("2-5/8", 2.625), ("2 5/16 in", 2.3125), ("2⅜", 2.375), ("3 31/32", 3.96875),
        ("2.5", 2.5), ("2.", 2), (".5", 0.5), ('2.5"', 2.5), ("2.5 inches", 2.5), ("1/2", 0.5),
    ],
)  # fmt: skip
def test_inches_as_people_write_them(cell, number):
    assert float(figure(cell, INCHES).text) == number


@pytest.mark.parametrize(
    ("cell", "how", "said"),
    [
        ("<2 1/2", INCHES, "is not a number"), ("<2.5", INCHES, "is a limit, not a reading (below 2.5)"), ("> 13 kg", POUNDS, "is a limit"), ("<0", POUNDS, "is a limit"),
        (">8", How(ROLES["mean firmness"], "lbf"), "is a limit, not a reading (above 8)"), (">8", How(ROLES["red"]), "is a limit"),
        ("7/8", POUNDS, "is written with a fraction"), ("12/13", POUNDS, "holds two figures"), ("12 kg", POUNDS, "not the column's"),
        ("2 1/3", INCHES, "is not a number"), ("2 3/2", INCHES, "is not a number"), ("2 5/8 mm", INCHES, "has its unit typed in, and not the column's"),
        ("63,5", INCHES, "has a decimal comma"), ("1,250", How(ROLES["suture"], "mm"), "has a comma"), ("2016-08-05", INCHES, "is a date"),
        ("1.250", How(ROLES["suture"], "mm", ",", text_file=True), "has a point that may stand between thousands"), ("=B2", INCHES, "is a formula"),
    ],
)  # fmt: skip
def test_what_is_no_number_is_told_and_gives_none(cell, how, said):
    found = figure(cell, how)
    assert found.text == ""
    assert found.said is not None
    assert said in found.said[0]


@pytest.mark.parametrize(
    ("cell", "limit"),
    [
        ("<10", "<10"),
        (">13", ">13"),
        ("≥ 13 lb", ">13"),
        ("<= 1.5lbs", "<1.5"),
        ("> 12,5", ">12.5"),
        (">0", ">0"),
    ],
)
def test_a_limit_of_firmness_or_sugar_is_kept_as_what_it_is(cell, limit):
    found = figure(cell, How(ROLES["firmness 2"], "lbf", ","))
    assert (found.text, found.said, found.limit) == ("", None, limit)


def test_words_zeros_and_commas_are_what_was_said_of_them():
    how = How(ROLES["ssc"], decimal=",", zero="nothing", words={"n/a": "nothing", "x": "aside", "ten": "10"})
    assert figure("63,5", how).text == "63.5"
    assert (figure("n/a", how).text, figure("n/a", how).said) == ("", None)
    assert figure("x", how).said is not None
    assert figure("ten", how).text == "10"
    assert (figure("0,0", how).text, figure("0", how).said) == ("", None)
    assert figure("0", How(ROLES["ssc"])).text == "0"
    assert figure("11.2 %", how).text == "11.2"  # a per cent of soluble solids is a degree Brix


@pytest.mark.parametrize(
    ("heading", "role", "unit"),
    [
        ("Variety", "cultivar", ""), ("Suture (in)", "suture", "in"), ('Dia Suture (")', "suture", "in"), ("Pressure lbs", "firmness 1", "lbf"),
        ("Firmness 2 (kg)", "firmness 2", "kgf"), ("Pressure (psi)", "firmness 1", ""), ("SSC (%)", "ssc", "brix"), ("°Brix", "ssc", ""),
        ("firmness_1_lbf", "firmness 1", "lbf"), ("Avg Brix", "mean sugar", ""), ("Taster", "", ""), ("Weight (g)", "", ""),
    ],
)  # fmt: skip
def test_what_a_heading_offers(heading, role, unit):
    assert offered(heading) == (role, unit)


def test_only_the_records_own_headings_need_no_word():
    assert certain("cultivar")
    assert not certain("Variety")
    assert not certain("ssc_brix")  # it may be a mean


def test_two_figures_in_a_cell_are_no_fraction_where_others_are_none():
    """7/8 beside 10/9: 7 lb on one cheek and 8 lb on the other."""
    assert [is_pair(cell) for cell in ("10/9", "9/9", "7/9", "7/8", "3/4", "9 1/2", "9")] == [True, True, True, False, False, False, False]  # fmt: skip
    alone, beside = (figure(cell, How(ROLES["firmness 1"], "lbf", pairs=True)).said for cell in ("7/8", "10/9"))  # fmt: skip
    assert alone is not None
    assert alone == beside
    assert "0.875" not in alone[1]
