"""Joint draws: each value's own distribution, cultivars and traits going together as they should."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from dashboard.estimates import worth
from dashboard.estimates.comparisons import difference
from dashboard.estimates.draws import errors, long_run_draws, together
from dashboard.estimates.one_season import BORROWED, long_run
from tests.estimates.trials import judged, trial


@pytest.fixture(scope="module")
def whole():
    return worth(trial(24, 2, 4, seed=3), "size")


def alone(found, count: int = 20_000) -> np.ndarray:
    return errors({"size": found}, pd.DataFrame([[1.0]], ["size"], ["size"]), count)["size"]


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
    first, again = (errors({"a": whole, "b": whole}, asked, 4000) for _ in range(2))
    for trait in "ab":
        assert (first[trait] == again[trait]).all()
    seen = [np.corrcoef(first["a"][:, row], first["b"][:, row])[0, 1] for row in range(24)]
    assert np.mean(seen) == pytest.approx(-0.6, abs=0.03)


def test_how_errors_go_together_is_read_from_the_records():
    """Two traits that share a part of what a site-season does to a cultivar, whatever the cultivars are like."""
    rng = np.random.default_rng(5)
    cells = pd.MultiIndex.from_product(
        [range(60), ["Hill", "River"], range(2018, 2024)], names=["cultivar", "site", "season"]
    ).to_frame(index=False)
    both = rng.normal(size=len(cells))
    for trait, level in (("size", 60.0), ("sugar", 12.0)):
        own = rng.normal(0, 5, 60)[cells["cultivar"]]
        where = rng.normal(0, 5, 12)[cells.groupby(["site", "season"]).ngroup()]
        cells[trait] = level + own + where + 0.8 * both + 0.6 * rng.normal(size=len(cells))
    found = together(cells, ("size", "sugar"))
    assert found.loc["size", "sugar"] == pytest.approx(0.64, abs=0.08)


def test_few_site_seasons_tell_nothing_of_how_errors_go_together():
    frame = trial(4, 1, 2)
    assert together(frame.assign(sugar=frame["size"]), ("size", "sugar")).to_numpy().tolist() == [
        [1, 0],
        [0, 1],
    ]


def test_at_equal_firmness_what_goes_with_firmness_is_taken_out():
    frame = trial(40, 2, 5)
    noise = np.random.default_rng(2).normal(0, 1, len(frame))
    frame["firmness"] = 50 - (frame["size"] - 60) + noise
    assert together(frame, ("size", "firmness")).loc["size", "firmness"] < -0.8
    equal = together(frame, ("size", "firmness"), equal_firmness=True)
    assert abs(equal.loc["size", "firmness"]) < 0.05


def test_pairs_seen_on_different_fruit_that_cannot_go_together_are_mended(whole):
    """Each site measures two traits of three: one goes with the next, that with the third, and the third against the first."""
    rng = np.random.default_rng(7)
    cells = pd.MultiIndex.from_product(
        [range(60), ["Hill", "River", "Valley"], range(2018, 2024)], names=["cultivar", "site", "season"]
    ).to_frame(index=False)
    cells[["size", "sugar", "firmness"]] = np.nan
    for site, one, other, way in (
        ("Hill", "size", "sugar", 1),
        ("River", "sugar", "firmness", 1),
        ("Valley", "firmness", "size", -1),
    ):
        here = cells["site"] == site
        both, own = rng.normal(size=(2, here.sum()))
        cells.loc[here, one], cells.loc[here, other] = both, way * both + 0.3 * own
    found = together(cells, ("size", "sugar", "firmness"))
    assert np.linalg.eigvalsh(found)[0] > 0
    assert np.diag(found) == pytest.approx(1)
    assert found.loc["size", "sugar"] > 0.3
    assert found.loc["sugar", "firmness"] > 0.3
    assert found.loc["firmness", "size"] < -0.3
    drawn = errors(dict.fromkeys(found, whole), found, 10)
    assert all(np.isfinite(drawn[trait]).all() for trait in found)


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
    one = pd.DataFrame([[1.0]], ["attractiveness"], ["attractiveness"])
    drawn = long_run_draws(found, errors({"attractiveness": found}, one, 2000)["attractiveness"])
    assert drawn.min() >= 0
    assert drawn.max() <= 10
