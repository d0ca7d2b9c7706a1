"""How errors of several traits go together, and where two traits were measured."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.estimates.together import possible, together
from tests.estimates.trials import trial


def correlation(frame: pd.DataFrame, traits, **more) -> pd.DataFrame:
    return together(frame, traits, **more).correlation


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
    found = correlation(cells, ("size", "sugar"))
    assert found.loc["size", "sugar"] == pytest.approx(0.64, abs=0.08)


def test_few_site_seasons_tell_nothing_of_how_errors_go_together():
    frame = trial(4, 1, 2)
    assert correlation(frame.assign(sugar=frame["size"]), ("size", "sugar")).to_numpy().tolist() == [
        [1, 0],
        [0, 1],
    ]


def test_at_equal_firmness_what_goes_with_firmness_is_taken_out():
    frame = trial(40, 2, 5)
    noise = np.random.default_rng(2).normal(0, 1, len(frame))
    frame["firmness"] = 50 - (frame["size"] - 60) + noise
    assert correlation(frame, ("size", "firmness")).loc["size", "firmness"] < -0.8
    equal = correlation(frame, ("size", "firmness"), equal_firmness=True)
    assert abs(equal.loc["size", "firmness"]) < 0.05


def test_pairs_seen_on_different_fruit_that_cannot_go_together_are_mended():
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
        cells.loc[here, one], cells.loc[here, other] = 20 + both, 20 + way * both + 0.3 * own
    found = correlation(cells, ("size", "sugar", "firmness"))
    assert np.linalg.eigvalsh(found)[0] > 0
    assert np.diag(found) == pytest.approx(1)
    assert found.loc["size", "sugar"] > 0.3
    assert found.loc["sugar", "firmness"] > 0.3
    assert found.loc["firmness", "size"] < -0.3


def test_correlations_that_cannot_be_are_mended():
    bad = np.array([[1.0, 0.9, -0.9], [0.9, 1.0, 0.9], [-0.9, 0.9, 1.0]])
    mended = possible(bad)
    assert np.linalg.eigvalsh(mended)[0] > 0
    assert np.diag(mended) == pytest.approx(1)


def test_correlations_that_can_be_stay_as_they_are():
    can = np.array([[1.0, 0.5, -0.2], [0.5, 1.0, 0.3], [-0.2, 0.3, 1.0]])
    assert possible(can) is can


def test_three_that_all_go_against_each_other_do_so_by_a_half_at_most():
    """Of three errors each pair can have a correlation of -1/2 and no less: the variance of their sum is 3 + 6 r."""
    mended = possible(np.full((3, 3), -0.9) + 1.9 * np.eye(3))
    assert mended[~np.eye(3, dtype=bool)] == pytest.approx(-0.5, abs=1e-5)


def left_by_least_squares(cells: pd.DataFrame, trait: str) -> np.ndarray:
    """What a regression on cultivars and site-seasons leaves; NaN for a cultivar with one mean only."""
    known = cells[trait].notna().to_numpy()
    part = cells[known]
    by = [part["cultivar"], part["site"] + " " + part["season"].astype(str)]
    dummies = np.hstack([pd.get_dummies(one).to_numpy(float) for one in by])
    y = part[trait].to_numpy()
    left = np.full(len(cells), np.nan)
    left[known] = y - dummies @ np.linalg.lstsq(dummies, y, rcond=None)[0]
    return np.where(cells["cultivar"].map(part["cultivar"].value_counts()).to_numpy() > 1, left, np.nan)


@pytest.fixture(scope="module")
def gappy() -> pd.DataFrame:
    """Two traits and firmness, one sample a site-season, a fifth missing trait by trait; C000 has one reading of size."""
    rng = np.random.default_rng(6)
    frame = trial(20, 2, 4, 1, seed=6)
    frame["sugar"] = 12 + 0.3 * (frame["size"] - 60) + rng.normal(0, 1, len(frame))
    frame["firmness"] -= 2.0 * (frame["sugar"] - 12)
    for trait in ("size", "sugar", "firmness"):
        frame.loc[rng.random(len(frame)) < 0.2, trait] = np.nan
    first = frame["cultivar"] == "C000"
    frame.loc[first, "size"] = np.where(np.arange(first.sum()) == 0, 75.0, np.nan)
    return frame


def test_what_is_left_is_what_a_regression_leaves(gappy):
    found = correlation(gappy, ("size", "sugar", "firmness"))
    left = pd.DataFrame({trait: left_by_least_squares(gappy, trait) for trait in found})
    assert found.to_numpy() == pytest.approx(left.corr().to_numpy(), abs=2e-4)


def test_at_equal_firmness_it_is_what_a_regression_on_firmness_leaves_too(gappy):
    found = correlation(gappy, ("size", "sugar", "firmness"), equal_firmness=True)
    left = pd.DataFrame({trait: left_by_least_squares(gappy, trait) for trait in found})
    for trait in ("size", "sugar"):
        both = left[[trait, "firmness"]].dropna()
        slope = np.linalg.lstsq(both[["firmness"]], both[trait], rcond=None)[0][0]
        left[trait] -= slope * left["firmness"]
    assert found.to_numpy() == pytest.approx(left.corr().to_numpy(), abs=2e-4)
    without = ("size", "sugar")
    pd.testing.assert_frame_equal(
        correlation(gappy, without, equal_firmness=True), correlation(gappy, without)
    )  # firmness is not asked for, so nothing of it can be taken out
    alike = gappy.assign(firmness=45.0)
    one, other = (correlation(alike, (*without, "firmness"), equal_firmness=way) for way in (True, False))
    assert one.to_numpy() == pytest.approx(other.to_numpy())


def test_the_samples_of_a_site_season_count_as_one_mean(gappy):
    """And in whatever way the records are coded: a season nobody stood in, listed in the column's kind, adds nothing."""
    twice = pd.concat([gappy, gappy]).reset_index(drop=True)
    kinds = {name: gappy[name].astype("category").cat.categories for name in ("cultivar", "site", "season")}
    coded = gappy.assign(
        **{name: pd.Categorical(gappy[name], [*kinds[name], "nowhere"]) for name in ("cultivar", "site")},
        season=pd.Categorical(gappy["season"], [*kinds["season"], 2031]),
    )
    found = correlation(gappy, ("size", "sugar"))
    for same in (twice, coded):
        assert correlation(same, ("size", "sugar")).to_numpy() == pytest.approx(found.to_numpy())


def test_thirty_site_season_means_are_enough():
    """Fifteen cultivars in two seasons have as many."""
    frame = trial(15, 1, 2, 1)
    frame["sugar"] = frame["size"] ** 2
    assert correlation(frame, ("size", "sugar")).loc["size", "sugar"] > 0.9
    fewer = frame.assign(sugar=frame["sugar"].where(frame.index != 3))
    assert correlation(fewer, ("size", "sugar")).loc["size", "sugar"] == 0


def test_no_records_tell_nothing():
    empty = trial(4, 1, 2).iloc[:0].assign(sugar=[])
    assert correlation(empty, ("size", "sugar")).to_numpy().tolist() == [[1, 0], [0, 1]]


def test_traits_measured_in_other_site_seasons_share_no_error(gappy):
    """By hand: of C001's site-seasons those with both, over the root of the product of those with either."""
    found = together(gappy, ("size", "sugar"))
    one = gappy[gappy["cultivar"] == "C001"].groupby(["site", "season"])[["size", "sugar"]].count() > 0
    expected = one.all(axis=1).sum() / np.sqrt(one["size"].sum() * one["sugar"].sum())
    assert found.overlap[1, [0, 1], [1, 0]] == pytest.approx(expected)
    apart = gappy.assign(
        sugar=gappy["sugar"].where(gappy["site"] == "Hill"),
        size=gappy["size"].where(gappy["site"] == "River"),
    )
    assert not together(apart, ("size", "sugar")).overlap[:, 0, 1].any()


def test_many_site_seasons_tell_how_traits_go_together_more_surely():
    def rough(cultivars: int) -> float:
        frame = trial(cultivars, 2, 4, 1)
        noise = 12 + np.random.default_rng(2).normal(size=len(frame))
        return float(together(frame.assign(sugar=noise), ("size", "sugar")).variance[0, 1])

    assert rough(80) == pytest.approx(rough(20) / 4, rel=0.2)
    assert rough(20) == pytest.approx(
        1 / (20 - 1) / (8 - 1), rel=0.2
    )  # degrees of freedom of a two-way table
