"""What is asked and refused, word for word: a question half said is another question."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.estimates import worth
from dashboard.estimates.chances import FRUIT, LONG_RUN, NEXT_SEASON, chances
from dashboard.estimates.comparisons import difference, from_checks
from dashboard.estimates.variation import sources
from tests.estimates.trials import judged, trial


@pytest.fixture(scope="module")
def whole():
    return worth(trial(24, 3, 3, seed=2), "size")


@pytest.fixture(scope="module")
def one_season():
    return worth(trial(24, 2, 1, seed=2), "size")


@pytest.fixture(scope="module")
def apart():
    """Two blocks that never met: C000 to C006 at Hill, the others at River."""
    frame = trial(14, 2, 3)
    block = frame["cultivar"] <= "C006"
    return worth(frame[block == (frame["site"] == "Hill")].reset_index(drop=True), "size")


def test_three_questions_over_sites_and_at_one(whole):
    over, there = chances(whole, 60.0), chances(whole, 60.0, at_least=False, site="Hill")
    assert [over[key].question for key in (LONG_RUN, NEXT_SEASON, FRUIT)] == [
        "Chance that the cultivar's long-run mean of size over sites and seasons like those seen, is at least 60",
        "Chance that next season's mean of size at a site like these is at least 60",
        "Share of future fruit at a site like these with size at least 60",
    ]
    assert [there[key].question for key in (LONG_RUN, NEXT_SEASON, FRUIT)] == [
        "Chance that the cultivar's long-run mean of size at Hill, in seasons like those seen, is at most 60",
        "Chance that next season's mean of size at Hill is at most 60",
        "Share of future fruit at Hill with size at most 60",
    ]
    assert [over[key].by_cultivar.name for key in over] == [LONG_RUN, NEXT_SEASON, FRUIT]


def test_what_was_borrowed_stands_beside_the_answer(one_season):
    ratio = (
        "With a borrowed ratio of 0.35, which these records cannot check. It sets how much one cultivar varies from year to "
        "year against how much they all differ (as variances). It is taken that seasons to come are like the one seen."
    )
    level = (
        "How much seasons differ is judged by one season and by an assumption: that they differ about 0.7 times as much as "
        "cultivars do."
    )
    told = chances(one_season, 60.0, ratio=0.35)
    assert [told[key].given for key in told] == [ratio, f"{ratio} {level}", f"{ratio} {level}"]


def test_why_a_chance_is_not_told(one_season):
    at_one_of_several = chances(one_season, 60.0, ratio=0.35, site="Hill")
    assert {answer.refused for answer in at_one_of_several.values()} == {
        "With one season of each, a borrowed ratio answers over all sites, not at one."
    }
    assert {answer.refused for answer in chances(one_season, 60.0).values()} == {
        "These records hold one season of each cultivar. How much of a value is the luck of that season is not known. "
        "To look beyond it, give a ratio from past records: spread by season over spread by cultivar."
    }
    single = chances(worth(trial(24, 1, 1, seed=2), "size"), 60.0, ratio=0.35)
    level = (
        "One site in one season does not show how much seasons differ, so next season's level is not known."
    )
    assert [single[key].refused for key in (LONG_RUN, NEXT_SEASON, FRUIT)] == ["", level, level]
    assert single[LONG_RUN].by_cultivar.notna().all()
    with pytest.raises(ValueError, match=r"^Size was not measured at 'Nowhere'\.$"):
        chances(one_season, 60.0, site="Nowhere")
    with pytest.raises(ValueError, match=r"^The limit nan is not a number\.$"):
        chances(one_season, np.nan)


def test_where_the_variation_lies(whole, one_season):
    assert sources(whole)["source"].tolist() == [
        "Cultivars: lasting differences",
        "Cultivars at certain sites: what suits one and not another",
        "Cultivars in certain seasons: what a season suits",
        "Cultivars in one site-season: luck that does not come back",
        "Site and season: what all cultivars share",
        "Samples: pick to pick and tree to tree",
        "Fruit within a sample",
    ]
    assert sources(whole).attrs["sentence"] == (
        "39 % of the variation lies in: Fruit within a sample; 30 % in: Cultivars: lasting differences."
    )
    assert sources(one_season)["source"].iloc[0] == "Cultivars, with what they owe to their season"
    single = sources(worth(trial(24, 1, 1, seed=2), "size"))
    assert single["source"].iloc[0] == "Cultivars, with what they owe to their site and season"
    rated = sources(worth(judged(trial()), "attractiveness"))
    assert rated["source"].iloc[-1] == "Samples and whoever judged them"


def test_why_two_cannot_be_compared(apart):
    assert difference(apart, "C000", "C010").refused == (
        "C000 and C010 never shared a site in a season, not even through others, so their difference may be "
        "that of their seasons."
    )
    names = apart.values.index
    middles = pd.Series(200.0, index=names)
    middles["C005"] = np.nan
    refused = from_checks(apart, middles, ["C010"])["refused"]
    assert refused["C000"] == "No check ever shared a site in a season with C000, not even through others."
    assert refused["C010"] == "C010 is itself a check."
    assert refused["C005"] == "It is not known when C005 ripens."
    assert refused["C011"] == ""
    assert from_checks(apart, middles, [])["refused"]["C000"] == "No cultivar is marked as a check."


def test_one_without_a_reading_is_said_to_have_none():
    frame = trial(14, 2, 3)
    frame.loc[frame["cultivar"] == "C003", "size"] = np.nan
    found = worth(frame, "size")
    assert difference(found, "C000", "C003").refused == "C003 has no reading of size."
    assert difference(found, "C003", "C000").refused == "C003 has no reading of size."
    middles = pd.Series(200.0, index=found.values.index)
    told = from_checks(found, middles, ["C000"])
    assert told.loc["C003", "refused"] == "C003 has no reading of size."
    assert told.loc[["C003", "C000"], ["estimate", "se", "above"]].isna().all(axis=None)


def test_between_two_checks_the_nearer_counts_more(whole):
    """A quarter of the way from C000 (day 190) to C001 (day 210): three quarters of the one and a quarter of the other."""
    names = whole.values.index
    middles = pd.Series(195.0, index=names)
    middles["C000"], middles["C001"], middles["C002"], middles["C003"] = 190.0, 210.0, 180.0, 215.0
    told = from_checks(whole, middles, ["C000", "C001"])
    value = whole.values["estimate"]
    assert told.loc["C005", "estimate"] == pytest.approx(
        value["C005"] - 0.75 * value["C000"] - 0.25 * value["C001"]
    )
    assert told.loc[["C005", "C002", "C003"], "against"].tolist() == ["C000 and C001", "C000", "C001"]
    assert told.loc["C002", "estimate"] == pytest.approx(difference(whole, "C002", "C000").estimate)
    assert told.loc["C003", "se"] == pytest.approx(difference(whole, "C003", "C001").se)
    assert told.loc["C003", "above"] == pytest.approx(difference(whole, "C003", "C001").above)
