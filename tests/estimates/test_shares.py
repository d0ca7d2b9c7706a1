"""What a mean must be for a share of the fruit to clear a bound."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from dashboard.estimates import worth
from dashboard.estimates.chances import FRUIT, NEXT_SEASON, chances, spreads
from dashboard.estimates.one_season import BORROWED
from dashboard.estimates.shares import NOBODY, means_for_share, seasons_with_share, share_of_fruit
from tests.estimates.trials import trial


@pytest.fixture(scope="module")
def whole():
    return worth(trial(24, 3, 6, seed=3), "size")


def test_it_is_the_normal_quantile_where_seasons_do_not_differ(whole):
    """Exact normal tails (SciPy) with the spread of a fruit to come, were seasons all alike."""
    calm = replace(whole, level=0.0, site_level=0.0)
    spread = np.sqrt(spreads(calm, None, None)[FRUIT][0])
    for share in (0.5, 0.8, 0.95):
        low, high = means_for_share(calm, 60.0, None, share)
        assert low == pytest.approx(60 + stats.norm.ppf(share) * spread, abs=1e-6)
        assert high == float("inf")
        low, high = means_for_share(calm, None, 60.0, share)
        assert (low, high) == (float("-inf"), pytest.approx(60 - stats.norm.ppf(share) * spread, abs=1e-6))


def test_a_cultivar_at_that_mean_has_that_share_of_its_fruit_to_come(whole):
    low, _ = means_for_share(whole, 60.0, None, 0.8)
    share = chances(whole, 60.0)[FRUIT].by_cultivar
    estimate = whole.values["estimate"]
    nearest = (estimate - low).abs().idxmin()
    assert share[nearest] == pytest.approx(0.8, abs=0.05)
    assert ((share > 0.83) <= (estimate > low)).all()


def test_more_fruit_asks_for_a_higher_mean_and_half_for_the_bound_itself(whole):
    asked = [means_for_share(whole, 60.0, None, share)[0] for share in (0.2, 0.5, 0.8, 0.99)]
    assert asked == sorted(asked)
    assert asked[1] == pytest.approx(60.0, abs=1e-6)


def test_between_two_bounds_the_middle_is_best_and_too_narrow_is_for_nobody(whole):
    low, high = means_for_share(whole, 50.0, 70.0, 0.5)
    assert low + high == pytest.approx(120)
    assert 50 < low < 60 < high < 70
    assert means_for_share(whole, 59.9, 60.1, 0.5) == NOBODY


def test_in_eight_seasons_of_ten_asks_for_more_than_over_all_of_them(whole):
    """By hand where the level of seasons does not differ and a cultivar's own does: bound + z(share) · fruit + z(seasons) · season."""
    calm = replace(whole, level=0.0, site_level=0.0)
    found = spreads(calm, None, None)
    season, fruit = np.sqrt(found[NEXT_SEASON][0]), np.sqrt(found[FRUIT][0] - found[NEXT_SEASON][0])
    for seasons in (5.0, 8.0, 9.0):
        low, high = means_for_share(calm, 60.0, None, 0.8, seasons=seasons)
        by_hand = 60 + stats.norm.ppf(0.8) * fruit + stats.norm.ppf(seasons / 10) * season
        assert low == pytest.approx(by_hand, abs=0.02 * season)
        assert high == float("inf")
        assert seasons_with_share(calm, low, 60.0, None, 0.8) == pytest.approx(seasons, abs=0.06)
        assert share_of_fruit(calm, np.array([low]), 60.0, None, seasons=seasons) == pytest.approx(
            0.8, abs=1e-6
        )
    over_all = means_for_share(whole, 60.0, None, 0.8)[0]
    assert means_for_share(whole, 60.0, None, 0.8, seasons=8.0)[0] > over_all
    assert seasons_with_share(whole, over_all, 60.0, None, 0.8) < 8
    low, high = means_for_share(whole, 50.0, 75.0, 0.5, seasons=6.0)
    assert low + high == pytest.approx(125)
    assert np.isnan(seasons_with_share(whole, float("nan"), 60.0, None, 0.8))


def test_all_of_the_fruit_asks_for_a_mean_far_off(whole):
    low, _ = means_for_share(whole, 60.0, None, 1.0)
    assert low > 60 + 5 * 4


def test_without_a_model_or_bounds_it_is_refused(whole):
    with pytest.raises(ValueError, match="at least one"):
        means_for_share(whole, None, None, 0.8)
    raw = worth(trial(3, 1, 1, 1), "size")
    assert not raw.modelled
    with pytest.raises(ValueError, match=re.escape(raw.plan.refused)):
        means_for_share(raw, 60.0, None, 0.8)


def test_one_season_borrows_the_usual_ratio_for_what_it_cannot_tell():
    """Exact normal tails again: the luck of a season is then BORROWED / (1 + BORROWED) of the variance of cultivars."""
    calm = replace(worth(trial(24, 1, 1, seed=3), "size"), level=0.0, seasons=6, site_seasons={"Hill": 6})
    known, of_seasons = spreads(calm, None, BORROWED)[FRUIT]
    season = calm.variance["cultivar"] * BORROWED / (1 + BORROWED)
    rest = calm.variance["sample"] + calm.variance["residual"] + calm.pick_step**2 * calm.pick_variance
    assert known == pytest.approx(season + rest)
    assert of_seasons == 0
    low, _ = means_for_share(calm, 60.0, None, 0.8)
    assert low == pytest.approx(60 + stats.norm.ppf(0.8) * np.sqrt(known), abs=1e-6)


def test_the_share_of_a_mean_is_the_normal_one_where_seasons_do_not_differ(whole):
    """By site and between two bounds: exact normal tails (SciPy), each with the spread that belongs to the place."""
    calm = replace(whole, level=0.0, site_level=0.0)
    means = np.array([55.0, 60.0, np.nan, 66.0])
    for site, place in (("", None), ("River", "River"), ("Nowhere", None)):
        spread = np.sqrt(spreads(calm, place, None)[FRUIT][0])
        up, down = stats.norm.sf((60 - means) / spread), stats.norm.cdf((64 - means) / spread)
        assert share_of_fruit(calm, means, 60.0, None, site) == pytest.approx(up, nan_ok=True)
        assert share_of_fruit(calm, means, None, 64.0, site) == pytest.approx(down, nan_ok=True)
        assert share_of_fruit(calm, means, 60.0, 64.0, site) == pytest.approx(up + down - 1, nan_ok=True)
    assert spreads(calm, "River", None)[FRUIT][0] < spreads(calm, None, None)[FRUIT][0]


def test_the_share_of_the_mean_that_is_needed_is_the_share_that_was_asked_for(whole):
    for site in ("", "Hill"):
        for at_least, at_most in ((60.0, None), (None, 60.0), (50.0, 72.0)):
            ends = means_for_share(whole, at_least, at_most, 0.7, site)
            finite = np.array([end for end in ends if np.isfinite(end)])
            assert len(finite) == 1 + (at_least is not None and at_most is not None)
            assert share_of_fruit(whole, finite, at_least, at_most, site) == pytest.approx(0.7, abs=1e-6)


def test_fruit_of_a_cultivar_that_is_known_is_what_chances_tells_of_it(whole):
    """With hardly an error of its value, the share of its fruit is that of its mean."""
    sure = replace(whole, values=whole.values.assign(se=1e-6, df=50.0))
    told = chances(sure, 60.0)[FRUIT].by_cultivar.to_numpy()
    assert share_of_fruit(sure, sure.values["estimate"].to_numpy(), 60.0, None) == pytest.approx(
        told, abs=1e-6
    )


def test_all_or_none_of_the_fruit_is_asked_for_at_the_very_end(whole):
    spread = np.sqrt(spreads(whole, None, None)[FRUIT][0])
    assert means_for_share(whole, 60.0, None, 1.0)[0] > 60 + 6 * spread
    assert means_for_share(whole, 60.0, None, 0.0)[0] < 60 - 6 * spread
    assert means_for_share(whole, None, 60.0, 1.0)[1] < 60 - 6 * spread
    assert means_for_share(whole, 50.0, 70.0, 0.0)[1] > 70 + 6 * spread
    raw = worth(trial(3, 1, 1, 1), "size")
    with pytest.raises(ValueError, match=re.escape(raw.plan.refused)):
        share_of_fruit(raw, np.array([60.0]), 60.0, None)
    with pytest.raises(ValueError, match=r"^A share lies within bounds; give at least one\.$"):
        means_for_share(whole, None, None, 0.8)
