"""Finding the best variances, whatever the data."""

from __future__ import annotations

import warnings

import numpy as np
import pandas as pd
import pytest
from scipy import optimize

from dashboard.mixed import fit
from dashboard.mixed.criterion import Model
from dashboard.mixed.design import checked
from tests.mixed import frames
from tests.mixed.degenerate import degenerate
from tests.mixed.dense import trial
from tests.simulate import simulate


def _outcome(seed: int) -> str:
    """ "fit", or the refusal; anything else goes through."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            ours = fit(**degenerate(seed))
        except np.linalg.LinAlgError:  # a ValueError too, but not one anybody meant
            raise AssertionError(f"seed {seed}: a matrix gave out") from None
        except ValueError as refusal:
            return str(refusal)
        assert ours.converged, f"seed {seed} did not converge: {ours.variance}"
        assert all(value >= 0 for value in ours.variance.values()), f"seed {seed}"
        for part in (ours.effect, ours.effect_sd, ours.effect_se):
            assert all(np.isfinite(series).all() for series in part.values()), f"seed {seed}"
    return "fit"


@pytest.mark.parametrize("block", range(6))
def test_degenerate_data_are_fitted_or_refused(block):
    outcomes = [_outcome(seed) for seed in range(block * 10, block * 10 + 10)]
    assert outcomes.count("fit") >= 4


@pytest.mark.slow
@pytest.mark.parametrize("block", range(6))
def test_six_hundred_degenerate_data_sets_are_fitted_or_refused(block):
    outcomes = [_outcome(seed) for seed in range(block * 100, block * 100 + 100)]
    assert outcomes.count("fit") >= 60


@pytest.mark.parametrize("seed", [3, 11, 25])
def test_no_search_from_elsewhere_finds_a_better_criterion(seed):
    asked = trial(seed, sampled=seed % 2 == 0)
    ours, model = fit(**asked), Model(checked(**asked))

    def value(logs):
        return model.at(np.exp(logs)).criterion

    k = len(model.variances) - 1
    for start in (np.zeros(k), np.full(k, -3.0), np.linspace(-2, 1, k)):
        found = optimize.minimize(value, start, method="L-BFGS-B", bounds=[(-20, 12)] * k)
        assert ours.criterion <= found.fun + 1e-7


def test_a_wild_outlier_is_fitted():
    asked = trial(5, sampled=False)
    asked["y"] = np.where(np.arange(len(asked["y"])) == 0, 1e6, asked["y"])
    ours = fit(**asked)
    assert ours.converged
    assert ours.variance["residual"] > 1e8


def test_units_of_measurement_change_nothing_else():
    asked = frames.from_means(frames.sim_s())
    inches = fit(**asked)
    factor = 25.4
    asked |= {"y": asked["y"] * factor, "within_ss": asked["within_ss"] * factor**2}
    mm = fit(**asked)
    for name, variance in inches.variance.items():
        assert mm.variance[name] == pytest.approx(variance * factor**2, rel=1e-8)
    np.testing.assert_allclose(
        mm.effect["cultivar"], inches.effect["cultivar"] * factor, rtol=1e-6, atol=1e-9
    )


def test_the_order_of_records_and_terms_changes_nothing():
    asked = trial(2, sampled=True)
    ours = fit(**asked)
    order = np.random.default_rng(0).permutation(len(asked["y"]))
    groups = {
        name: (labels[0].to_numpy()[order], labels[1][order])
        if isinstance(labels, tuple)
        else labels.to_numpy()[order]
        for name, labels in reversed(asked["groups"].items())
    }
    again = fit(
        asked["y"][order], asked["X"][order], groups, n=asked["n"][order], within_ss=asked["within_ss"]
    )
    assert again.criterion == pytest.approx(ours.criterion, abs=1e-9)
    for name, variance in ours.variance.items():
        assert again.variance[name] == pytest.approx(variance, rel=1e-6)


def test_held_ratios_stay_where_they_are_put():
    asked = trial(6, sampled=True)
    free = fit(**asked)
    held = fit(**asked, held={"cs": 0.25, "cy": 0.0})
    assert held.converged
    assert held.variance["cs"] == pytest.approx(0.25 * held.variance["residual"], rel=1e-12)
    assert held.variance["cy"] == 0
    assert held.criterion >= free.criterion
    at_best = {name: free.variance[name] / free.variance["residual"] for name in ("cs", "cy")}
    again = fit(**asked, held=at_best)
    assert again.criterion == pytest.approx(free.criterion, abs=1e-9)
    assert again.variance["c"] == pytest.approx(free.variance["c"], rel=1e-6)


def test_simulated_trials_give_back_the_spreads_they_were_made_with():
    """The mean of 12 fits, each variance within three standard errors of that mean."""
    found = []
    for seed in range(12):
        made = simulate("H", "size", seed, cull=False, trend=0.0)
        d = made.samples
        ours = fit(
            d["mean"],
            pd.DataFrame({"one": 1.0, "pick": d["pick"]}),
            {name: d[name] for name in ("cultivar", "cs", "cy", "csy", "env")},
            n=d["n"],
            within_ss=made.within_ss,
        )
        assert ours.converged
        found.append({**ours.variance, "fruit": ours.variance["residual"]})
    found = pd.DataFrame(found)
    for name, sd in made.trait.sd.items():
        error = found[name].std() / np.sqrt(len(found))
        assert abs(found[name].mean() - sd**2) < 3 * error, name
