"""Means of fruit above a size, worked back to those of all fruit."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from dashboard.estimates import worth
from dashboard.estimates.readings import readings
from dashboard.estimates.unsampled import _cut, _of, whole
from dashboard.records.taken import Taken
from tests.estimates.robust.sampled import CASES, drawn


@pytest.mark.parametrize("alpha", [-6.0, -1.0, 0.0, 0.7, 2.0])
def test_mean_and_variance_over_a_cut_are_those_of_a_cut_normal_law(alpha):
    """Against SciPy's truncnorm, which integrates."""
    over = _of(np.array([alpha]))
    mean, variance = stats.truncnorm.stats(alpha, np.inf, moments="mv")
    assert over.excess[0] + alpha == pytest.approx(float(mean), rel=1e-9)
    assert over.v[0] == pytest.approx(float(variance), rel=1e-6)
    assert over.slope[0] == pytest.approx(float(variance), rel=1e-6)
    assert _cut(np.array([alpha])).v[0] == pytest.approx(over.v[0], abs=1e-3)
    assert _cut(np.array([9.0])).alpha[0] == 2  # no mean is worked back any further


@pytest.mark.parametrize("alpha", [-3.0, -1.0, 0.0, 0.8])
def test_of_fruit_that_are_skewed_a_little_too(alpha):
    """Against a gamma law of the same skewness, which has a fourth moment of its own as well."""
    z, law = np.linspace(-8.0, 12.0, 400_001), stats.pearson3(0.3)
    density = law.pdf(z)

    def over_cut(cut: float) -> tuple[float, float]:
        mean = np.average(z[z > cut], weights=density[z > cut])
        return float(mean), float(np.average(np.square(z[z > cut] - mean), weights=density[z > cut]))

    over, (mean, variance) = _of(np.array([alpha]), 0.3), over_cut(alpha)
    assert over.excess[0] + alpha == pytest.approx(mean, abs=0.02)
    assert over.v[0] == pytest.approx(variance, abs=0.04)
    slope = 1 - (over_cut(alpha + 0.01)[0] - over_cut(alpha - 0.01)[0]) / 0.02
    assert over.slope[0] == pytest.approx(slope, abs=0.02)


def test_means_and_spread_of_all_fruit_are_found_again():
    """40 samples of 4,000 fruit each, 5 mm apart within, of means from 52 to 68 mm, cut at 57."""
    rng = np.random.default_rng(3)
    mean = np.linspace(52, 68, 40)
    fruit = [one[one >= 57] for one in (rng.normal(mean[:, None], 5.0, (40, 4000)))]
    y, n, ss = (
        np.array([part(one) for one in fruit]) for part in (np.mean, len, lambda one: len(one) * np.var(one))
    )
    found = whole(y, n.astype(float), ss, np.arange(40), np.zeros(40, int), 57.0)
    assert np.abs(found.y - mean).max() < 0.8
    assert found.under == pytest.approx(stats.norm.cdf(57, mean, 5.0).mean(), abs=0.02)
    assert np.sqrt(found.ss.sum() / (n - 1).sum()) == pytest.approx(5.0, rel=0.02)
    assert (found.n <= n).all()
    assert found.n[0] < 0.5 * n[0]
    assert found.n[-1] > 0.9 * n[-1]


@pytest.mark.parametrize("skewness", [0.01, 0.4])
def test_what_bends_and_how_fruit_are_skewed_is_taken_into_account(skewness):
    """30 cultivars of 57 to 66 mm, 24 samples each that scatter by 2.5 mm, fruit of 57 mm and more. By a straight line from what is
    expected of a sample the smallest third came out .5 mm too large; taken as normal, skewed fruit came out .6 mm too small."""
    rng, shape = np.random.default_rng(6), 4 / skewness**2
    mean = np.repeat(np.linspace(57, 66, 30), 24)
    there = rng.normal(mean, 2.5)
    hang = there[:, None] + 4.5 * (rng.gamma(shape, 1, (len(mean), 300)) - shape) / np.sqrt(shape)
    taken = [one[one >= 57][:40] for one in hang]
    y, n, ss = (
        np.array([part(one) for one in taken]) for part in (np.mean, len, lambda one: len(one) * np.var(one))
    )
    found = whole(y, n.astype(float), ss, np.repeat(np.arange(30), 24), np.zeros(len(y), int), 57.0)
    off = [float((found.y - there)[mean == one].mean()) for one in np.unique(mean)]
    assert all(abs(np.mean(third)) < 0.25 for third in np.array_split(off, 3)), off


def test_a_cut_that_no_fruit_come_near_changes_nothing():
    rng = np.random.default_rng(1)
    y, n, ss = rng.normal(60, 2, 30), np.full(30, 10.0), 9 * rng.chisquare(9, 30)
    found = whole(y, n, ss, np.arange(30) % 6, np.arange(30) % 5, 20.0)
    for one, other in zip(found[:3], (y, n, ss), strict=True):
        np.testing.assert_allclose(one, other, rtol=1e-9)


def test_samples_that_cannot_be_stay_within_reach():
    """Means at and under the cut, samples of one fruit, and fruit that are all alike."""
    y, n = np.array([57.0, 56.0, 57.1, 64.0, 70.0]), np.array([10.0, 1.0, 2.0, 10.0, 10.0])
    found = whole(y, n, np.array([40.0, 0.0, 1.0, 90.0, 80.0]), np.arange(5), np.zeros(5, int), 57.0)
    assert np.isfinite(np.concatenate(found[:3])).all()
    assert (found.n >= 1).all()
    alike = whole(y, n, np.zeros(5), np.arange(5), np.zeros(5, int), 57.0)
    assert (alike.y == y).all()


def test_the_trait_says_so_and_others_are_left_alone():
    frame, _ = drawn(CASES[0], 0)
    frame["sugar"] = 12 + frame["size"] / 60
    told, bare = readings(frame, "size"), readings(frame.drop(columns=["size_taken", "size_floor"]), "size")
    assert told.y.mean() < bare.y.mean() - 1
    assert told.aside == (*bare.aside, Taken("commercial", 57.0).sentence)
    assert Taken("commercial", 57.0).sentence in worth(frame, "size").plan.sentences
    assert readings(frame, "sugar").aside == ()
    unknown = readings(frame.assign(size_floor=np.nan), "size")
    assert (unknown.y == bare.y).all()
    assert unknown.aside == (Taken("commercial").sentence,)


def test_a_cut_that_hides_much_of_the_fruit_is_said_to_leave_ranges_too_narrow():
    """At 60 mm .85 of the largest third hold; at 57 mm about as many as told."""
    deep, usual = (worth(drawn(case, 0)[0], "size") for case in (CASES[2], CASES[0]))
    (said,) = (one for one in deep.plan.sentences if "too narrow" in one)
    assert 30 < float(said.split()[1]) < 50
    assert not any("too narrow" in one for one in usual.plan.sentences)
