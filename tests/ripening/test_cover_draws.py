"""The draws of coming seasons: whose they are, about which mean, how far apart, and what moves them together."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.ripening.cover import draws
from dashboard.ripening.few_seasons import assumed, half_width_over
from dashboard.ripening.model import ANY, ripening
from tests.ripening.trials import trial


@pytest.fixture(scope="module")
def ripe():
    made = trial(40, seed=9)
    return ripening(made.picks, made.cultivars)


def test_draws_have_the_model_s_means_and_spreads(ripe):
    site, count = "Hill", 20_000
    for kind in ("ordinary", ANY):
        found, windows = draws(ripe, site, kind, count), ripe.windows(site)
        known = windows["first"].notna().to_numpy()
        assert np.abs(found.first[:, known].mean(axis=0) - windows["first"][known]).max() < 0.3
        first = ripe.expected("first", site)
        variance = first.variance + ripe.unseen_variance("first", site) + ripe.peculiar("first")
        if kind == ANY:
            df = ripe.seasons - 1
            variance = variance + ripe.common("first") * df / (df - 2)
        np.testing.assert_allclose(found.first[:, known].var(axis=0), variance, rtol=0.08)


def test_without_a_site_the_draws_are_over_the_sites(ripe):
    found, windows = draws(ripe, kind="ordinary", count=20_000), ripe.windows()
    assert np.abs(found.first[:, ripe.known].mean(axis=0) - windows.loc[ripe.known, "first"]).max() < 0.15


@pytest.mark.parametrize("seasons", [3, 2])
def test_few_seasons_seen_leave_the_next_one_open_and_not_boundless(seasons):
    """What a season moves is drawn by every spread that it may have, as likely as it is."""
    made = trial(30, seasons=seasons, seed=2)
    few = ripening(made.picks, made.cultivars)
    known, spread = np.flatnonzero(few.known)[0], few.spread["first"]
    shared = (draws(few, "Hill", ANY, 40_000).first - draws(few, "Hill", "ordinary", 40_000).first)[:, known]
    alone = np.array([few.common("first") - spread.mean])
    for share in (0.8, 0.95):
        wanted = half_width_over(alone, spread, share)[0]
        np.testing.assert_allclose(np.quantile(shared, [1 - share, share]), [-wanted, wanted], rtol=0.06)


def test_where_each_site_had_a_season_of_its_own_only_the_assumption_speaks():
    made = trial(30, sites=2, seasons=2, seed=2)
    apart = made.picks[
        (made.picks["site"] == made.picks["site"].min())
        == (made.picks["season"] == made.picks["season"].min())
    ]
    few = ripening(apart, made.cultivars)
    assert few.refused == ""
    np.testing.assert_allclose(few.spread["first"].chance, assumed("first").chance, rtol=0.01)
    assert np.isfinite(few.windows().loc[few.known, ["first_low", "not_before", "not_after"]]).all(axis=None)


def test_an_early_season_of_few_is_the_earliest_of_ten_by_every_spread():
    made = trial(30, seasons=3, seed=2)
    few = ripening(made.picks, made.cultivars)
    shifts = draws(few, "Hill", ANY, 40_000).first - draws(few, "Hill", "ordinary", 40_000).first
    earliest = np.quantile(shifts[:, np.flatnonzero(few.known)[0]], 0.1)
    assert few.shift("early") == pytest.approx(earliest, rel=0.05)
    assert few.shift("early") == -few.shift("late")


def test_a_coming_season_moves_all_together(ripe):
    found = draws(ripe, "Hill", ANY, 4000)
    known = np.isfinite(found.first[0])
    together = np.corrcoef(found.first[:, known].T)
    apart = np.corrcoef(draws(ripe, "Hill", "ordinary", 4000).first[:, known].T)
    off = ~np.eye(known.sum(), dtype=bool)
    assert together[off].mean() > 0.5 > 0.35 > apart[off].mean()


def test_the_same_seasons_are_drawn_whenever_asked_for(ripe):
    draws.cache_clear()
    one = draws(ripe, "Hill")
    draws.cache_clear()
    np.testing.assert_array_equal(one.first, draws(ripe, "Hill").first)


def test_draws_know_whose_they_are_and_never_end_before_they_begin(ripe):
    found = draws(ripe, "Hill")
    assert found.first.shape == found.last.shape == (1000, len(ripe.cultivars))
    assert list(found.cultivars) == list(ripe.cultivars)
    known = np.isfinite(found.first[0])
    assert (known == ripe.known).all()
    assert (found.last >= found.first)[:, known].all()
    assert set(draws(ripe, "Hill", "late").of(["nobody", ripe.cultivars[3]])) == {3}


def test_days_picked_are_drawn_with_the_model_s_mean_and_spread(ripe):
    """The mean number of days and its variance; those that would be less than none are none, which few are."""
    found = draws(ripe, "Hill", ANY, 20_000)
    known = np.isfinite(found.first[0])
    drawn_days = (found.last - found.first)[:, known]
    days = ripe.expected("days", "Hill")
    spread = np.sqrt(days.variance + ripe.unseen_variance("days", "Hill") + ripe.peculiar("days"))
    long = days.estimate > 2.5 * spread
    assert long.sum() >= 3
    assert drawn_days.min() == 0
    np.testing.assert_allclose(drawn_days.mean(axis=0)[long], days.estimate[long], atol=0.15)
    late, ordinary = (draws(ripe, "Hill", kind, 4000) for kind in ("late", "ordinary"))
    moved = (late.first - ordinary.first)[:, known].mean()
    assert moved == pytest.approx(ripe.shift("late"), abs=1e-9)
