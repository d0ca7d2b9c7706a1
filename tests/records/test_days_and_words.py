"""Days, words of a class, yes and no: what is taken, what is refused, and what is said of it."""

from __future__ import annotations

from datetime import date

import pandas as pd
import pytest

from dashboard.records.declaration import Declaration
from tests.records.cells import read_cell


@pytest.mark.parametrize(
    "cell", ["2024-07-03", "2024-7-3", "2024-07-03T00:00:00", "2024-07-03 14:30:00", "2024-07-03 00:00"]
)
def test_days_are_read_year_month_day(cell):
    got, problem = read_cell("samples", "date", cell)
    assert problem is None
    assert got == pd.Timestamp(2024, 7, 3)


@pytest.mark.parametrize(
    ("cell", "suggestion"),
    [
        ("03/07/2024", "write 2024-07-03 or 2024-03-07"),
        ("13/07/2024", "write 2024-07-13"),
        ("07/13/2024", "write 2024-07-13"),
        ("3.7.2024", "write 2024-07-03 or 2024-03-07"),
        ("07/07/2024", "write 2024-07-07"),
        ("45476", "write 2024-07-03"),
        ("2024-02-30", "correct the month or the day"),
        ("2024-13-01", "correct the month or the day"),
        ("3 July 2024", "like 2024-07-03"),
        ("2024-07", "like 2024-07-03"),
        ("9999-99-99", ""),
        ("yesterday", "like 2024-07-03"),
        ("July", "2024-W27 where only the week is known, 2024 where only the year is"),
        ("2024-07-03T14:30:00Z", "write the day there, like 2024-07-03"),
        ("=B2", "or write the value"),
    ],
)
def test_another_form_of_date_is_refused_with_what_to_write(cell, suggestion):
    got, problem = read_cell("samples", "date", cell)
    assert got is None
    assert problem.rule.endswith("the row is set aside")
    assert suggestion in problem.suggestion


def test_a_day_outside_the_seasons_declared_is_refused():
    declaration = Declaration(seasons=(2023, 2024))
    assert declaration.dates == (date(2023, 1, 1), date(2024, 12, 31))
    for inside in ("2023-01-01", "2024-12-31"):
        assert read_cell("samples", "date", inside, declaration)[1] is None
    for outside in ("2022-12-31", "2025-01-01", "0024-07-01"):
        assert (
            "is outside the years of these records"
            in read_cell("samples", "date", outside, declaration)[1].rule
        )


@pytest.mark.parametrize(("cell", "word"), [("free", "free"), (" FREE ", "free"), ("Semi-Free", "semi-free")])
def test_words_of_a_class_are_read_in_any_case(cell, word):
    assert read_cell("cultivars", "stone", cell) == (word, None)


@pytest.mark.parametrize(
    ("heading", "cell", "suggestion"),
    [("stone", "freestone", "did you mean free?"), ("stone", "clingstone", "did you mean cling?"), ("flesh_colour", "yelow", "did you mean yellow?"), ("stone", "7", "write cling, semi-free or free")],
)  # fmt: skip
def test_another_word_is_set_aside_with_the_nearest(heading, cell, suggestion):
    got, problem = read_cell("cultivars", heading, cell)
    assert pd.isna(got)
    assert suggestion in problem.suggestion


@pytest.mark.parametrize(
    ("cell", "value"),
    [("yes", True), ("Y", True), ("TRUE", True), ("1", True), ("no", False), ("0", False), ("", False)],
)
def test_yes_and_no(cell, value):
    assert read_cell("cultivars", "check", cell) == (value, None)


def test_neither_yes_nor_no_is_no_and_told():
    got, problem = read_cell("cultivars", "check", "maybe")
    assert not got
    assert problem.severity == "error"
