"""What each wish costs a cultivar's score."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.market import Market, Wish, desirability, overall
from dashboard.market.costs import costs

SWEET, LARGE = Wish("sugar", "larger", 8, 14, 14, 3.0), Wish("size", "larger", 50, 70, 70, 1.0)
FIRM = Wish("firmness", "target", 20, 40, 60, 2.0)
MARKET = Market("m", "M", "", (), (SWEET, LARGE, FIRM))


def score(values: dict) -> float:
    return float(overall([float(desirability(w, values[w.key])) for w in MARKET.wishes], [3, 1, 2]))


def test_the_dearest_comes_first_and_costs_what_the_score_would_gain():
    values = {"sugar": 11.0, "size": 69.0, "firmness": 40.0}
    first, second, last = costs(MARKET, values)
    assert [first.wish, second.wish, last.wish] == [SWEET, LARGE, FIRM]
    assert first.costs == pytest.approx(score({**values, "sugar": 14.0}) - score(values))
    assert (last.costs, last.welcome, last.met_from) == (0, 1, 40)
    assert first.share == pytest.approx(0.5)


def test_one_wish_not_met_at_all_costs_everything():
    found = costs(MARKET, {"sugar": 7.0, "size": 70.0, "firmness": 40.0})
    assert (found[0].wish, found[0].costs) == (SWEET, pytest.approx(1.0))


def test_without_a_reading_nothing_can_be_said():
    found = costs(MARKET, {"sugar": 11.0, "firmness": 40.0})
    assert all(np.isnan(one.costs) for one in found if one.wish is not LARGE)
    assert next(np.isnan(one.value) for one in found if one.wish is LARGE)
    assert costs(Market("m", "M", "", (), ()), {}) == ()


@given(st.floats(8.1, 20), st.floats(51, 90), st.floats(21, 59))
def test_no_wish_costs_less_than_nothing_or_more_than_the_rest_of_the_score(sugar, size, firmness):
    values = {"sugar": sugar, "size": size, "firmness": firmness}
    for one in costs(MARKET, values):
        assert -1e-9 <= one.costs <= 1 - score(values) + 1e-9
