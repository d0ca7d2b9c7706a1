"""What a mean must be for a share of the fruit to clear a bound."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from dashboard.estimates import worth
from dashboard.estimates.chances import FRUIT, chances, spreads
from dashboard.estimates.one_season import BORROWED
from dashboard.estimates.shares import NOBODY, means_for_share
from tests.estimates.trials import trial


@pytest.fixture(scope="module")
def whole():
    return worth(trial(24, 3, 6, seed=3), "size")


def test_it_is_the_normal_quantile_where_seasons_do_not_differ(whole):
    """Exact normal tails (SciPy) with the spread of a fruit to come, were seasons all alike."""
    calm = replace(whole, level=0.0)
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
    calm = replace(worth(trial(24, 1, 1, seed=3), "size"), level=0.0, site_seasons={"Hill": 6})
    known, of_seasons = spreads(calm, None, BORROWED)[FRUIT]
    season = calm.variance["cultivar"] * BORROWED / (1 + BORROWED)
    rest = calm.variance["sample"] + calm.variance["residual"] + calm.pick_step**2 * calm.pick_variance
    assert known == pytest.approx(season + rest)
    assert of_seasons == 0
    low, _ = means_for_share(calm, 60.0, None, 0.8)
    assert low == pytest.approx(60 + stats.norm.ppf(0.8) * np.sqrt(known), abs=1e-6)
