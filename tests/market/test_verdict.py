"""The one word for a cultivar: by the chance that every limit holds, by the averages only without one, open without a reading."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.market import Limit, Market
from dashboard.market.prospects import Outlook
from dashboard.market.verdict import VERDICTS, judged, verdicts

SWEET = Limit("trait", "sugar", at_least=10.0)
LARGE = Limit("trait", "size", at_least=60.0)


def fit(*missed: tuple) -> pd.DataFrame:
    column = pd.Series(list(missed), dtype=object)
    return pd.DataFrame({"by_averages": [not row for row in missed], "missed": column})


@pytest.mark.parametrize(
    ("chance", "word"),
    [
        (1.0, "qualifies"), (0.8, "qualifies"), (0.799, "may qualify"), (0.33, "may qualify"), (0.32, "may qualify"), (0.2, "may qualify"),
        (0.199, "misses"), (0.0, "misses"), (np.nan, "not known"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("missed", [(), ((SWEET, 9.0),)])
def test_the_chance_alone_decides_where_there_is_one(chance, word, missed):
    assert verdicts(np.array([chance]), fit(missed)).tolist() == [word]


def test_without_chances_the_averages_decide_and_a_missing_reading_is_open():
    rows = fit((), ((SWEET, 9.0),), ((SWEET, None),), ((SWEET, None), (LARGE, 55.0)))
    assert verdicts(None, rows).tolist() == ["qualifies", "misses", "not known", "misses"]


@given(st.lists(st.floats(0, 1), min_size=2, max_size=20))
def test_a_better_chance_never_has_a_worse_word(chances):
    ordered = np.sort(np.array(chances))
    places = verdicts(ordered, fit(*[()] * len(ordered))).cat.codes
    assert places.is_monotonic_decreasing
    assert places.max() < len(VERDICTS)


def found(chance: list[float], by_limit: list[list[float]]) -> Outlook:
    """Only what a verdict reads: the chance of all limits, and of each alone (limits, cultivars)."""
    none = np.zeros(0)
    market = Market("m", "M", "", (SWEET, LARGE), ())
    return Outlook(market, none, none, np.array(by_limit), np.array(chance), none, none)


def test_the_limit_least_likely_to_hold_is_told_with_what_was_seen_of_it():
    """One without a reading is not the least likely; where none has one, none is told."""
    seen = pd.Series([(9.0, 66.0), (12.0, 58.0), (None, 61.0), (None, None)], dtype=object)
    rows = fit((), (), (), ()).assign(seen=seen)
    nan = np.nan
    told = judged(rows, found([0.3, 0.9, nan, 0.0], [[0.3, 0.95, nan, nan], [0.9, 0.92, 0.7, nan]]))
    assert told["least_sure"].tolist() == [(SWEET, 9.0), (LARGE, 58.0), (LARGE, 61.0), (None, None)]
    assert told["verdict"].tolist() == ["may qualify", "qualifies", "not known", "misses"]
    assert told["taken"].tolist() == [True, True, False, False]
    np.testing.assert_array_equal(told["clears"], [0.3, 0.9, nan, 0.0])
    assert told["judged_by_averages"].tolist() == [False] * 4


def test_what_is_judged_by_averages_says_so_and_tells_no_chance():
    rows = fit((), ((SWEET, 9.0),)).assign(seen=pd.Series([(12.0,), (9.0,)], dtype=object))
    told = judged(rows, None)
    assert told["judged_by_averages"].tolist() == [True, True]
    assert told["clears"].isna().all()
    assert told["least_sure"].tolist() == [(None, None)] * 2
    assert told["taken"].tolist() == [True, False]


def test_a_market_without_limits_has_no_least_sure_one():
    rows = fit(()).assign(seen=pd.Series([()], dtype=object))
    assert judged(rows, found([1.0], []))["least_sure"].tolist() == [(None, None)]
