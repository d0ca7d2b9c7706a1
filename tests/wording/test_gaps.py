"""Cover and gaps in words: the same on page, paper and slate, and a gap never reads as none."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from dashboard.answers.question import Question
from dashboard.ripening.cover import CERTAINTIES, Cover, Draws, Gap
from dashboard.wording.gaps import gap_told, near_told, nearest_told

LIST = ("Aldrum", "Trenirrin")


def gap(*days: float) -> Gap:
    return Gap(215.0, 223.0, 0.41, days, 0.2)


@pytest.mark.parametrize(
    ("days", "told"),
    [
        ((6, 10, 15), "expect 10 days without fruit (6–15)"),
        ((1, 1, 1), "expect 1 day without fruit"),
        ((0, 3, 6), "expect 3 days without fruit (up to 6)"),
        ((0, 0, 4), "expect fruit every day in most years, but 1 in 10 without it for 4 days or more"),
        ((0, 0.5, 0.9), "expect fruit every day in most years, but 1 in 10 without it for 1 day or more"),
    ],
)
def test_how_long_it_lies_bare(days, told):
    assert gap_told(gap(*days), False) == (
        f"Aug 3 to Aug 11: fruit in 41 of 100 years on its worst day; there and around it {told}"
    )


@pytest.mark.parametrize("certainty", CERTAINTIES)
@pytest.mark.parametrize("year", ["ordinary", "any"])
def test_no_gap_of_the_demo_reads_no_days(demo, certainty, year):
    asked = Question(demo, certainty=certainty, season_kind=year)
    few = [str(name) for name in asked.ranking.index[::9]]
    seen = 0
    for names in (LIST, tuple(few)):
        for found in replace(asked, shortlist=names).cover.gaps:
            assert not re.search(r"(?<!\d)0(?:–\d+\)| days)", gap_told(found, False)), found
            seen += 1
    assert seen


def test_how_near_its_days_come_and_which_comes_nearest():
    """Of ten seasons the first ends on day 9, two more on day 14, the rest on day 19."""
    last = np.array([9.0, 14.0, 14.0, *[19.0] * 7])[:, None]
    cover = Cover(Draws(pd.Index(["A"]), np.full((10, 1), 1.0), last), ("A",), (1.0, 20.0))
    (left,) = cover.gaps
    assert near_told(cover, left, False) == "fruit in 0 to 70 years of 100, most on Jan 15"
    assert nearest_told(cover, False) == "Nearest to being covered: Jan 15, fruit in 70 of 100 years."
    assert nearest_told(Cover(cover.draws, ("A",), (1.0, 14.0)), False) == ""  # no gap
    assert nearest_told(Cover(cover.draws, (), (1.0, 14.0)), False) == ""  # none of its days ever has fruit
