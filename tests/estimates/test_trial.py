"""The readings arranged for a fit: the columns say what the formula of the plan says, and what is asked is what is meant."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from dashboard.estimates.plan import BY_BOTH, BY_SEASON, BY_SITE, CULTIVAR, ENVIRONMENT, plan
from dashboard.estimates.readings import readings
from dashboard.estimates.trial import CHECK, ENTERED, FIRMNESS, MEAN, PICK, SITE_SEASON, USUAL_FIRMNESS, Trial
from tests.estimates.trials import trial


def arranged(frame: pd.DataFrame, checks: tuple[str, ...] = (), firmness: bool = False, **planned) -> Trial:
    read, known = readings(frame.reset_index(drop=True), "size"), frozenset(checks)
    return Trial(read, replace(plan(read, known, firmness), **planned), known, firmness)


@pytest.fixture(scope="module")
def gappy() -> pd.DataFrame:
    """Of nine cultivars at three sites in three seasons; C003 and C007 never stood at River, nobody at Terrace in 2021."""
    frame = trial(9, 3, 3)
    at = frame["site"]
    gone = (at == "River") & frame["cultivar"].isin(["C003", "C007"])
    gone |= (at == "Terrace") & (frame["season"] == 2021)
    return frame[~gone].reset_index(drop=True)


@pytest.fixture(scope="module")
def entering() -> pd.DataFrame:
    """Two cultivars a season enter, of five seasons with a year left out, and stay; C000 and C005 are the checks."""
    frame = trial(10, 1, 5)
    frame = frame[frame["season"] - 2020 >= frame["cultivar"].str[1:].astype(int) % 5]
    return frame.assign(season=frame["season"].where(frame["season"] < 2023, frame["season"] + 1))


def test_each_part_has_a_level_for_what_it_is_named_after(gappy):
    groups = arranged(gappy).groups
    named = {
        CULTIVAR: ["cultivar"],
        BY_SITE: ["cultivar", "site"],
        BY_SEASON: ["cultivar", "season"],
        BY_BOTH: ["cultivar", "site", "season"],
        ENVIRONMENT: ["site", "season"],
    }
    assert set(groups) == set(named)
    for part, keys in named.items():
        told = pd.factorize(groups[part])[0]
        meant = pd.factorize(gappy[keys].astype(str).agg(" ".join, axis=1))[0]
        assert told.tolist() == meant.tolist(), part


def test_listed_site_seasons_are_no_random_part():
    two = trial(6, 2, 2)
    assert ENVIRONMENT not in arranged(two).groups
    assert arranged(two).listed == [f"{SITE_SEASON} {number}" for number in range(3)]
    assert arranged(trial(6, 2, 3)).listed == []


def test_picks_are_about_their_mean_and_unknown_ones_are_usual():
    frame = trial(6, 2, 3)
    known = frame.assign(pick=frame["pick"].where(frame.index % 3 != 0))
    picks = arranged(known).picks
    assert picks == pytest.approx((known["pick"] - known["pick"].mean()).fillna(0.0).to_numpy())
    assert not arranged(known, pick=False).picks.any()
    assert arranged(known).X[PICK].tolist() == picks.tolist()


def test_a_mean_counts_every_site_season_alike_and_at_a_site_only_its_own(gappy):
    """Eight site-seasons, three at Hill (codes 0 to 2), three at River, two at Terrace."""
    told = arranged(gappy)
    assert told.where.tolist() == [0, 0, 0, 1, 1, 1, 2, 2]
    assert told.counted(None) == pytest.approx(np.full(8, 1 / 8))
    assert told.counted(2) == pytest.approx([0, 0, 0, 0, 0, 0, 1 / 2, 1 / 2])


def test_at_a_site_each_cultivar_has_its_own_part_and_none_where_it_never_stood(gappy):
    told = arranged(gappy)
    levels = np.unique(told.groups[BY_SITE])
    assert len(levels) == 9 * 3 - 2
    for site in range(3):
        picked = told.at_site(site).toarray()
        assert picked.shape == (9, len(levels))
        for cultivar in range(9):
            (at,) = np.nonzero(picked[cultivar])
            if site == 1 and cultivar in (3, 7):
                assert not len(at)
            else:
                assert picked[cultivar, at].tolist() == [1.0]
                assert levels[at].tolist() == [cultivar * 3 + site]


def test_what_is_asked_is_the_mean_of_what_is_expected_of_every_site_season(entering):
    """Whatever the effects are: the sum asked for is that of the formula, written out site-season by site-season."""
    frame = pd.concat([entering.assign(site="Hill"), entering.assign(site="River")]).reset_index(drop=True)
    told = arranged(frame, ("C000", "C005"), environment="fixed", cohort=True)
    assert list(told.X) == [MEAN, *told.listed, PICK, CHECK, ENTERED]
    rng = np.random.default_rng(3)
    beta = pd.Series(rng.normal(size=told.X.shape[1]), index=told.X.columns)
    listed = beta[told.listed].to_numpy()
    effects = np.append(listed, -listed.sum())  # they add up to nothing
    for site in (None, 0, 1):
        fixed, _ = told.asked(site)
        at = np.ones(len(told.where), bool) if site is None else told.where == site
        own = told.check * beta[CHECK] + told.entered * beta[ENTERED]
        assert fixed @ beta.to_numpy() == pytest.approx(beta[MEAN] + own + effects[at].mean())


def test_the_random_parts_asked_for_are_the_cultivar_s_and_what_belongs_to_the_place(gappy):
    told = arranged(gappy)
    over, there = told.asked(None)[1], told.asked(1)[1]
    assert set(over) == {CULTIVAR, ENVIRONMENT}
    assert set(there) == {CULTIVAR, ENVIRONMENT, BY_SITE}
    for effects, site in ((over, None), (there, 1)):
        assert effects[CULTIVAR].toarray().tolist() == np.eye(9).tolist()
        assert effects[ENVIRONMENT].tolist() == told.counted(site).tolist()  # the same for all
    assert there[BY_SITE].toarray().tolist() == told.at_site(1).toarray().tolist()
    single = arranged(trial(6, 1, 3))
    assert set(single.asked(0)[1]) == {CULTIVAR}  # three site-seasons are listed, and one site has no part


def test_cultivars_without_a_reading_are_gaps_in_the_whole(gappy):
    told = arranged(gappy.assign(size=gappy["size"].where(~gappy["cultivar"].isin(["C000", "C004"]))))
    assert told.cultivars.tolist() == [1, 2, 3, 5, 6, 7, 8]
    values = told.whole(np.arange(7.0))
    assert np.isnan(values[[0, 4]]).all()
    assert values[told.cultivars].tolist() == list(range(7))
    assert told.whole(np.ones((7, 2))).shape == (9, 2)


def test_seasons_of_entry_are_years_about_the_mean_of_all_but_checks(entering):
    """Entries of 2020, 2021, 2022, 2024, 2025, two of each; the checks entered in 2020."""
    told = arranged(entering, ("C000", "C005"))
    assert told.check.tolist() == [1.0, 0, 0, 0, 0, 1.0, 0, 0, 0, 0]
    mean = (2021 + 2022 + 2024 + 2025) / 4
    own = [0.0, 2021 - mean, 2022 - mean, 2024 - mean, 2025 - mean]
    assert told.entered == pytest.approx([*own, *own])
    everybody = arranged(entering)
    assert everybody.check.tolist() == [0.0] * 10
    assert everybody.entered.sum() == pytest.approx(0)
    assert everybody.entered[0] == pytest.approx(2020 - (2020 + 2021 + 2022 + 2024 + 2025) / 5)
    only = arranged(entering, tuple(f"C{number:03d}" for number in range(10)))
    assert only.entered.tolist() == [0.0] * 10


def test_seasons_that_are_no_years_count_by_their_order(entering):
    named = entering.assign(season=entering["season"].map(lambda year: f"season {'abcdef'[year - 2020]}"))
    own = [0 - 2, 1 - 2, 2 - 2, 3 - 2, 4 - 2]
    assert arranged(named).entered == pytest.approx([*own, *own])


def test_one_never_judged_enters_in_no_season(entering):
    told = arranged(entering.assign(size=entering["size"].where(entering["cultivar"] != "C009")))
    assert told.entered[9] == 0.0
    assert told.entered[:9].sum() == pytest.approx(0)


def test_the_columns_are_those_of_the_formula(entering):
    frame = entering.assign(firmness=40 + np.arange(len(entering)) % 7)
    told = arranged(frame, ("C000", "C005"), firmness=True, environment="random", cohort=True)
    assert list(told.X) == [MEAN, PICK, CHECK, ENTERED, FIRMNESS, USUAL_FIRMNESS]
    code = told.read.cultivar
    assert told.X[MEAN].tolist() == [1.0] * len(frame)
    assert told.X[CHECK].tolist() == told.check[code].tolist()
    assert told.X[ENTERED].tolist() == told.entered[code].tolist()
    own = frame.groupby("cultivar")["firmness"].transform("mean")
    assert told.X[FIRMNESS].to_numpy() == pytest.approx((frame["firmness"] - own).to_numpy())
    assert told.X[USUAL_FIRMNESS].to_numpy() == pytest.approx((own - frame["firmness"].mean()).to_numpy())
    fixed, _ = told.asked(None)  # as if each were picked at the firmness of all
    away = own.groupby(frame["cultivar"]).first().to_numpy() - frame["firmness"].mean()
    assert fixed[:, 4] == pytest.approx(-away)
    assert fixed[:, 5] == pytest.approx(away)
    assert told.left_out == []


def test_listed_site_seasons_add_up_to_nothing():
    """Sum-to-zero contrasts (Searle 1971, Linear Models, ch. 5): 1 in its own, -1 in the last, 0 elsewhere."""
    told = arranged(trial(6, 2, 2, 1))
    for number, name in enumerate(told.listed):
        by_place = pd.Series(told.X[name].to_numpy()).groupby(told.environment).agg(["min", "max"])
        meant = np.zeros(4)
        meant[[number, 3]] = 1, -1
        assert by_place["min"].tolist() == by_place["max"].tolist() == meant.tolist()


def test_what_adds_nothing_is_left_out_and_said():
    two = trial(6, 2, 2)
    by_place = two.assign(pick=2.0 * (two["season"] - 2020) + (two["site"] == "Hill"))
    picks = "Picks cannot be told from site-seasons, so they are taken as alike."
    entered = "A trend over seasons of entry cannot be told from the seasons themselves."
    firmness = "No cultivar was picked now firmer, now softer, so values at equal firmness are as picked."
    told = arranged(by_place.assign(firmness=45.0), firmness=True, cohort=True)
    assert told.left_out == [picks, entered, firmness]
    assert list(told.X) == [MEAN, *told.listed]
    assert np.linalg.matrix_rank(told.X) == told.X.shape[1] == 4
    assert PICK in arranged(two).X


def test_columns_nearly_alike_are_both_kept():
    """A pick that differs from the site-season in one sample of 48 says something of its own."""
    two = trial(6, 2, 2)
    pick = 1.0 * (two["season"] - 2020)
    told = arranged(two.assign(pick=pick + 0.01 * (two.index == 7)))
    assert PICK in told.X
    assert np.linalg.matrix_rank(told.X) == told.X.shape[1]
