"""What small records can tell is kept, what they cannot is named with a reason."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.estimates.plan import (
    BY_BOTH,
    BY_SEASON,
    BY_SITE,
    CULTIVAR,
    SAMPLE,
    connected,
    plan,
)
from dashboard.estimates.readings import readings
from tests.estimates.trials import judged, trial


def planned(frame: pd.DataFrame, trait: str = "size", checks: tuple[str, ...] = ()):
    return plan(readings(frame, trait), frozenset(checks))


@pytest.mark.parametrize(
    ("sites", "seasons", "kept", "meaning"),
    [
        (2, 3, (CULTIVAR, BY_SITE, BY_SEASON, BY_BOTH), "over sites and seasons"),
        (1, 3, (CULTIVAR, BY_SEASON), "at Hill, over its seasons"),
        (3, 1, (CULTIVAR, BY_SITE), "over sites, in 2020 only"),
        (1, 1, (CULTIVAR,), "at Hill in 2020 only"),
    ],
)
def test_the_parts_and_the_meaning_follow_the_sites_and_seasons(sites, seasons, kept, meaning):
    found = planned(trial(sites=sites, seasons=seasons))
    assert found.kept == kept
    assert found.meaning == meaning
    assert set(found.dropped) == {BY_SITE, BY_SEASON, BY_BOTH} - set(kept)
    assert all(sentence.endswith(".") for sentence in found.sentences)


def test_degrees_of_freedom_of_a_whole_table_are_those_of_the_analysis_of_variance():
    c, s, y, p = 12, 2, 3, 2
    freedom = planned(trial(c, s, y, p)).freedom
    assert freedom[CULTIVAR] == c - 1
    assert freedom[BY_SITE] == (c - 1) * (s - 1)
    assert freedom[BY_SEASON] == (c - 1) * (y - 1)
    assert freedom[BY_BOTH] == (c - 1) * (s - 1) * (y - 1)
    assert freedom[SAMPLE] == c * s * y * (p - 1)


def test_degrees_of_freedom_of_records_with_gaps_are_never_more_than_the_rank_allows():
    frame = trial(9, 3, 3, 2, seed=4)
    kept = np.random.default_rng(0).random(len(frame)) < 0.4
    frame = frame[kept].reset_index(drop=True)
    read = readings(frame, "size")
    parts = [
        ["site", "season"],
        ["cultivar"],
        ["cultivar", "site"],
        ["cultivar", "season"],
        ["cultivar", "site", "season"],
    ]
    columns, ranks = [], []
    for part in parts:
        columns.append(pd.get_dummies(frame[part].astype(str).agg(" ".join, axis=1)).to_numpy(float))
        ranks.append(np.linalg.matrix_rank(np.hstack(columns)))
    exact = dict(zip((BY_SITE, BY_SEASON, BY_BOTH), np.diff(ranks)[1:], strict=True))
    freedom = plan(read).freedom
    assert all(freedom[part] <= exact[part] for part in exact)
    assert freedom[BY_SITE] > 0


def test_few_degrees_of_freedom_are_told():
    assert BY_SITE in planned(trial(5, 2, 3)).weak
    assert BY_SITE not in planned(trial(30, 2, 3)).weak


def test_one_sample_a_site_season_hides_what_is_peculiar_to_it():
    found = planned(trial(samples=1))
    assert BY_BOTH in found.dropped
    assert "sample" in found.dropped[BY_BOTH]


@pytest.mark.parametrize(("sites", "seasons", "how"), [(1, 1, "none"), (2, 2, "fixed"), (2, 3, "random")])
def test_site_seasons_are_listed_while_they_are_few(sites, seasons, how):
    assert planned(trial(sites=sites, seasons=seasons)).environment == how


def test_a_trend_over_entries_needs_five_seasons_of_entry():
    frame = trial(12, 1, 6)
    first = frame["cultivar"].str[1:].astype(int) % 5
    entering = frame[frame["season"] - 2020 >= first]
    assert planned(entering).cohort
    assert not planned(entering, checks=("C004", "C009")).cohort
    assert not planned(frame).cohort


def test_a_rating_has_no_fruit_to_tell_from_samples():
    assert not planned(judged(trial()), "attractiveness").sampled
    assert planned(trial()).sampled


@pytest.mark.parametrize(
    ("spoil", "says"),
    [
        (lambda frame: frame.iloc[:0], "no reading"),
        (lambda frame: frame.iloc[:1], "one sample"),
        (lambda frame: frame[frame["cultivar"] == "C000"], "C000"),
        (lambda frame: frame.assign(size=60.0), "same reading"),
        (lambda frame: frame.assign(size=np.nan), "no reading"),
        (lambda frame: frame.drop_duplicates("cultivar"), "one sample"),
    ],
    ids=["nothing", "one sample", "one cultivar", "all equal", "all missing", "one sample each"],
)
def test_records_without_a_model_say_why(spoil, says):
    found = planned(spoil(trial()).reset_index(drop=True))
    assert says in found.refused
    assert found.kept == ()


def test_blocks_that_never_meet_are_groups_the_largest_first():
    frame = trial(10, 2, 2)
    block = frame["cultivar"].isin([f"C00{code}" for code in range(7)])
    apart = frame[block == (frame["site"] == "Hill")]
    group = connected(readings(apart, "size"))
    assert group.tolist() == [0] * 7 + [1] * 3
    assert planned(apart).components == 2
    assert any("never shared" in note for note in planned(apart).notes)
