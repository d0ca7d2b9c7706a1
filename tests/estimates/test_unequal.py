"""Who varies more, and a fit in which some vary more than others."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from dashboard.estimates import worth
from dashboard.estimates.chances import NEXT_SEASON, chances
from dashboard.estimates.plan import BY_BOTH, BY_SEASON, BY_SITE, CULTIVAR, ENVIRONMENT, RESIDUAL, SAMPLE
from dashboard.estimates.readings import readings
from dashboard.estimates.trial import Trial
from dashboard.estimates.unequal import unequal
from tests.estimates.robust.unequal import CASES, Case, drawn
from tests.estimates.trials import judged


@pytest.fixture(scope="module")
def late_vary() -> pd.DataFrame:
    return drawn(CASES[0], 0)[0]


def by_class(frame: pd.DataFrame) -> np.ndarray:
    return unequal(readings(frame, "size")).rough[[0, 30, 59]]


def test_late_ones_that_vary_more_are_found_and_told(late_vary):
    """Drawn with 0.6, 1 and 1.6, drawn in a little; the mean square over samples is 1."""
    early, middle, late = by_class(late_vary)
    assert late / middle == pytest.approx(1.6, rel=0.2)
    assert early / middle == pytest.approx(0.6, rel=0.25)
    found = unequal(readings(late_vary, "size"))
    samples = pd.factorize(late_vary["cultivar"], sort=True)[0]
    assert np.square(found.rough[samples]).mean() == pytest.approx(1, abs=1e-6)
    assert f"early {early:.2f}, middle {middle:.2f}, late {late:.2f}" in found.sentence
    told = worth(late_vary, "size")
    assert found.sentence in told.plan.sentences
    # What is known of a third is known by so many degrees of freedom at most: 2 over the error variance of a log (Bartlett & Kendall 1946).
    assert 0.005 < found.doubt.min() <= found.doubt.max() < 0.1
    assert (told.values["df"].to_numpy() < 2 / found.doubt).all()


def test_the_order_of_the_samples_and_the_calendar_do_not_matter(late_vary):
    shuffled = late_vary.sample(frac=1, random_state=1).assign(day=lambda one: one["day"] + 20)
    assert by_class(shuffled) == pytest.approx(by_class(late_vary), rel=1e-9)


@pytest.mark.parametrize("seed", range(12))
def test_where_all_vary_alike_nothing_is_changed(seed):
    found = unequal(readings(drawn(CASES[2], seed)[0], "size"))
    assert (found.rough == 1).all()
    assert (found.at == 1).all()
    assert (found.doubt == 0).all()
    assert found.sentence == ""


@pytest.fixture(scope="module")
def rough_site() -> pd.DataFrame:
    return drawn(CASES[3], 0)[0]


def test_a_site_where_all_vary_more_is_found_and_told(rough_site):
    """Drawn with 0.6 and 1.4, but for what a season does to a cultivar at both; the mean square over samples is 1."""
    found = unequal(readings(rough_site, "size"))
    hill, river = found.at
    assert (found.rough == 1).all()
    assert 1.4 < river / hill < 2.33
    share = rough_site["site"].eq("River").mean()
    assert (1 - share) * hill**2 + share * river**2 == pytest.approx(1, abs=1e-6)
    assert found.sentence.endswith(f"by site: Hill {hill:.2f}, River {river:.2f}.")


def test_a_site_with_few_samples_counts_as_usual(rough_site):
    third = rough_site[rough_site["cultivar"].isin(["C00", "C10"])].assign(site="Yard")
    found = unequal(readings(pd.concat([rough_site, third], ignore_index=True), "size"))
    assert found.at[2] == 1
    assert found.at[1] > 1.3 * found.at[0]


def test_at_the_rough_site_values_and_the_next_season_are_told_less_surely(rough_site):
    found = worth(rough_site, "size")
    assert found.rough_at["River"] > 1.3 * found.rough_at["Hill"]
    stood = (found.at["Hill"]["samples"] > 0) & (found.at["River"]["samples"] > 0)
    assert (found.at["River"]["se"] > 1.1 * found.at["Hill"]["se"])[stood].all()
    even = {site: frame.assign(estimate=60.0, se=1.0, df=50.0) for site, frame in found.at.items()}
    hill, river = (
        chances(replace(found, at=even), 57.0, site=site)[NEXT_SEASON].by_cultivar.iloc[0]
        for site in ("Hill", "River")
    )
    assert hill > river > 0.5


def test_without_days_with_few_cultivars_and_of_ratings_nothing_is_told(late_vary):
    few = drawn(Case(cultivars=8), 0)[0]
    for frame in (late_vary.drop(columns="day"), few):
        assert (unequal(readings(frame, "size")).rough == 1).all()
    assert (unequal(readings(judged(late_vary), "attractiveness")).rough == 1).all()


@pytest.mark.parametrize("which", ["late_vary", "rough_site"])
def test_values_are_those_of_the_whole_equations(which, request):
    """By plain matrices: V of every sample with the spread of its cultivar and site, and predictions from it (Henderson 1975)."""
    frame = request.getfixturevalue(which)
    if which == "late_vary":
        frame = frame[frame["cultivar"].isin([f"C{i:02d}" for i in range(0, 60, 2)])].reset_index(drop=True)
    found, read = worth(frame, "size"), readings(frame, "size")
    f = found.rough[read.cultivar] * np.array([found.rough_at[site] for site in read.sites])[read.site]
    assert len(np.unique(f)) == (3 if which == "late_vary" else 2)
    sigma = found.variance
    spot = read.cultivar * 9 + read.site
    labels = {
        CULTIVAR: read.cultivar, BY_SITE: spot, BY_SEASON: read.cultivar * 9 + read.season, BY_BOTH: spot * 9 + read.season,
        ENVIRONMENT: read.environment,
    }  # fmt: skip
    parts = {name: sigma.get(name, 0.0) * (code[:, None] == code) for name, code in labels.items()}
    within = (
        parts[BY_SITE] + parts[BY_SEASON] + parts[BY_BOTH] + np.diag(sigma[SAMPLE] + sigma[RESIDUAL] / read.n)
    )
    V = parts[CULTIVAR] + parts[ENVIRONMENT] + f[:, None] * within * f
    arranged = Trial(read, found.plan, frozenset(), False)
    X, Vi = arranged.X.to_numpy(), np.linalg.inv(V)
    beta = np.linalg.solve(X.T @ Vi @ X, X.T @ Vi @ read.y)
    rest = Vi @ (read.y - X @ beta)
    own = sigma[CULTIVAR] * np.bincount(read.cultivar, rest)
    level = sigma[ENVIRONMENT] * np.bincount(read.environment, rest).mean()
    expected = arranged.asked(None)[0] @ beta + level + own
    assert found.values["estimate"].to_numpy() == pytest.approx(expected, rel=1e-8)
    for site, name in enumerate(read.sites):
        there = read.site == site
        peculiar = (
            sigma.get(BY_SITE, 0.0)
            * np.bincount(read.cultivar[there], (rest * f)[there], len(own))
            * found.rough[: len(own)]
            * found.rough_at[name]
        )
        level = sigma[ENVIRONMENT] * np.bincount(read.environment, rest)[arranged.where == site].mean()
        expected = arranged.asked(site)[0] @ beta + level + own + peculiar
        assert found.at[name]["estimate"].to_numpy() == pytest.approx(expected, rel=1e-8)


def test_next_season_is_told_less_surely_of_those_that_vary_more(late_vary):
    found = worth(late_vary, "size")
    values = found.values.assign(estimate=60.0, se=1.0, df=50.0)
    at = {site: frame.assign(estimate=60.0, se=1.0, df=50.0) for site, frame in found.at.items()}
    alike = replace(found, values=values, at=at)
    chance = chances(alike, 57.0)[NEXT_SEASON].by_cultivar
    early, middle, late = (chance.iloc[place] for place in (0, 30, 59))
    assert early > middle > late > 0.5
