"""Cells to days, and how exactly each is known."""

from __future__ import annotations

import datetime as dt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.records import read
from dashboard.records.days import DATE, DAY, WEEK, YEAR, coarsened, days_of
from dashboard.records.summary import sample_summaries
from dashboard.records.writing import write
from dashboard.ripening import picks
from tests.records.small import DECLARED, row, tables, told, write_folder, write_workbook


def day_of(cell: str, coarse: bool = True):
    days, known = days_of([cell], coarse)
    return (None if np.isnat(days[0]) else str(days[0])[:10]), known[0]


@pytest.mark.parametrize(
    ("cell", "day", "known"),
    [
        ("2024-07-03", "2024-07-03", DAY),
        ("2024-07-03T23:59", "2024-07-03", DAY),
        ("2024-W27", "2024-07-04", WEEK),  # 1 to 7 July 2024; a week stands for its Thursday (ISO 8601)
        ("2024W27", "2024-07-04", WEEK),
        ("2020-W53", "2020-12-31", WEEK),
        ("2024", "2024-01-01", YEAR),
    ],
)
def test_a_day_a_week_and_a_year_are_told_by_the_cell(cell, day, known):
    assert day_of(cell) == (day, known)


@pytest.mark.parametrize(
    "cell",
    [
        "2024-W54",
        "2024-W00",
        "2021-W53",
        "24",
        "20240",
        "202407",
        "2024-07",
        "W27",
        "20.24",
        "2024.0",
        "0999",
    ],
)
def test_what_is_neither_is_no_day(cell):
    assert day_of(cell)[0] is None


@pytest.mark.parametrize("cell", ["2024", "2024-W27"])
def test_where_a_day_is_needed_a_week_or_a_year_is_none(cell):
    assert day_of(cell, coarse=False)[0] is None


@given(st.dates(dt.date(1950, 1, 1), dt.date(2100, 12, 31)))
def test_a_coarse_day_lies_in_its_own_week_or_year(day):
    days = np.array([day] * 3, dtype=DATE)
    whole, week, year = coarsened(days, np.array([DAY, WEEK, YEAR])).astype("datetime64[D]").astype(dt.date)
    assert whole == day
    assert (week.isocalendar()[:2], week.isoweekday()) == (day.isocalendar()[:2], 4)
    assert year == dt.date(day.year, 1, 1)


@pytest.mark.parametrize(
    "cell", ["2024-07-03T14:30:00Z", "2024-07-03T14:30:00+02:00", "2024-07-03 14:30-0700"]
)
def test_a_time_with_a_time_zone_is_refused_in_one_sentence(tmp_path, cell):
    grids = tables()
    row(grids["samples"], 3)[3] = cell
    problem = read(write_folder(tmp_path, grids)).problems[0]
    assert (problem.severity, problem.row, problem.value) == ("error", 3, cell)
    assert "has a time zone" in problem.rule
    assert problem.suggestion == "write the day there, like 2024-07-03"


# ---- what comes of it -------------------------------------------------------------------------------------


def summaries(records):
    return sample_summaries(records).set_index("sample")


@pytest.mark.parametrize("kind", ["folder", "workbook"])
def test_of_a_year_alone_the_season_is_known_and_the_day_is_not(tmp_path, kind):
    grids = tables()
    row(grids["samples"], 2)[3] = "2023"
    records = read(
        write_folder(tmp_path / "a", grids)
        if kind == "folder"
        else write_workbook(tmp_path / "a.xlsx", grids)
    )
    one = summaries(records).loc["S1"]
    assert (one["season"], one["size_n"]) == (2023, 3)
    assert np.isnan(one["day"])
    assert one.isna()["date"]
    found = picks(sample_summaries(records))
    assert found[["cultivar", "season"]].to_numpy().tolist() == [
        ["Alvane", 2024],
        ["Brintel", 2024],
        ["T 12-034", 2024],
    ]


def test_of_a_week_the_picking_is_told_from_monday_to_sunday(tmp_path):
    grids = tables()
    row(grids["samples"], 2)[3] = "2023-W27"  # 3 to 9 July 2023, days 184 to 190 of the year
    found = picks(sample_summaries(read(write_folder(tmp_path, grids)))).set_index(["cultivar", "season"])
    assert found.loc[("Alvane", 2023), ["first", "middle", "last"]].tolist() == [184, 187, 190]
    assert found.loc[("Alvane", 2024), ["first", "middle", "last"]].tolist() == [186, 186, 186]  # 5 July 2024


@pytest.mark.parametrize(("precision", "known"), [("day", 4), ("week", 4), ("year", 0)])
def test_what_is_declared_holds_for_every_date(tmp_path, precision, known):
    records = read(write_folder(tmp_path, tables(), DECLARED | {"date_precision": precision}))
    assert records.problems == ()
    assert records.tables["samples"]["date_precision"].unique().tolist() == [precision]
    assert summaries(records)["day"].notna().sum() == known
    assert summaries(records)["season"].tolist() == [2023, 2024, 2024, 2024]


def test_the_cell_beside_a_date_goes_before_what_is_declared(tmp_path):
    grids = tables()
    for cells, word in zip(grids["samples"], ["date_precision", "year", "", "day", "week"], strict=True):
        cells.append(word)
    records = read(write_folder(tmp_path, grids, DECLARED | {"date_precision": "week"}))
    assert records.tables["samples"]["date_precision"].tolist() == ["year", "week", "day", "week"]


def test_a_year_in_the_south_is_that_of_its_season(tmp_path):
    grids = tables()
    row(grids["samples"], 2)[3] = "2023"
    for cells in grids["sites"][1:]:
        cells[2] = "-34"
    assert summaries(read(write_folder(tmp_path, grids))).loc["S1", "season"] == 2023


def test_coarse_dates_come_back_as_they_were_written(tmp_path):
    grids = tables()
    row(grids["samples"], 2)[3], row(grids["samples"], 3)[3] = "2023", "2024-W27"
    first = read(write_folder(tmp_path / "first", grids))
    write(first.tables, first.declaration, tmp_path / "second")
    again = read(tmp_path / "second").tables["samples"]
    assert again.equals(first.tables["samples"])


def test_another_precision_is_told(tmp_path):
    (problem,) = told(read(write_folder(tmp_path, tables(), DECLARED | {"date_precision": "month"})).problems)
    assert problem.rule == "is not day, week or year; day is taken to hold"
