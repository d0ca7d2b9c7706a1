"""Cover and gaps in words: the same on page, paper and slate, and a gap never reads as none."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from dashboard.answers.question import Question
from dashboard.ripening.cover import CERTAINTIES, Cover, Draws, Gap
from dashboard.wording.gaps import gap_told, near_told, whole_told

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


@pytest.mark.parametrize(
    ("missing", "kind", "told"),
    [
        (0, "any", "In more than 9 years in 10 all 20 days have fruit. Expect less than 1 day a year without fruit."),
        (3, "any", "In about 7 years in 10 all 20 days have fruit. Expect about 3 days a year without fruit; in the worst year of ten 10 or more."),
        (9, "late", "In about 1 late year in 10 all 20 days have fruit. Expect about 9 days a year without fruit; in the worst year of ten 10 or more."),
        (10, "any", "In fewer than 1 year in 10 all 20 days have fruit. Expect about 10 days a year without fruit; in the worst year of ten 10 or more."),
    ],
)  # fmt: skip
def test_a_whole_season_in_words(missing, kind, told):
    """Of ten seasons the last ten days of 20 lie bare in so many."""
    last = np.where(np.arange(10) < missing, 9.0, 19.0)[:, None]
    cover = Cover(Draws(pd.Index(["A"]), np.zeros((10, 1)), last), ("A",), (0.0, 19.0))
    assert whole_told(cover, kind) == told
    assert whole_told(cover, kind, "Stand") == f"Stand: i{told[1:]}"
    near = [near_told(cover, gap) for gap in cover.gaps]
    assert near == [f"fruit in {100 - 10 * missing} years of 100"] * (missing > 2)
    few = Cover(cover.draws, cover.names, cover.span, least=2)
    assert "enough fruit. Expect about 20 days a year with too little fruit" in whole_told(few, kind)
