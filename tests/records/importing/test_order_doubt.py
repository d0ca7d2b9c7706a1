"""A file whose days stand better with the other number as the month is asked about by itself; where they stand well nothing is asked."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import numpy as np
from hypothesis import given
from hypothesis import strategies as some

from dashboard.records import read
from dashboard.records.importing.order_doubt import of_the_year, span_of
from tests.records.importing.season import came_in
from tests.records.importing.test_twelve_ways import csv_file


def month_first(day: date) -> str:
    return f"{day.month}/{day.day}/{day.year}"


def day_first(day: date) -> str:
    return f"{day.day}/{day.month}/{day.year}"


HEAD = ("Cultivar", "Site", "Date", "Red")
ANSWERS = {"order": "month/day", "scale": "0 to 10, 10 best", "Low": "Low", "Alvane": "Alvane"}


def test_one_answer_does_not_hold_for_a_file_that_was_typed_the_other_way(tmp_path):
    days = [date(2016, 7, 5) + timedelta(days=7 * week) for week in range(5)]  # to August 2
    ways = {
        "ours.csv": (month_first, days[:2]),
        "theirs.csv": (day_first, days[2:4]),  # 19/7 is no day with the month first
        "one day.csv": (day_first, days[4:]),  # 2/8 would be February
        "iso.csv": (date.isoformat, [day.replace(year=2017) for day in days[:2]]),
    }
    files = [csv_file(tmp_path / name, HEAD, [["Alvane", "Low", way(day), 5] for day in some]) for name, (way, some) in ways.items()]  # fmt: skip
    _, replies = came_in(files, tmp_path / "trial", {**ANSWERS, "theirs.csv": "day/month", "one day.csv": "day/month"})  # fmt: skip
    asked = {one.path[-1]: one for one in replies.asked if one.path[-2] == "order_of"}
    assert [*asked] == ["theirs.csv", "one day.csv"]
    assert asked["theirs.csv"].asks.startswith("some of these days are none with month/day")
    assert asked["one day.csv"].shown == ("  “2/8/2016” → month/day: 2016-02-08; day/month: 2016-08-02",)
    every = [day for _, some in ways.values() for day in some]
    assert picked(tmp_path / "trial") == sorted(every)
    later = [
        day.replace(year=2018) for day in days[:2]
    ]  # 5/7 and 12/7: by the answer of last week May and December
    again = csv_file(tmp_path / "next.csv", HEAD, [["Alvane", "Low", day_first(day), 5] for day in later])
    _, replies = came_in([again], tmp_path / "trial", {"next.csv": "day/month", "scale": "0 to 10, 10 best"})
    assert [one.path[-1] for one in replies.asked if "scale" not in one.path] == ["next.csv"]
    assert picked(tmp_path / "trial") == sorted(every + later)


def picked(trial: Path) -> list[date]:
    return sorted(day.date() for day in read(trial).tables["samples"]["date"])


def test_days_of_both_orders_in_one_file_are_flagged(tmp_path):
    rows = [["Alvane", "Low", day, 5] for day in ("7/8/2016", "7/19/2016", "16/8/2016")]
    outcome, _ = came_in([csv_file(tmp_path / "a.csv", HEAD, rows)], tmp_path / "trial", ANSWERS)
    (flag,) = [one for one in outcome.problems if one.severity == "flag"]
    assert (flag.row, flag.column, flag.value) == (2, "C", "7/8/2016")
    assert flag.rule == "is read as month/day, and “16/8/2016” beside it is a day as day/month alone"
    assert outcome.counts["aside"] == 4  # the row that is no day so


@given(some.integers(0, 364), some.lists(some.integers(0, 120), min_size=1, max_size=12))
def test_a_season_that_goes_over_the_end_of_the_year_is_no_longer_for_it(first, after):
    begin = date(2021, 1, 1) + timedelta(days=first)
    days = of_the_year((begin + timedelta(days=day)).isoformat() for day in after)
    assert span_of(days) == max(after) - min(after)


def test_weeks_and_years_alone_are_no_days():
    assert np.array_equal(of_the_year(["2016-W27", "2016", "2016-01-01"]), [1])
