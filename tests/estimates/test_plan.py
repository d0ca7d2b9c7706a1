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
from dashboard.estimates.readings import Readings, readings
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


def exact(frame: pd.DataFrame) -> dict[str, int]:
    """The rank that each part adds to those before it."""
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
    return dict(zip((BY_SITE, BY_SEASON, BY_BOTH), np.diff(ranks)[1:].tolist(), strict=True))


def test_degrees_of_freedom_of_records_with_gaps_are_never_more_than_the_rank_allows():
    frame = trial(9, 3, 3, 2, seed=4)
    kept = np.random.default_rng(0).random(len(frame)) < 0.4
    frame = frame[kept].reset_index(drop=True)
    freedom, allowed = planned(frame).freedom, exact(frame)
    assert all(freedom[part] <= allowed[part] for part in allowed)
    assert freedom[BY_SITE] > 0


def test_a_cultivar_whose_sites_and_seasons_do_not_meet_tells_less():
    """C000 stood at Hill in 2020 and at River in 2021: whether it suits the one or the other, nobody knows."""
    frame = trial(4, 2, 2, 1)
    own = (frame["cultivar"] == "C000") & ((frame["site"] == "Hill") != (frame["season"] == 2020))
    frame = frame[~own].reset_index(drop=True)
    freedom = planned(frame).freedom
    assert {part: freedom[part] for part in (BY_SITE, BY_SEASON, BY_BOTH)} == exact(frame)
    assert exact(frame) == {BY_SITE: 3, BY_SEASON: 2, BY_BOTH: 2}


def test_a_part_with_one_degree_of_freedom_is_kept():
    """Two cultivars: (2 - 1) (2 - 1) (2 - 1) of each."""
    found = planned(trial(2, 2, 2))
    assert found.kept == (CULTIVAR, BY_SITE, BY_SEASON, BY_BOTH)
    assert [found.freedom[part] for part in found.kept] == [1, 1, 1, 1]
    single = trial(12, 2, 3, 1)
    assert BY_BOTH not in planned(single).kept
    twice = pd.concat([single, single.iloc[:1].assign(size=61.0)]).reset_index(drop=True)
    assert planned(twice).freedom[SAMPLE] == 1
    assert BY_BOTH in planned(twice).kept


def test_nine_degrees_of_freedom_are_few_and_ten_are_not_and_so_with_nineteen_cultivars():
    assert CULTIVAR in planned(trial(10, 1, 1)).weak
    assert CULTIVAR not in planned(trial(11, 1, 1)).weak
    assert any("Only 19 cultivars" in note for note in planned(trial(19, 1, 1)).notes)
    assert not any("Only 20 cultivars" in note for note in planned(trial(20, 1, 1)).notes)


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


def test_groups_are_counted_from_the_largest_and_one_without_a_reading_is_in_none():
    """Two cultivars at Hill, five at River, three at Terrace, and one that was never read."""
    frame = trial(11, 3, 2)
    code = frame["cultivar"].str[1:].astype(int)
    home = np.select([code < 2, code < 7], ["Hill", "River"], "Terrace")
    apart = frame[frame["site"] == home].assign(size=frame["size"].where(code < 10))
    read = readings(apart.reset_index(drop=True), "size")
    assert connected(read).tolist() == [2] * 2 + [0] * 5 + [1] * 3 + [-1]
    assert planned(apart).components == 3
    assert planned(frame).components == 1
    assert connected(read.take(np.zeros(len(read), bool))).tolist() == [-1] * 11


def test_one_sample_each_stands_for_the_finest_part_that_is_left():
    """At three sites in one season, or at one in three seasons, what a place does to a cultivar is within its sample."""
    sites, seasons = planned(trial(12, 3, 1, 1)), planned(trial(12, 1, 3, 1))
    assert sites.kept == seasons.kept == (CULTIVAR,)
    assert sites.dropped[BY_SITE] == (
        "One sample each: how differently cultivars do from site to site cannot be told from the samples."
    )
    assert seasons.dropped[BY_SEASON] == (
        "One sample each: how differently cultivars do from season to season cannot be told from the samples."
    )
    assert planned(trial(12, 3, 3, 1)).kept == (CULTIVAR, BY_SITE, BY_SEASON)


def only(read: Readings, site: str, season: int | None = None) -> Readings:
    """The readings of one site, and season; the others stay known by name."""
    rows = read.sites[read.site] == site
    return read.take(rows if season is None else rows & (read.seasons[read.season] == season))


def test_the_meaning_names_the_place_that_was_measured():
    whole = readings(trial(12, 3, 3), "size")
    assert plan(only(whole, "River")).meaning == "at River, over its seasons"
    assert plan(only(whole, "Terrace", 2021)).meaning == "at Terrace in 2021 only"
    assert plan(whole.take(whole.season == 2)).meaning == "over sites, in 2022 only"
    one = plan(whole.take(whole.cultivar == 4))
    assert one.refused == "Only C004 has a reading of size; there is nothing to set it against."


def test_samples_of_one_fruit_among_others_leave_fruit_told_from_samples():
    frame = trial()
    first = frame.index == 0
    assert planned(frame.assign(size_n=np.where(first, 1.0, 10.0))).sampled
    uncounted = planned(frame.assign(size_n=np.where(first, 0.0, 10.0)))
    assert not uncounted.sampled
    assert any("not known for all" in note for note in uncounted.notes)
    two = planned(frame.assign(size_n=2.0))
    assert two.sampled


def test_sites_and_seasons_never_crossed_within_a_cultivar_tell_nothing_of_one_site_season():
    """Half of them at both sites in one season, half at one site in two: 9 - 6 - 1 degrees of freedom of either kind."""
    frame = trial(6, 2, 2)
    moved = frame["cultivar"] <= "C002"
    stood = np.where(moved, frame["season"] == 2020, frame["site"] == "Hill")
    found = planned(frame[stood])
    assert found.kept == (CULTIVAR, BY_SITE, BY_SEASON)
    assert [found.freedom[part] for part in (BY_SITE, BY_SEASON, BY_BOTH)] == [2, 2, 0]
    assert found.dropped == {
        BY_BOTH: "Too few cultivars stood at several sites in several seasons: no part of its own for one site-season."
    }
