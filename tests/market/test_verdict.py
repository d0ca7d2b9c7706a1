"""The one word for a cultivar: by the chance that every limit holds, by the averages only without one, open without a reading."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.market import Limit
from dashboard.market.verdict import VERDICTS, verdicts

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
