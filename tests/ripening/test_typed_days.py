"""A selling day as somebody types it."""

from __future__ import annotations

import pytest

from dashboard.ripening import day_of
from dashboard.ripening.typed_days import day_typed


@pytest.mark.parametrize(
    "text", ["Jun 10", "jun 10", "June 10", " 10  June ", "10 Jun", "10. Jun.", "2027-06-10", "Jun 10, 2027", "10 June 2027"]
)  # fmt: skip
def test_one_day_in_many_ways(text):
    assert day_typed(text) == day_of(6, 10)


def test_a_southern_season_runs_over_new_year():
    assert day_typed("Dec 20", south=True) + 22 == day_typed("2028-01-11", south=True)
    assert day_typed("Sept 1", south=True) < day_typed("Mar 1", south=True)


@pytest.mark.parametrize(
    "text", ["", "Feb 30", "2027-02-30", "Foo 3", "J 3", "6/10", "10.6.", "Jun", "<b>Jun 10</b>", "Jun 10 to Jun 12", "2027-6-1"]
)  # fmt: skip
def test_what_is_no_day_is_one_sentence_that_says_how_to_write_one(text):
    with pytest.raises(ValueError, match=r"^[^\n]+; write it as Jun 10 or 2027-06-10\.$"):
        day_typed(text)
