"""A file whose days stand better with the other number as the month is asked about by itself; where they stand well nothing is asked."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
from hypothesis import given
from hypothesis import strategies as some

from dashboard.records.importing.order_doubt import of_the_year, span_of
from tests.records.importing.season import came_in, is_true, season
from tests.records.importing.test_twelve_ways import LONG, csv_file, long_rows


def month_first(day: date) -> str:
    return f"{day.month}/{day.day}/{day.year}"


def day_first(day: date) -> str:
    return f"{day.day}/{day.month}/{day.year}"


def test_one_answer_does_not_hold_for_a_file_that_was_typed_the_other_way(tmp_path):
    samples = season(5)  # July 5, 12, 19, 26 and August 2
    early, late, last = samples[:10], samples[10:20], samples[20:]
    files = [
        csv_file(tmp_path / "ours.csv", LONG, long_rows(early, month_first)),
        csv_file(tmp_path / "theirs.csv", LONG, long_rows(late, day_first)),  # 19/7 is no day with the month first
        csv_file(tmp_path / "one day.csv", LONG, long_rows(last, day_first)),  # 2/8 would be February
        csv_file(tmp_path / "iso.csv", LONG, long_rows(season(1, 2017))),
    ]  # fmt: skip
    answers = {"order": "month/day", "theirs.csv": "day/month", "one day.csv": "day/month"}
    _, replies = came_in(files, tmp_path / "trial", answers)
    asked = {one.path[-1]: one for one in replies.asked if one.path[-2] == "order_of"}
    assert [*asked] == ["theirs.csv", "one day.csv"]
    assert asked["theirs.csv"].asks.startswith("some of these days are none with month/day")
    assert asked["one day.csv"].shown == ("  “2/8/2016” → month/day: 2016-02-08; day/month: 2016-08-02",)
    is_true(tmp_path / "trial", [*samples, *season(1, 2017)])
    again = csv_file(tmp_path / "next.csv", LONG, long_rows(season(2, 2018), day_first))  # 5/7 and 12/7
    _, replies = came_in([again], tmp_path / "trial", {"next.csv": "day/month"})
    assert [one.path[-1] for one in replies.asked] == [
        "next.csv"
    ]  # the answer of last week would make it May and December
    is_true(tmp_path / "trial", [*samples, *season(1, 2017), *season(2, 2018)])


@given(some.integers(0, 364), some.lists(some.integers(0, 120), min_size=1, max_size=12))
def test_a_season_that_goes_over_the_end_of_the_year_is_no_longer_for_it(first, after):
    begin = date(2021, 1, 1) + timedelta(days=first)
    days = of_the_year((begin + timedelta(days=day)).isoformat() for day in after)
    assert span_of(days) == max(after) - min(after)


def test_weeks_and_years_alone_are_no_days():
    assert np.array_equal(of_the_year(["2016-W27", "2016", "2016-01-01"]), [1])
