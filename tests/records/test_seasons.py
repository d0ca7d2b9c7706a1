"""The season and day of season, north and south."""

from __future__ import annotations

from datetime import date

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.records.seasons import season_and_day, southern


@pytest.mark.parametrize(
    ("day", "south", "season", "number"),
    [
        ("2023-01-01", False, 2023, 1),
        ("2023-12-31", False, 2023, 365),
        ("2024-12-31", False, 2024, 365),
        ("2024-02-28", False, 2024, 59),
        ("2024-02-29", False, 2024, 60),
        ("2024-03-01", False, 2024, 60),
        ("2024-07-14", False, 2024, 195),
        ("2023-07-14", False, 2023, 195),
        ("2023-07-01", True, 2024, 1),
        ("2023-12-31", True, 2024, 184),
        ("2024-01-01", True, 2024, 185),
        ("2024-02-29", True, 2024, 244),
        ("2024-03-01", True, 2024, 244),
        ("2024-06-30", True, 2024, 365),
        ("2023-06-30", True, 2023, 365),
    ],
)
def test_days_count_from_new_year_in_the_north_and_from_july_in_the_south(day, south, season, number):
    seasons, days = season_and_day(pd.Series(pd.to_datetime([day])), np.array([south]))
    assert (seasons[0], days[0]) == (season, number)


@given(
    st.lists(
        st.tuples(st.dates(date(1900, 7, 1), date(2100, 12, 31)), st.booleans()), min_size=1, max_size=20
    )
)
def test_a_date_is_the_same_day_in_every_year(drawn):
    dates = pd.Series(pd.to_datetime([day.isoformat() for day, _ in drawn], format="%Y-%m-%d"))
    seasons, days = season_and_day(dates, np.array([south for _, south in drawn]))
    for (day, south), season, number in zip(drawn, seasons, days, strict=True):
        plain = date(2023, 3, 1) if (day.month, day.day) == (2, 29) else day.replace(year=2023)
        of_year = (plain - date(2022, 12, 31)).days
        second_half = day.month >= 7
        assert season == day.year + (south and second_half)
        assert number == (of_year if not south else of_year - 181 if second_half else of_year + 184)


def test_a_site_without_a_latitude_counts_as_north():
    sites = pd.DataFrame({"site": ["a", "b", "c"], "latitude_deg": [-34.0, 39.0, np.nan]})
    assert southern(sites, pd.Series(["a", "b", "c", "a"])).tolist() == [True, False, False, True]
