"""Days as dates, and as which reader's."""

from __future__ import annotations

from datetime import date

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.ripening import (
    axis_days,
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
        ("en-US,en;q=0.9", True), ("en", True), ("EN-us", True), ("en-GB,en-US;q=0.8", False), ("de-DE,en-US", False),
        ("", True), ("*", True), (" ", True), (";;,", True), ("<b>", False),
    ],
)  # fmt: skip
def test_dates_are_written_as_the_reader_writes_them(languages, first):
    with written_for(languages):
        assert month_first() == first
        assert day_label(195) == ("Jul 14" if first else "14 Jul")
        assert day_label(195, form="long") == ("July 14" if first else "14 July")
        assert half_label("07b") == ("Jul 16–31" if first else "16–31 Jul")
        assert date_label(date(2025, 7, 14)) == ("Jul 14, 2025" if first else "14 Jul 2025")
    assert day_label(float("nan")) == "–"
    assert date_label(pd.NaT) == "day unknown"


def test_a_day_of_picking_is_told_as_exactly_as_it_is_known():
    with written_for("en-GB"):
        assert picked_label(date(2024, 7, 4), 0, 2024) == "4 Jul 2024"
        assert picked_label(date(2024, 7, 4), 3, 2024) == "week of 1 Jul 2024"
        assert picked_label(pd.NaT, 0, 2024) == "2024"


def test_for_nobody_in_particular_the_month_is_written_first():
    """On paper, in files and where a browser does not say."""
    assert month_first()
    assert (day_label(239), half_label("08b"), date_label(date(2025, 8, 27))) == (
        "Aug 27",
        "Aug 16–31",
        "Aug 27, 2025",
    )


def labels(first: float, last: float, south: bool = False) -> list[str]:
    return [label for _, label in axis_days(first, last, south)]


def test_a_long_axis_names_its_months_and_numbers_their_fifteenth():
    assert labels(day_of(6, 10), day_of(8, 20)) == ["Jun 15", "Jul", "15", "Aug", "15"]


@pytest.mark.parametrize(
    ("first", "last", "told"),
    [((6, 10), (7, 20), ["Jun 15", "Jul 1", "Jul 15"]), ((7, 2), (7, 28), ["Jul 8", "Jul 15", "Jul 22"]),
     ((7, 13), (7, 24), ["Jul 15", "Jul 18", "Jul 22"])],
)  # fmt: skip
def test_a_short_axis_tells_month_and_day_at_every_mark(first, last, told):
    assert labels(day_of(*first), day_of(*last)) == told
    with written_for("en-GB"):
        assert labels(day_of(*first), day_of(*last)) == [" ".join(label.split()[::-1]) for label in told]


@given(st.integers(1, 365), st.integers(9, 200), st.booleans())
def test_whatever_the_span_an_axis_tells_dates(first, days, south):
    """From nine days on, the shortest any picture draws, every mark is a day within and its label says which."""
    marks = axis_days(float(first), float(first + days), south)
    assert len(marks) >= 2
    assert (
        marks[0][1] == day_label(marks[0][0], south)
        or marks[0][1] == day_label(marks[0][0], south).split()[0]
    )
    for day, label in marks:
        assert first <= day <= first + days
        month, of_month = day_label(day, south).split()
        assert label in {
            f"{month} {of_month}",
            *([month] if of_month == "1" else []),
            *(["15"] if of_month == "15" else []),
        }


@given(st.integers(1, 365), st.booleans())
def test_the_calendar_of_a_day_is_its_date(day, south):
    of_month, month = of_calendar(float(day), south)
    assert day_of(month, of_month, south) == day
