"""A day that may have been one of two names is offered as the one that all other days of the import tell of, and no other is."""

from __future__ import annotations

from dashboard.records.importing.made_of import by_one_country, made_of

NAMES = ("3-8", "8-3", "5-3", "Feb-76", "MAR 5")


def test_what_was_made_of_a_name_is_none_itself():
    assert made_of("1976-02-01", NAMES)[1] == ()
    assert made_of("2021-08-03", NAMES)[1] == ("3-8", "8-3")


def test_one_country_of_all_decides_and_two_do_not():
    sole = {"5-Mar": ("5-3",)}  # the day stood first
    two = {"3-Aug": ("3-8", "8-3"), "2021-03-08": ("3-8", "8-3")}
    assert by_one_country(two) == {}
    assert by_one_country(sole | two) == {"3-Aug": "3-8", "2021-03-08": "8-3"}
    assert by_one_country(sole | two | {"7-Apr": ("4-7",)}) == {}
    assert by_one_country(sole | {"2020-05-03": ("5-3", "MAY 3")}) == {}
