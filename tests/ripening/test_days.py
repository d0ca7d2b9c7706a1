"""Days as dates, and as which reader's."""

from __future__ import annotations

from datetime import date

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.ripening import (
    date_label,
    day_label,
    day_of,
    half_label,
    month_first,
    of_calendar,
    picked_label,
    written_for,
)


@pytest.mark.parametrize(
    ("languages", "first"),
    [
        ("en-US,en;q=0.9", True), ("en", True), ("EN-us", True), ("en-GB,en-US;q=0.8", False), ("de-DE,en-US", False), ("", False),
        ("<b>", False), (";;,", False),
    ],
)  # fmt: skip
def test_dates_are_written_as_the_reader_writes_them(languages, first):
    with written_for(languages):
        assert month_first() == first
        assert day_label(195) == ("Jul 14" if first else "14 Jul")
        assert day_label(195, form="long") == ("July 14" if first else "14 July")
        assert half_label("07b") == ("Jul 16–31" if first else "16–31 Jul")
        assert date_label(date(2025, 7, 14)) == ("Jul 14, 2025" if first else "14 Jul 2025")
    assert not month_first()
    assert day_label(float("nan")) == "–"
    assert date_label(pd.NaT) == "day unknown"


def test_a_day_of_picking_is_told_as_exactly_as_it_is_known():
    with written_for("en-GB"):
        assert picked_label(date(2024, 7, 4), 0, 2024) == "4 Jul 2024"
        assert picked_label(date(2024, 7, 4), 3, 2024) == "week of 1 Jul 2024"
        assert picked_label(pd.NaT, 0, 2024) == "2024"


@given(st.integers(1, 365), st.booleans())
def test_the_calendar_of_a_day_is_its_date(day, south):
    of_month, month = of_calendar(float(day), south)
    assert day_of(month, of_month, south) == day
