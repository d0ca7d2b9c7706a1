"""The one statement on a season, in words, of known draws."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.ripening.cover import Cover, Draws
from dashboard.wording.covered import left, often, statement

SPAN = (0.0, 19.0)


def drawn(*last: float, span: tuple[float, float] = SPAN, least: int = 1) -> Cover:
    """Ten seasons of one cultivar, picked from the first day to ``last``."""
    return Cover(Draws(pd.Index(["A"]), np.zeros((10, 1)), np.array(last)[:, None]), ("A",), span, least)


@pytest.mark.parametrize(
    ("short", "kind", "told"),
    [
        (0, "any", "Each of the 20 days has fruit in at least 8 years in 10. That leaves less than 1 day a year without."),
        (2, "any", "Each of the 20 days has fruit in at least 8 years in 10. That leaves about 2 days a year without, not the same ones each year; 10 or more in the worst year of ten."),
        (3, "any", "10 of 20 days have fruit in at least 8 years in 10. That leaves about 3 days a year without; 10 or more in the worst year of ten."),
        (9, "late", "10 of 20 days have fruit in at least 8 late years in 10. That leaves about 9 days in a late year without; 10 or more in the worst year of ten."),
        (10, "any", "10 of 20 days have fruit in at least 8 years in 10. That leaves about 10 days a year without."),
    ],
)  # fmt: skip
def test_what_a_covered_day_is_and_what_that_leaves_of_a_year(short, kind, told):
    """Of ten seasons the last ten days of 20 lie bare in so many."""
    cover = drawn(*[9.0] * short, *[19.0] * (10 - short))
    assert statement(cover, kind) == told
    first, second = told.split(". ")
    assert often(cover, kind, "Stand") == f"Stand: {first[0].lower()}{first[1:]}."
    assert left(cover, kind, "Stand") == f"Stand: t{second[1:]}"


def test_one_day_or_none_and_too_few_at_once():
    ended = [-1.0] * 10
    assert often(drawn(*ended), "any") == "Not one of the 20 days has fruit in at least 8 years in 10."
    assert often(drawn(*[0.0] * 10), "any") == "1 of 20 days has fruit in at least 8 years in 10."
    assert (
        often(drawn(*[0.0] * 10, span=(0.0, 0.0)), "any")
        == "The one day has fruit in at least 8 years in 10."
    )
    few = statement(drawn(*[19.0] * 10, least=2), "any")
    assert (
        few
        == "Not one of the 20 days has enough fruit in at least 8 years in 10. That leaves about 20 days a year with too little."
    )
