"""Days in a list: what alone can be right stands behind the arrow with the day it makes, and what may be two does not."""

from __future__ import annotations

from datetime import date

import pytest

from dashboard.records.importing import dates
from dashboard.records.importing.day_lines import line
from dashboard.records.importing.mapping import Question

ORDERS = (dates.MONTH_FIRST, dates.DAY_FIRST)


def told(kind: str, cells: tuple[str, ...], options: tuple[str, ...] = ORDERS, **years: list[int | None]) -> tuple[str, str]:  # fmt: skip
    one = line(Question(("layout", 0, kind), "?", options), cells, years, "Picked, a.csv")
    return one.proposal, one.becomes


def test_the_order_that_alone_gives_days():
    assert told("order", ("6-17-24", "6-4-24"))[0] == "month/day"
    assert told("order", ("6/4", "6/5")) == ("", "month/day: Jun 4; day/month: Apr 6")


@pytest.mark.parametrize(
    ("years", "said"),
    [
        ({"file": [2023, 2024]}, "file"), ({"file": [2023], "sheet": [2023]}, "file"), ({"file": [2023], "sheet": [2024]}, ""),
        ({"file": [2023, None]}, ""), ({"file": [date.today().year + 1]}, ""), ({}, ""),
    ],
)  # fmt: skip
def test_a_year_that_every_name_has_and_none_has_otherwise(years, said):
    assert told("year", ("Jul 3",), (), **years)[0] == said


def test_days_by_number_that_lie_ahead_are_no_picks():
    assert told("counted_from", ("45488",), (dates.FROM_1900, dates.FROM_1904))[0] == dates.FROM_1900
    assert told("counted_from", ("40000",), (dates.FROM_1900, dates.FROM_1904))[0] == ""
