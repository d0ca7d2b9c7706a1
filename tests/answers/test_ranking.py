"""How cultivars stand in a market: order, places, and the visitor's own limits and wishes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from dashboard import market as markets
from dashboard.answers.merits import BETTER
from dashboard.answers.question import Question
from dashboard.market.statements import statements
from dashboard.page.tabs.how_sure import about_ranking
from dashboard.terms.traits import TRAITS
from tests.answers.test_side_by_side import of_summaries
from tests.estimates.trials import trial


@pytest.fixture(scope="module")
def asked(demo) -> Question:
    return Question(demo, market="regional_wholesale")


def test_the_word_comes_first_then_the_score(asked):
    rows = asked.ranking
    inside = rows[rows["verdict"] == "qualifies"]
    assert inside["score"].is_monotonic_decreasing
    known = inside.dropna(subset="score")
    assert ((known["score_low"] <= known["score"]) & (known["score"] <= known["score_high"])).all()
    assert inside["foremost"].notna().all()
    assert (inside["foremost"] <= inside["rank"]).all()
    assert (inside["rank"] <= inside["hindmost"]).all()
    assert rows.loc[rows["verdict"] != "qualifies", "hindmost"].isna().all()


def test_the_chance_of_a_place_is_among_those_that_pass(asked):
    white = replace(asked, flesh_colour=("white",)).ranking
    known = white["leads"].dropna()
    assert (known >= asked.ranking["leads"][known.index] - 1e-9).all()
    assert white["leads"].sum() == pytest.approx(5, abs=0.1)
    assert replace(asked, top=3).ranking["leads"].sum() == pytest.approx(3, abs=0.1)


def test_own_limits_and_wishes_take_the_place_of_the_market_s(asked):
    lines = statements(asked.profile)
    same = replace(asked, own=lines)
    pd.testing.assert_frame_equal(same.ranking, asked.ranking, rtol=1e-6)
    none = replace(asked, own=tuple(line for line in lines if line.startswith("want ")))
    assert none.ranking["taken"].all()
    assert none.profile.name == "Regional wholesale, changed"
    assert replace(asked, market="", own=("size at_least 70",)).ranking["taken"].sum() < 200
    assert replace(asked, own=("nonsense",)).profile is asked.profile  # whoever stated it has been told


def test_who_is_not_beaten_is_told_with_its_chance(asked):
    sure = asked.sure_not_beaten
    among = asked.passes & asked.fit["taken"].to_numpy()
    assert (sure[~among] == 0).all()
    assert sure.max() <= 1
    assert sure[asked.not_beaten].mean() > 5 * sure[among & ~asked.not_beaten].mean()


def test_openings_and_nearest_misses_belong_to_who_passes(asked):
    red = replace(asked, flesh_colour=("red",))
    names = set(asked.catalogue.cultivars.index[red.passes])
    assert red.nearest
    assert set(red.nearest) <= names
    assert all(one.first in names for one in red.openings)
    assert Question(asked.catalogue).openings == Question(asked.catalogue).nearest == ()


@pytest.mark.slow
def test_the_account_says_what_each_missed_limit_takes(asked):
    out = asked.ranking.index[~asked.ranking["taken"]]
    told = [replace(asked, cultivar=str(name)).account for name in out]
    needed = [one for account in told for one in account.needed]
    assert needed
    assert all(
        not low <= mean <= high or np.isnan(mean) or abs(mean - low) < 1 for _, mean, low, high in needed
    )
    assert replace(asked, cultivar="Nobody").account is None
    assert replace(asked, market="", cultivar=str(out[0])).account is None


@pytest.fixture(scope="module")
def apart(catalogue) -> Question:
    """Two blocks of cultivars that never shared a site in a season: nine of them, and five."""
    frame = trial(14, 2, 3)
    frame = frame.reindex(columns=list(dict.fromkeys([*frame.columns, *TRAITS])))
    frame["sugar"] = 12 + np.random.default_rng(2).normal(0, 1.5, 14)[frame["cultivar"].str[1:].astype(int)]
    frame["sugar"] += np.random.default_rng(3).normal(0, 0.5, len(frame))
    block = frame["cultivar"] <= "C008"
    return Question(
        of_summaries(catalogue, frame[block == (frame["site"] == "Hill")].reset_index(drop=True)),
        own=("want size larger from 50 to 70 weight 1",),
    )


def test_what_nothing_joins_is_ranked_for_itself(apart):
    rows = apart.ranking
    small = rows.index > "C008"
    assert (rows["group"] == small.astype(int)).all()
    assert rows["rank"].tolist() == [*range(1, 10), *range(1, 6)]  # the larger group first
    for _, group in rows.groupby("group"):
        assert group["score"].is_monotonic_decreasing
        assert group["leads"].sum() == pytest.approx(min(5, len(group)), abs=0.1)
    assert "stand last because nothing joins them" in str(about_ranking(apart))


def test_nobody_is_beaten_by_one_it_was_never_compared_with(apart):
    """Alone, each block has the same standing cultivars as beside the other."""
    names = apart.catalogue.cultivars.index
    worth = apart.catalogue.worth
    for small in (False, True):
        block = names[(names > "C008") == small]
        estimates = pd.DataFrame({trait: worth[trait].values["estimate"].reindex(block) for trait in BETTER})
        expected = set(block[markets.not_beaten(estimates, BETTER)])
        assert set(names[apart.not_beaten]) & set(block) == expected
    assert apart.sure_not_beaten[names > "C008"].max() > 0


def test_one_joined_trial_is_one_group(asked):
    assert (asked.ranking["group"] == 0).all()
    assert "nothing joins" not in str(about_ranking(asked))
