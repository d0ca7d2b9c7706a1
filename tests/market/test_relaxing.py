"""Which limit keeps most out on its own, and who misses a market by least."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.market import Limit, Market, fit, judged
from dashboard.market.relaxing import NEAREST, nearest_misses, openings

YELLOW = Limit("class", "flesh_colour", ("yellow",))
SWEET = Limit("trait", "sugar", at_least=10.0, at_most=14.0)
LARGE = Limit("trait", "size", at_least=60.0, share=0.8)
MARKET = Market("m", "M", "", (YELLOW, SWEET, LARGE), ())
NAMES = ["In", "White", "Sour", "Sourer", "Small", "Smaller", "Both", "Unread"]
SHARES = {LARGE: np.array([0.9, 0.9, 0.9, 0.9, 0.7, 0.5, 0.5, 0.9])}


@pytest.fixture(scope="module")
def stands() -> pd.DataFrame:
    index = pd.Index(NAMES, name="cultivar")
    known = pd.DataFrame({"flesh_colour": ["yellow", "white", *["yellow"] * 6]}, index=index)
    sugar = pd.DataFrame({"estimate": [12.0, 12, 9.5, 9.0, 12, 12, 9, np.nan]}, index=index)
    return judged(fit(MARKET, known, {"sugar": sugar}, pd.DataFrame(), SHARES), None)


ALL = np.ones(len(NAMES), dtype=bool)


def test_the_limit_that_keeps_most_out_alone_comes_first_with_what_would_do(stands):
    found = openings(MARKET, stands, ALL)
    assert [(one.limit, one.lets_in) for one in found] == [(SWEET, 3), (LARGE, 2), (YELLOW, 1)]
    assert (found[0].first, found[0].bound, found[0].end) == ("Sour", 9.5, "at_least")
    assert (found[1].first, found[1].bound, found[1].end) == ("Small", 0.7, "share")
    assert (found[2].first, found[2].bound, found[2].end) == ("White", "white", "any_of")


def test_a_limit_eased_to_what_it_says_lets_the_nearest_in(stands):
    from dataclasses import replace

    first = openings(MARKET, stands, ALL)[0]
    eased = replace(MARKET, limits=(YELLOW, replace(SWEET, at_least=first.bound), LARGE))
    index = stands.index
    known = pd.DataFrame({"flesh_colour": ["yellow", "white", *["yellow"] * 6]}, index=index)
    sugar = pd.DataFrame({"estimate": [12.0, 12, 9.5, 9.0, 12, 12, 9, np.nan]}, index=index)
    assert fit(eased, known, {"sugar": sugar}, pd.DataFrame(), SHARES).loc["Sour", "by_averages"]


def test_a_limit_from_above_is_eased_upward():
    soft = Limit("trait", "firmness", at_most=40.0)
    index = pd.Index(["A", "B"])
    values = {"firmness": pd.DataFrame({"estimate": [47.0, 44.0]}, index=index)}
    market = Market("m", "M", "", (soft,), ())
    (found,) = openings(
        market, judged(fit(market, pd.DataFrame(index=index), values, pd.DataFrame()), None), ALL[:2]
    )
    assert (found.first, found.bound, found.end) == ("B", 44.0, "at_most")


def test_only_those_asked_about_count_and_a_reading_that_is_missing_has_no_bound(stands):
    only = np.array([name == "Unread" for name in NAMES])
    (found,) = openings(MARKET, stands, only)
    assert (found.limit, found.lets_in, found.bound) == (SWEET, 1, None)
    assert openings(MARKET, stands, np.array([name == "In" for name in NAMES])) == ()


def test_nearest_is_who_most_likely_clears_it_after_all_and_a_wrong_class_is_last(stands):
    chance = np.array([0.9, 0.0, 0.4, 0.1, 0.3, 0.0, 0.05, 0.0])
    spread = {"sugar": 1.0}
    assert nearest_misses(stands, chance, ALL, spread) == ["Sour", "Small", "Sourer", "Both", "Smaller"]
    assert "In" not in nearest_misses(stands, chance, ALL, spread)
    assert len(nearest_misses(stands, None, ALL, spread)) == NEAREST


def test_where_the_chance_is_nil_for_all_the_least_short_is_nearest(stands):
    """Sour is half a spread short, Small by the normal tail from 80 to 70 per cent (0.32), Sourer by one, Smaller by 0.84."""
    nearest = nearest_misses(stands, np.full(len(NAMES), 0.004), ALL, {"sugar": 1.0})
    assert nearest == ["Small", "Sour", "Smaller", "Sourer", "Both"]
    wide = nearest_misses(stands, None, ALL, {"sugar": 10.0})
    assert wide[:2] == ["Sour", "Sourer"]  # short by little where cultivars differ much


@given(st.lists(st.booleans(), min_size=len(NAMES), max_size=len(NAMES)))
def test_what_each_limit_lets_in_never_exceeds_who_is_out(stands, among):
    among = np.array(among)
    found = openings(MARKET, stands, among)
    assert sum(one.lets_in for one in found) <= int((~stands["taken"].to_numpy() & among).sum())
