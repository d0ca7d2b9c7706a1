"""Joint draws: each value's own distribution, cultivars and traits going together as they should."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from dashboard.estimates import worth
from dashboard.estimates.comparisons import difference
from dashboard.estimates.draws import errors, long_run_draws, rough
from dashboard.estimates.one_season import BORROWED, long_run
from tests.estimates.trials import judged, trial


@pytest.fixture(scope="module")
def whole():
    return worth(trial(24, 2, 4, seed=3), "size")


def alone(found, count: int = 20_000) -> np.ndarray:
    return errors({"size": found}, np.ones((len(found.values), 1, 1)), count)["size"]


def for_each(found, correlation: pd.DataFrame, order=None) -> np.ndarray:
    """The same correlation for every cultivar, its traits in order."""
    asked = correlation if order is None else correlation.loc[list(order), list(order)]
    return np.tile(asked.to_numpy(dtype=float), (len(found.values), 1, 1))


def test_each_cultivar_s_draws_have_its_estimate_and_its_t_interval(whole):
    drawn = long_run_draws(whole, alone(whole))
    values = whole.values
    assert drawn.mean(axis=0) == pytest.approx(values["estimate"].to_numpy(), abs=0.05)
    low, high = np.quantile(drawn, [0.05, 0.95], axis=0)
    assert low == pytest.approx(values["low"].to_numpy(), abs=0.08)
    assert high == pytest.approx(values["high"].to_numpy(), abs=0.08)


def test_a_difference_of_draws_has_the_error_of_the_difference():
    """Cultivars seen in different seasons: part of the error is their seasons', which those of one season share."""
    frame = trial(24, 2, 4, seed=3)
    always = frame["cultivar"].isin(["C010", "C011", "C012"])
    whole = worth(frame[always | ((frame["season"] < 2022) == (frame["cultivar"] < "C012"))], "size")
    drawn = long_run_draws(whole, alone(whole))
    for pair in (["C001", "C007"], ["C001", "C020"]):
        told = difference(whole, *pair)
        one, other = whole.places(pair)
        assert (drawn[:, one] - drawn[:, other]).std() == pytest.approx(
            told.se * np.sqrt(told.df / (told.df - 2)), rel=0.04
        )


def test_few_degrees_of_freedom_make_heavy_tails():
    found = worth(trial(6, 1, 2, seed=8), "size")
    drawn = alone(found, 50_000)
    df = found.values["df"].to_numpy()
    for chance in (0.9, 0.99):
        assert np.quantile(drawn, chance, axis=0) == pytest.approx(stats.t.ppf(chance, df), rel=0.08)


def test_traits_go_together_as_asked_and_are_the_same_whenever_asked_for(whole):
    asked = pd.DataFrame([[1.0, -0.6], [-0.6, 1.0]], ["a", "b"], ["a", "b"])
    first, again = (errors({"a": whole, "b": whole}, for_each(whole, asked), 4000) for _ in range(2))
    for trait in "ab":
        assert (first[trait] == again[trait]).all()
    seen = [np.corrcoef(first["a"][:, row], first["b"][:, row])[0, 1] for row in range(24)]
    assert np.mean(seen) == pytest.approx(-0.6, abs=0.03)


def made_up(whole, own: list[float], shared: list[list[float]], df: float):
    """As many cultivars as ``own`` has, with these parts of their errors."""
    values = whole.values.iloc[: len(own)].assign(df=df)
    return replace(whole, values=values, own=np.array(own), shared=np.array(shared))


def test_errors_have_variance_one_and_the_correlation_of_their_parts(whole):
    """By hand: covariances diag(own) + shared shared' of [[2, 2, 0], [2, 5, 0], [0, 0, 4]]; df without end is the normal."""
    parts = made_up(whole, [1.0, 1.0, 4.0, np.nan], [[1.0, 0], [2.0, 0], [0, 0], [np.nan, np.nan]], np.inf)
    drawn = alone(parts, 15_000)
    assert drawn[:, :3].mean(axis=0) == pytest.approx(0, abs=0.04)
    expected = np.eye(3)
    expected[0, 1] = expected[1, 0] = 2 / np.sqrt(2 * 5)
    assert np.cov(drawn[:, :3].T) == pytest.approx(expected, abs=0.04)
    assert not drawn[:, 3].any()  # without a reading
    assert np.quantile(drawn[:, :3], 0.975, axis=0) == pytest.approx(1.96, abs=0.08)


def test_three_traits_go_together_pair_by_pair(whole):
    traits = ["a", "b", "c"]
    asked = pd.DataFrame([[1, 0.6, -0.3], [0.6, 1, 0.4], [-0.3, 0.4, 1]], traits, traits)
    parts = made_up(whole, [1.0] * 3, [[0.5]] * 3, np.inf)
    drawn = errors(dict.fromkeys("cab", parts), for_each(parts, asked, "cab"), 15_000)  # in whatever order
    for row in range(3):
        one = np.array([drawn[trait][:, row] for trait in traits])
        assert np.cov(one) == pytest.approx(asked.to_numpy(), abs=0.04)
        # Cultivars of two traits go together as within each: they share the seasons of their fruit.
        assert np.corrcoef(drawn["a"][:, 0], drawn["b"][:, 1])[0, 1] == pytest.approx(0.6 * 0.2, abs=0.03)


def test_one_rough_variance_is_drawn_for_all_cultivars_of_a_trait_and_another_for_another(whole):
    """With few degrees of freedom a draw that is far off is so everywhere: squares go together within a trait alone."""
    parts = made_up(whole, [1.0, 1.0], [[0.0], [0.0]], 5.0)
    apart = pd.DataFrame(np.eye(2), ["a", "b"], ["a", "b"])
    drawn = {
        name: np.abs(one)
        for name, one in errors({"a": parts, "b": parts}, for_each(parts, apart), 10_000).items()
    }
    assert np.corrcoef(drawn["a"].T)[0, 1] > 0.08
    assert abs(np.corrcoef(drawn["a"][:, 0], drawn["b"][:, 0])[0, 1]) < 0.04


def test_traits_without_a_model_are_left_out(whole):
    raw = worth(trial().drop_duplicates("cultivar").reset_index(drop=True), "size")
    asked = pd.DataFrame(np.eye(2), ["raw", "size"], ["raw", "size"])
    drawn = errors({"raw": raw, "size": whole}, for_each(whole, asked))
    assert list(drawn) == ["size"]
    assert drawn["size"].shape == (1000, 24)  # what docs/methods.md tells of how many there are
    assert drawn["size"].dtype == long_run_draws(whole, drawn["size"]).dtype == np.float32  # half the memory


def test_the_rough_part_is_that_of_chi_square():
    """Closed forms: chi-square on 2 is -2 ln(1 - u), on 1 the square of a normal; without end it is 1 throughout."""
    u = np.array([0.05, 0.3, 0.5, 0.9, 0.99])
    made = rough(np.array([1.0, 2.0, np.inf, np.nan, 0.5]), u)
    assert made.shape == (5, 5)
    assert made[:, 0] == pytest.approx(1 / np.abs(stats.norm.ppf((1 + u) / 2)), rel=1e-5)
    assert made[:, 1] == pytest.approx(1 / np.sqrt(-np.log(1 - u)), rel=1e-5)
    assert made[:, 2].tolist() == made[:, 3].tolist() == [1.0] * 5
    assert made[:, 4].tolist() == made[:, 0].tolist()  # below one degree of freedom it is as of one
    for df in (1.3, 3.0, 7.0, 30.0):
        (between,) = rough(np.array([df]), u).T
        assert between == pytest.approx(np.sqrt(df / stats.chi2.ppf(u, df)), rel=0.01)
    many = rough(np.array([40.0, 200.0]), u) - 1  # with many it is a matter of some per cent, less with each
    assert (np.abs(many[:, 1]) < np.abs(many[:, 0])).all()
    assert (many[:, 1] * many[:, 0] > 0).all()


def test_draws_are_values_and_errors_and_stay_within_what_can_be_measured(whole):
    told = whole.values
    assert long_run_draws(whole, np.zeros((2, 24)))[1] == pytest.approx(told["estimate"].to_numpy())
    up = long_run_draws(whole, np.ones((1, 24)))[0]
    assert up == pytest.approx((told["estimate"] + told["se"]).to_numpy())
    assert not long_run_draws(whole, np.full((1, 24), -1000.0)).any()  # a size is never below nothing
    assert (long_run_draws(whole, np.full((1, 24), 1000.0)) > 200).all()


def test_a_cultivar_without_a_reading_has_no_draws():
    frame = trial(12, 2, 3)
    found = worth(frame.assign(size=frame["size"].where(frame["cultivar"] != "C003")), "size")
    drawn = long_run_draws(found, alone(found, 50))
    assert np.isnan(drawn[:, 3]).all()
    assert np.isfinite(np.delete(drawn, 3, axis=1)).all()


def test_at_a_site_the_draws_are_about_the_value_there(whole):
    drawn = long_run_draws(whole, alone(whole, 4000), "River")
    assert drawn.mean(axis=0) == pytest.approx(whole.at["River"]["estimate"].to_numpy(), abs=0.15)


def test_one_season_borrows_the_usual_ratio():
    found = worth(trial(20, 2, 1), "size")
    assert found.plan.one_season
    told = long_run(found, BORROWED)
    drawn = long_run_draws(found, alone(found, 4000))
    assert drawn.std(axis=0) == pytest.approx(told["se"].to_numpy(), rel=0.15)


def test_ratings_stay_within_their_scale():
    frame = judged(trial(24, 2, 3, spread=20.0))
    found = worth(frame, "attractiveness")
    one = np.ones((len(found.values), 1, 1))
    drawn = long_run_draws(found, errors({"attractiveness": found}, one, 2000)["attractiveness"])
    assert drawn.min() >= 0
    assert drawn.max() <= 10
