"""Published fits: lme4's own numbers and the tables of the books, to the digits they give.

lme4 figures: R 4.2.2, lme4 1.1-31, its optimum polished (tests/reference/README.md). Prints: Bates, Mächler, Bolker &
Walker 2015, J. Stat. Software 67(1); Pinheiro & Bates 2000, Mixed-Effects Models in S and S-PLUS; digits from R.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
import pytest

from dashboard.mixed import Fit, fit
from tests.mixed import frames

EXACT, CLOSE = 1e-6, 1e-5  # absolute for the criterion, relative for all else
FITS = (
    "dyestuff",
    "dyestuff2",
    "pastes",
    "penicillin",
    "penicillin_unbal",
    "sleepstudy_int",
    "sleepstudy_indep",
    "oats",
    "alfalfa",
    "insteval",
    "sim_s",
    "sim_s_envfixed",
    "sim_dates",
)


@pytest.fixture(scope="module", params=FITS)
def pair(request: pytest.FixtureRequest) -> tuple[Fit, dict[str, Any]]:
    return fit(**getattr(frames, request.param)()), frames.vector(request.param)


@pytest.mark.alike(3)
def test_the_criterion_is_lme4s(pair):
    ours, theirs = pair
    assert ours.converged
    assert ours.criterion == pytest.approx(theirs["reml_criterion"], rel=0, abs=EXACT)


def test_the_variances_are_lme4s(pair):
    ours, theirs = pair
    for part in theirs["variance_components"]:
        name = "residual" if part["grp"] == "Residual" else part["grp"]
        assert ours.variance[name] == pytest.approx(part["vcov"], rel=CLOSE, abs=0)


def test_the_fixed_effects_and_their_covariance_are_lme4s(pair):
    ours, theirs = pair
    names = list(theirs["fixef"])
    scale = np.sqrt(np.diag(theirs["vcov_fixef"]))
    np.testing.assert_allclose(
        ours.beta[names], list(theirs["fixef"].values()), rtol=CLOSE, atol=1e-9 * scale.min()
    )
    size = scale * scale[:, None]
    np.testing.assert_allclose(
        ours.beta_cov.loc[names, names] / size, theirs["vcov_fixef"] / size, atol=CLOSE
    )


def test_the_effects_and_their_conditional_spread_are_lme4s(pair):
    ours, theirs = pair
    for name, group in theirs["ranef"].items():
        for k, column in enumerate(
            np.atleast_2d(np.asarray(group["ranef"]).reshape(len(group["levels"]), -1).T)
        ):
            ours_name = name if k == 0 else f"{name}.{k}"
            spread = np.sqrt(np.asarray(group["condVar"]).reshape(len(group["levels"]), -1)[:, k])
            got, sd = ours.effect[ours_name][group["levels"]], ours.effect_sd[ours_name][group["levels"]]
            np.testing.assert_allclose(got, column, rtol=CLOSE, atol=CLOSE * max(np.abs(column).max(), 1e-12))
            np.testing.assert_allclose(sd, spread, rtol=CLOSE)
        if "sum_condVar" in group:
            assert np.abs(ours.effect[name]).sum() == pytest.approx(group["sum_abs_ranef"], rel=CLOSE)
            assert np.square(ours.effect_sd[name]).sum() == pytest.approx(group["sum_condVar"], rel=CLOSE)


def test_a_variance_of_zero_is_an_answer():
    ours = fit(**frames.dyestuff2())
    assert ours.at_zero == ("Batch",)
    assert ours.variance["Batch"] == 0
    assert (ours.effect["Batch"] == 0).all()
    assert ours.criterion == pytest.approx(frames.vector("dyestuff2")["reml_criterion"], rel=0, abs=1e-8)


@pytest.mark.parametrize("name", ["pastes", "sim_s", "sim_s_envfixed"])
def test_sample_means_say_all_that_the_fruit_say(name):
    asked = getattr(frames, name)()
    fruit, means = fit(**asked), fit(**frames.from_means(asked))
    assert means.criterion == pytest.approx(fruit.criterion, rel=0, abs=1e-9)
    for part, value in fruit.variance.items():  # each search ends a hundred-millionth of an error away
        assert means.variance[part] == pytest.approx(value, rel=1e-7)
    np.testing.assert_allclose(means.beta, fruit.beta, rtol=1e-7)
    np.testing.assert_allclose(means.beta_cov, fruit.beta_cov, rtol=1e-7)
    for group, effects in means.effect.items():
        np.testing.assert_allclose(effects, fruit.effect[group], rtol=1e-6, atol=1e-9)
        np.testing.assert_allclose(means.effect_sd[group], fruit.effect_sd[group], rtol=1e-7)
        np.testing.assert_allclose(means.effect_se[group], fruit.effect_se[group], rtol=1e-7)


@pytest.mark.parametrize(
    "asked", [frames.sim_s_blue(), frames.from_means(frames.sim_s_blue())], ids=["fruit", "means"]
)
def test_a_fixed_factor_gives_lme4s_means_and_differences(asked):
    theirs, ours = frames.vector("sim_s_blue"), fit(**asked)
    assert ours.criterion == pytest.approx(theirs["reml_criterion"], rel=0, abs=EXACT)
    means = ours.predict(effects={"cultivar": theirs["emmeans"]["cultivar"]})
    np.testing.assert_allclose(means.estimate, theirs["emmeans"]["emmean_at_pick0"], rtol=CLOSE)
    np.testing.assert_allclose(means.se, theirs["emmeans"]["SE"], rtol=CLOSE)
    pairs = means.difference(theirs["pairs"]["a"], theirs["pairs"]["b"])
    np.testing.assert_allclose(pairs.estimate, theirs["pairs"]["diff"], rtol=CLOSE, atol=1e-7)
    np.testing.assert_allclose(pairs.se, theirs["pairs"]["SED"], rtol=CLOSE)


@pytest.mark.parametrize("name", ["oats", "alfalfa"])
def test_marginal_means_of_a_split_plot_are_those_of_emmeans(name):
    theirs, asked = frames.vector(name)["emmeans"], getattr(frames, name)()
    ours, X = fit(**asked), asked["X"]
    rows = []
    for level in theirs["level"]:
        row = X.mean().where(~X.columns.str.startswith(theirs["factor"]), 0.0)
        row[[column for column in X if column == theirs["factor"] + level]] = 1.0
        rows.append(row)
    means = ours.predict(np.array(rows))
    np.testing.assert_allclose(means.estimate, theirs["emmean"], rtol=CLOSE)
    np.testing.assert_allclose(means.se, theirs["SE"], rtol=CLOSE)
    named = pd.Index(theirs["level"])
    C = np.zeros((len(theirs["pairs"]["contrast"]), len(named)))
    for row, contrast in enumerate(theirs["pairs"]["contrast"]):
        first, second = contrast.split(" - ")
        C[row, named.get_loc(first)], C[row, named.get_loc(second)] = 1, -1
    np.testing.assert_allclose(means.contrast(C).se, theirs["pairs"]["SE"], rtol=CLOSE)


def _machines() -> frames.Asked:
    d = frames.frame("nlme", "Machines").astype({"Worker": str})
    return {
        "y": d["score"],
        "X": frames.treatment(d, "Machine"),
        "groups": {"Worker": d["Worker"], "Machine in Worker": d["Worker"] + d["Machine"]},
    }


def _rail() -> frames.Asked:
    d = frames.frame("nlme", "Rail")
    return {"y": d["travel"], "X": frames.intercept(len(d)), "groups": {"Rail": d["Rail"]}}


def _ergo_stool() -> frames.Asked:
    d = frames.frame("nlme", "ergoStool")
    X = frames.treatment(d, "Type")
    return {"y": d["effort"], "X": X, "groups": {"Subject": d["Subject"]}}


def _oats_by_nitrogen() -> frames.Asked:
    d = frames.frame("nlme", "Oats")
    return frames.oats() | {"X": frames.intercept(len(d)).assign(nitro=d["nitro"])}


# Standard deviations (residual last), first fixed effect and its error, as printed by Pinheiro & Bates 2000.
PRINTS = {
    "Rail": (_rail, {"Rail": 24.805465, "residual": 4.020779}, 66.5, 10.171037),
    "Machines": (
        _machines,
        {"Worker": 4.781050, "Machine in Worker": 3.729532, "residual": 0.961577},
        52.355556,
        2.485828,
    ),
    "ergoStool": (_ergo_stool, {"Subject": 1.332465, "residual": 1.100295}, 8.555556, 0.576012),
    "Oats": (
        _oats_by_nitrogen,
        {"Block": 14.505983, "BV": 11.004675, "residual": 12.866959},
        81.872222,
        6.945280,
    ),
}


@pytest.mark.parametrize("name", PRINTS)
def test_the_prints_of_pinheiro_and_bates(name):
    asked, spreads, first, error = PRINTS[name]
    ours = fit(**asked())
    for part, spread in spreads.items():
        assert np.sqrt(ours.variance[part]) == pytest.approx(spread, rel=1e-5)
    assert ours.beta.iloc[0] == pytest.approx(first, rel=1e-7)
    assert np.sqrt(ours.beta_cov.iloc[0, 0]) == pytest.approx(error, rel=1e-5)


# Maximum likelihood: deviance, variances, standard error of the intercept where printed (Bates et al. 2015; lme4 1.1-31).
ML = {
    "dyestuff": (327.327059881, {"Batch": 1388.3333, "residual": 2451.25}, 17.694554),
    "dyestuff2": (162.873036654, {"Batch": 0.0, "residual": 13.34610}, None),
    "penicillin": (
        332.188348669,
        {"plate": 0.7149929, "sample": 3.1351923, "residual": 0.3024254},
        0.7445963,
    ),
    "pastes": (247.994465863, {"sample": 8.4336168, "batch": 1.1991791, "residual": 0.6780021}, 0.6421359),
}


@pytest.mark.parametrize("name", ML)
def test_maximum_likelihood_gives_the_printed_deviance(name):
    deviance, variances, error = ML[name]
    ours = fit(**getattr(frames, name)(), reml=False)
    assert ours.converged
    assert ours.criterion == pytest.approx(deviance, rel=0, abs=1e-6)
    for part, variance in variances.items():  # lme4's default optimiser leaves about five digits
        assert ours.variance[part] == pytest.approx(variance, rel=5e-5)
    if error is not None:
        assert np.sqrt(ours.beta_cov.iloc[0, 0]) == pytest.approx(error, rel=1e-5)
