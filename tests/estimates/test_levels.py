"""Seasons and sites taken apart, against the analysis of variance of balanced tables and against what was drawn."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.estimates import worth
from dashboard.estimates.plan import ENVIRONMENT
from tests.estimates.trials import trial


def flat(frame, site: float = 0.0, season: float = 0.0):
    """The same trial with every site-season brought to one level, and then sites and seasons set apart by so much a step."""
    level = frame.groupby(["site", "season"])["size"].transform("mean")
    steps = site * frame["site"].rank(method="dense") + season * frame["season"].rank(method="dense")
    return frame.assign(size=frame["size"] - level + 60 + steps, pick=1.0)


@pytest.mark.parametrize(("sites", "seasons"), [(2, 2), (2, 4)])
def test_seasons_and_sites_of_a_balanced_table(sites, seasons):
    """Steps of 3 mm from season to season have the variance of their ranks times 9; steps of 5 mm from site to site likewise.
    Listed site-seasons are taken as estimated, random ones, drawn in, all but so."""
    found = worth(flat(trial(16, sites, seasons, seed=4), site=5.0, season=3.0), "size")
    assert found.plan.environment == ("fixed" if sites * seasons < 6 else "random")
    near = 1e-3 if found.plan.environment == "fixed" else 0.1
    assert found.level == pytest.approx(9 * np.var(np.arange(seasons), ddof=1), rel=near)
    assert found.site_level == pytest.approx(25 * np.var(np.arange(sites), ddof=1), rel=near)
    assert found.seasons == seasons


def test_what_lasts_between_sites_is_no_part_of_the_next_season():
    apart, alike = (
        worth(flat(trial(16, 3, 3, seed=4), site=step, season=2.0), "size") for step in (10.0, 0.0)
    )
    assert 2 < alike.level < apart.level < 5  # steps of 2 mm: 4, and less where the site-seasons are drawn in
    assert apart.site_level > 80 > 5 > alike.site_level
    assert apart.variance[ENVIRONMENT] > 10 * apart.level


def test_two_seasons_at_three_sites_are_two_seasons():
    found = worth(trial(16, 3, 2, seed=4), "size")
    assert sum(found.site_seasons.values()) == 6
    assert found.seasons == 2


def test_one_season_at_each_site_tells_nothing_of_seasons():
    frame = trial(16, 3, 3, seed=4)
    own = {"Hill": 2020, "River": 2021, "Terrace": 2022}
    found = worth(frame[frame["season"] == frame["site"].map(own)].reset_index(drop=True), "size")
    assert (found.level, found.seasons) == (0.0, 1)
    assert worth(trial(12, 1, 1), "size").seasons == 1


def test_site_and_season_together_are_not_the_sites_own():
    """Levels drawn anew in every site-season (SD 3 mm) over many sites: sites have no level of their own."""
    rng = np.random.default_rng(3)
    frame = flat(trial(12, 4, 8, 1, seed=4))
    anew = frame.groupby(["site", "season"])["size"].transform(lambda one: one + rng.normal(0, 3))
    found = worth(frame.assign(size=anew), "size")
    assert found.level == pytest.approx(9, rel=0.4)
    assert found.site_level < 1.5
