"""Differences with their own error, refused where nothing connects, and the checks that ripen at the same time."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from dashboard.estimates import worth
from dashboard.estimates.comparisons import difference, from_checks
from tests.estimates.trials import trial


@pytest.fixture(scope="module")
def whole():
    return worth(trial(24, 3, 3, seed=2), "size")


@pytest.fixture(scope="module")
def apart():
    """Two blocks: C000 to C006 at Hill only, the others at River only."""
    frame = trial(14, 2, 3)
    block = frame["cultivar"] <= "C006"
    return worth(frame[block == (frame["site"] == "Hill")].reset_index(drop=True), "size")


def test_a_difference_is_that_of_the_values_with_an_error_of_its_own(whole):
    found = difference(whole, "C003", "C010")
    values = whole.values
    assert found.estimate == pytest.approx(values.loc["C003", "estimate"] - values.loc["C010", "estimate"])
    apart = np.hypot(values.loc["C003", "se"], values.loc["C010", "se"])
    # The errors of two values are not independent: what both share cancels, and all are drawn to one mean.
    assert found.se != pytest.approx(apart, rel=1e-6)
    assert 0.5 * apart < found.se < 1.1 * apart
    assert (found.first, found.second) == ("C003", "C010")
    half = found.se * stats.t.ppf(0.95, found.df)
    assert (found.low, found.high) == pytest.approx((found.estimate - half, found.estimate + half))
    assert found.df == min(values.loc["C003", "df"], values.loc["C010", "df"])
    assert found.above == pytest.approx(stats.t.cdf(found.estimate / found.se, found.df))
    assert found.together


def test_the_other_way_round_is_the_negative(whole):
    one, other = difference(whole, "C003", "C010"), difference(whole, "C010", "C003")
    assert one.estimate == pytest.approx(-other.estimate)
    assert one.se == pytest.approx(other.se)
    assert one.above == pytest.approx(1 - other.above)


def test_a_difference_of_balanced_data_has_the_error_of_the_textbook():
    """One site-season, two samples each: var(difference) = 2 * reliability's complement * variance of cultivars.

    With values drawn in by h, PEV of u is (1 - h) * var; of two independent cultivars twice that.
    """
    found = worth(trial(40, 1, 1, 2, seed=9).assign(pick=1.0), "size", off_zero=())
    frame = trial(40, 1, 1, 2, seed=9)
    means = frame.groupby("cultivar")["size"].mean()
    within = frame.groupby("cultivar")["size"].var().mean()
    between = 2 * means.var()
    h = 1 - within / between
    plain = 2 * (1 - h) * (between - within) / 2
    weights = np.zeros((1, 40))
    weights[0, :2] = 1, -1
    assert found.difference_variance(weights)[0] == pytest.approx(plain, rel=1e-4)


def test_nothing_is_said_between_blocks_that_never_met(apart):
    found = difference(apart, "C000", "C010")
    assert "never shared" in found.refused
    assert (found.first, found.second) == ("C000", "C010")
    assert np.isnan([found.estimate, found.se, found.low, found.high, found.above]).all()
    assert not found.together
    assert not difference(apart, "C000", "C001").refused


def test_every_pair_between_blocks_is_refused_and_none_within(apart):
    names = apart.values.index
    for one in names:
        for other in names:
            assert bool(difference(apart, one, other).refused) == ((one <= "C006") != (other <= "C006"))


def test_a_name_that_is_not_there_is_told(whole):
    with pytest.raises(ValueError, match="C999"):
        difference(whole, "C000", "C999")


def test_without_a_model_there_is_no_difference_but_a_reason():
    found = worth(trial().drop_duplicates("cultivar").reset_index(drop=True), "size")
    assert difference(found, "C000", "C001").refused == found.plan.refused
    table = from_checks(found, pd.Series(dtype=float), ["C000"])
    assert table["estimate"].isna().all()
    assert (table["refused"] != "").all()


def test_each_is_set_against_the_checks_that_ripen_around_it(whole):
    days = pd.Series({f"C{code:03d}": 180.0 + code for code in range(24)})
    table = from_checks(whole, days, ["C005", "C015"])
    assert table.loc["C000", "against"] == "C005"  # earlier than both
    assert table.loc["C020", "against"] == "C015"  # later than both
    assert table.loc["C010", "against"] == "C005 and C015"
    values = whole.values["estimate"]
    assert table.loc["C000", "estimate"] == pytest.approx(values["C000"] - values["C005"])
    assert table.loc["C008", "estimate"] == pytest.approx(
        values["C008"] - 0.7 * values["C005"] - 0.3 * values["C015"]
    )
    assert table.loc["C000", "se"] == pytest.approx(difference(whole, "C000", "C005").se)
    assert "itself a check" in table.loc["C005", "refused"]
    assert np.isnan(table.loc["C005", "estimate"])


def test_unknown_ripening_and_no_checks_are_told(whole):
    days = pd.Series({"C005": 190.0})
    table = from_checks(whole, days, ["C005"])
    assert "ripens" in table.loc["C000", "refused"]
    none = from_checks(whole, pd.Series(dict.fromkeys(whole.values.index, 200.0)), [])
    assert (none["refused"] == "No cultivar is marked as a check.").all()


def test_a_check_in_the_other_block_is_no_check(apart):
    days = pd.Series(200.0, index=apart.values.index)
    table = from_checks(apart, days, ["C000"])
    assert "No check ever shared" in table.loc["C010", "refused"]
    assert table.loc["C001", "against"] == "C000"


def test_standing_side_by_side_is_told_from_being_linked_through_others():
    frame = trial(12, 1, 2)
    # C000 in the first season only, C001 in the second only; the others in both.
    gone = ((frame["cultivar"] == "C000") & (frame["season"] == 2021)) | (
        (frame["cultivar"] == "C001") & (frame["season"] == 2020)
    )
    found = worth(frame[~gone].reset_index(drop=True), "size")
    assert not difference(found, "C000", "C001").together
    assert not difference(found, "C000", "C001").refused
    assert difference(found, "C000", "C002").together


def test_many_differences_have_each_its_own_error():
    """Of records with gaps, in which errors go together in more than what all share."""
    gappy = worth(trial(24, 3, 3, seed=2).sample(frac=0.5, random_state=1).reset_index(drop=True), "size")
    weights = np.zeros((3, 24))
    weights[[0, 1, 2], [0, 3, 7]], weights[[0, 1, 2], [1, 9, 2]] = 1, -1
    alone = [gappy.difference_variance(weights[[row]])[0] for row in range(3)]
    assert gappy.difference_variance(weights) == pytest.approx(alone)


def test_without_a_model_every_figure_of_a_difference_is_unknown():
    found = worth(trial(12, 2, 3).assign(size=60.0), "size")
    told = from_checks(found, pd.Series(200.0, index=found.values.index), ["C000"])
    assert told[["estimate", "se", "df", "low", "high", "above"]].isna().all(axis=None)
    assert set(told["refused"]) == {found.plan.refused}


def test_what_the_small_sample_adds_to_a_difference_is_the_larger_of_what_it_adds_to_either(whole):
    """Two made-up cultivars with error variances 1 and 2, known ones; their own are told 1.5 and 1.2 times as large."""
    values = whole.values.iloc[:3].assign(
        se=np.sqrt([1.5, 2.4, 30.0]), df=[10.0, 8.0, 2.0], estimate=[62.0, 60.0, 9.0]
    )
    made = replace(
        whole,
        values=values,
        pev=np.array([1.0, 2.0, 3.0]),
        own=np.array([1.0, 2.0, 3.0]),
        shared=np.zeros((3, 1)),
        group=np.zeros(3, dtype=int),
        seen=np.array([[0, 0], [1, 0], [2, 1]]),
    )
    found = difference(made, "C000", "C001")
    assert (found.estimate, found.df) == (2.0, 8.0)
    assert found.se == pytest.approx(np.sqrt(3 * 1.5))
    assert difference(made, "C001", "C000").se == pytest.approx(found.se)
    assert found.together
    assert not difference(made, "C000", "C002").together
    # Against two checks that ripen around it, with a quarter and three quarters: 2 + (1 + 9 · 3) / 16.
    middles = pd.Series({"C001": 203.0, "C000": 200.0, "C002": 204.0})
    row = from_checks(made, middles, ["C000", "C002"]).loc["C001"]
    assert row["against"] == "C000 and C002"
    assert row["estimate"] == pytest.approx(60 - 62 / 4 - 9 * 3 / 4)
    assert row["se"] == pytest.approx(np.sqrt((2 + 28 / 16) * 10))
    assert row["df"] == 2.0
    assert not row["together"]


def test_a_check_that_ripens_on_the_same_day_is_the_only_one_it_is_set_against(whole):
    middles = pd.Series({"C000": 200.0, "C001": 200.0, "C002": 210.0, "C003": 190.0})
    told = from_checks(whole, middles, ["C001", "C002", "C003"])
    assert told.loc["C000", "against"] == "C001"
    assert told.loc["C000", "estimate"] == pytest.approx(difference(whole, "C000", "C001").estimate)
    assert told.loc["C000", "together"]
    assert told.loc["C001", "against"] == ""
    assert not told.loc["C001", "together"]


def test_a_check_without_a_reading_or_a_day_is_none():
    frame = trial(12, 2, 3)
    found = worth(frame.assign(size=frame["size"].where(frame["cultivar"] != "C002")), "size")
    middles = pd.Series(200.0, index=found.values.index)
    middles["C002"], middles["C003"] = 200.5, np.nan
    told = from_checks(found, middles, ["C001", "C002", "C003"])
    assert told.loc["C000", "against"] == "C001"
    assert told["refused"].ne("").sum() == 3
    assert from_checks(found, middles, ["C002", "C003"]).loc["C000", "refused"] == (
        "No cultivar is marked as a check."
    )
