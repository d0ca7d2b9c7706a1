"""Cover against cases that can be worked out by hand, and against counting one by one."""

from __future__ import annotations

import itertools

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from dashboard.ripening.cover import CERTAINTIES, Cover, Draws, longest_runs, picking, stretches

SPAN = (0.0, 19.0)


def drawn(first, last) -> Draws:
    first, last = np.atleast_2d(np.asarray(first, dtype=float)), np.atleast_2d(np.asarray(last, dtype=float))
    return Draws(pd.Index([f"C{number}" for number in range(first.shape[1])]), first, last)


def every(combinations) -> np.ndarray:
    return np.array(list(itertools.product(*combinations)), dtype=float)


def test_independent_windows_cover_as_probabilities_multiply():
    """Three cultivars, each early or late with even chance and apart from the others: every combination once."""
    first = every([(0, 5), (5, 10), (0, 10)])
    cover = Cover(drawn(first, first + 4), ("C0", "C1", "C2"), SPAN)
    # Day 2: C0 or C2 early, 1 - 1/4; day 7: C0 late or C1 early, 1 - 1/4; day 12: C1 late or C2 late, 1 - 1/4; day 16: none.
    assert cover.chance[[2, 7, 12, 16]] == pytest.approx([0.75, 0.75, 0.75, 0.0], abs=1e-6)
    two = Cover(cover.draws, cover.names, SPAN, least=2)
    assert two.chance[[2, 7, 12]] == pytest.approx([0.25, 0.25, 0.25], abs=1e-6)
    assert cover.expected[[2, 7, 12]] == pytest.approx([1.0, 1.0, 1.0], abs=1e-6)


def test_a_perfectly_shared_shift_leaves_no_gap_between_neighbours():
    """Two cultivars that follow each other, moved together by whole days: never bare between them, whatever the season."""
    shift = np.arange(-3, 4)[:, None]
    follows = drawn(np.array([[6, 10]]) + shift, np.array([[9, 13]]) + shift)
    cover = Cover(follows, ("C0", "C1"), SPAN)
    assert (longest_runs(cover.counts[:, 9:11] < 1) == 0).all()
    # Day d is covered when d - 13 <= shift <= d - 6: shares of seven equally likely shifts.
    expected = [np.mean((shift >= day - 13) & (shift <= day - 6)) for day in cover.days]
    assert cover.chance == pytest.approx(expected, abs=1e-6)


def test_apart_the_same_two_leave_gaps():
    shift = np.array(list(itertools.product(range(-3, 4), repeat=2)))
    apart = drawn(np.array([[6, 10]]) + shift, np.array([[9, 13]]) + shift)
    cover = Cover(apart, ("C0", "C1"), SPAN)
    assert (longest_runs(cover.counts[:, 9:11] < 1) > 0).any()


def test_a_normal_shift_gives_normal_tails():
    """10,001 quantiles of a standard normal shift of 3 days: the chance of a day is a difference of two tails."""
    shift = 3 * stats.norm.ppf((np.arange(10_001) + 0.5) / 10_001)[:, None]
    cover = Cover(drawn(10 + shift, 14 + shift), ("C0",), SPAN)
    for day in (4, 10, 13):
        tails = stats.norm.cdf((day + 0.5 - 10) / 3) - stats.norm.cdf((day - 0.5 - 14) / 3)
        assert cover.chance[day] == pytest.approx(tails, abs=2e-4)


windows = st.lists(st.tuples(st.floats(-5, 25), st.floats(0, 8)), min_size=1, max_size=6)


@settings(max_examples=60, deadline=None)
@given(st.lists(windows, min_size=1, max_size=4), st.integers(1, 3))
def test_counts_losses_and_gains_agree_with_counting_one_by_one(seasons, least):
    wide = max(map(len, seasons))
    first = np.array([[a for a, _ in (s * wide)[:wide]] for s in seasons])
    last = first + np.array([[b for _, b in (s * wide)[:wide]] for s in seasons])
    found = drawn(first, last)
    names = tuple(found.cultivars)
    counts = np.zeros((len(first), 20), dtype=int)
    for season, row in enumerate(first):
        for at in range(wide):
            for day in range(20):
                counts[season, day] += np.floor(row[at] + 0.5) <= day <= np.floor(last[season, at] + 0.5)
    cover = Cover(found, names, SPAN, least)
    np.testing.assert_array_equal(cover.counts, counts)
    for at, name in enumerate(names):
        rest = tuple(other for other in names if other != name)
        without = Cover(found, rest, SPAN, least)
        bare = ((without.counts < least).sum(axis=1) - (cover.counts < least).sum(axis=1)).mean()
        assert cover.losses[name] == pytest.approx(bare)
        assert np.isfinite(first[:, at]).all()
    bare = (counts < least).sum(axis=1)
    assert cover.whole.chance == np.mean(bare == 0) <= cover.chance.min() + 1e-12
    assert cover.whole.bare == pytest.approx((1 - cover.chance).sum())
    assert np.mean(bare >= cover.whole.worst) >= 0.1 > np.mean(bare > cover.whole.worst) - 1e-12


def test_whole_seasons_hang_on_whether_days_lie_bare_in_the_same_ones():
    """Ten seasons; day 0 and day 19 are covered in eight each, all between always. Bare in the same two, 8 of 10 are whole; apart, 6."""
    starts, ends = np.zeros(10), np.full(10, 19.0)
    starts[:2], ends[:2] = 1, 18
    together = Cover(drawn(starts[:, None], ends[:, None]), ("C0",), SPAN)
    apart = Cover(drawn(starts[:, None], np.roll(ends, 2)[:, None]), ("C0",), SPAN)
    np.testing.assert_allclose(together.chance, apart.chance)
    assert together.gaps == apart.gaps == ()  # each single day in 8 of 10
    assert together.whole == (0.8, pytest.approx(0.4), 2)
    assert apart.whole == (0.6, pytest.approx(0.4), 1)
    assert Cover(together.draws, (), SPAN).whole == (0.0, 20.0, 20)


def test_a_gap_of_known_draws():
    found = drawn([[0, 15, 6, 9, 18]], [[4, 19, 8, 13, 19]])
    cover = Cover(found, ("C0", "C1"), SPAN)
    (gap,) = cover.gaps
    assert (gap.first, gap.last, gap.chance, gap.days, gap.week) == (5.0, 14.0, 0.0, (10.0, 10.0, 10.0), 1.0)


def test_a_crowded_stretch_is_told():
    found = drawn([[0, 8, 8, 8, 8]], [[19, 10, 10, 10, 10]])
    assert Cover(found, tuple(found.cultivars), SPAN).crowded == ((8.0, 10.0),)


def test_an_empty_set_is_one_gap_and_a_name_without_picks_adds_nothing():
    found = drawn([[0, np.nan]], [[19, np.nan]])
    (gap,) = Cover(found, (), SPAN).gaps
    assert (gap.first, gap.last) == SPAN
    assert gap.days == (20.0, 20.0, 20.0)
    assert Cover(found, ("C1", "nobody"), SPAN).chance.max() == 0
    assert Cover(found, ("C1", "nobody"), SPAN).losses.empty
    assert Cover(found, (), SPAN).crowded == ()


def test_picking_outside_the_span_is_cut():
    counts = picking(np.array([[-9.0, 18.0, 30.0]]), np.array([[-2.0, 40.0, 31.0]]), SPAN)
    assert counts[0].tolist() == [0] * 18 + [1, 1]


def test_stretches_and_runs():
    marked = np.array([True, True, False, True, False, False])
    assert stretches(marked) == [(0, 2), (3, 4)]
    assert longest_runs(np.array([marked, ~marked])).tolist() == [2, 2]


@pytest.mark.parametrize(("certainty", "gaps"), [(6, 0), (7, 0), (8, 1), (9, 1)])
def test_a_day_is_covered_at_the_certainty_asked_for(certainty, gaps):
    """Ten seasons; C0 covers every day in all of them but for days 8 to 10, which it covers in exactly seven."""
    first = np.array([[0, 11]] * 3 + [[0, 8]] * 7)
    cover = Cover(drawn(first, [[7, 19]] * 10), ("C0", "C1"), SPAN, certainty=certainty)
    assert cover.chance[8:11] == pytest.approx([0.7] * 3)
    assert [(gap.first, gap.last, gap.chance) for gap in cover.gaps] == [
        (8.0, 10.0, pytest.approx(0.7))
    ] * gaps


@settings(max_examples=40, deadline=None)
@given(st.lists(windows, min_size=2, max_size=8))
def test_asking_for_more_certainty_never_closes_a_gap(seasons):
    wide = max(map(len, seasons))
    first = np.array([[a for a, _ in (s * wide)[:wide]] for s in seasons])
    last = first + np.array([[b for _, b in (s * wide)[:wide]] for s in seasons])
    found = drawn(first, last)
    bare = []
    for certainty in CERTAINTIES:
        gaps = Cover(found, tuple(found.cultivars), SPAN, certainty=certainty).gaps
        bare.append({day for gap in gaps for day in range(int(gap.first), int(gap.last) + 1)})
    assert all(less <= more for less, more in itertools.pairwise(bare))


def test_a_day_is_covered_in_eight_seasons_of_ten_unless_otherwise_asked():
    """Day 9 in eight seasons of ten, day 12 in seven."""
    first = np.array([[0, 10]] * 7 + [[0, 13]] + [[0, 20]] * 2)
    last = np.array([[9, 19]] * 8 + [[8, 19]] * 2)
    (gap,) = Cover(drawn(first, last), ("C0", "C1"), (0.0, 12.0)).gaps
    assert (gap.first, gap.last, gap.chance) == (10.0, 12.0, pytest.approx(0.7))
    assert [Cover(drawn(first, last), (), SPAN, certainty=often).wanted for often in (8, 9)] == [0.8, 0.9]


def test_a_gap_tells_the_days_around_it_too():
    """Ten seasons, bare from 9 to 11; one of them from 6 to 12, a week, and again from 24 on, of which two weeks on count two days."""
    first, last = [[0, 12, 24]] * 9 + [[0, 13, 99]], [[8, 23, 60]] * 9 + [[5, 23, 99]]
    (gap,) = Cover(drawn(first, last), ("C0", "C1", "C2"), (0.0, 60.0)).gaps
    assert (gap.first, gap.last, gap.chance) == (9.0, 11.0, 0.0)
    assert gap.days == pytest.approx(
        (3.0, 3.0, 3.4)
    )  # of nine times 3 and once 7 the tenths at 0.9, 4.5 and 8.1
    assert gap.week == 0.1


def test_what_lies_two_weeks_before_a_gap_belongs_to_it_and_no_more():
    """Bare from 20 to 22; one season of ten also from 1 to 11, of which 6 to 11 lie within two weeks."""
    first, last = [[0, 23]] * 9 + [[12, 23]], [[19, 40]] * 10
    (gap,) = Cover(drawn(first, last), ("C0", "C1"), (0.0, 40.0)).gaps
    assert gap.days == pytest.approx((3.0, 3.0, 3.3))
    assert gap.week == 0


def test_the_days_of_a_span_count_from_its_first():
    """The same windows and span a hundred days later give the same, a hundred days later."""
    first, last = np.array([[0, 15, 6.4, 9, 18, -9, 30]]), np.array([[4, 19, 8, 13, 45, -2, 33]])
    one = Cover(drawn(first, last), ("C0", "C1"), SPAN)
    other = Cover(drawn(first + 100, last + 100), ("C0", "C1"), (100.0, 119.0))
    np.testing.assert_array_equal(one.counts, other.counts)
    assert (other.days - one.days == 100).all()
    assert other.losses.to_dict() == one.losses.to_dict()
    assert [(gap.first, gap.last) for gap in other.gaps] == [(105.0, 114.0)]


def test_the_most_days_stand_first_and_of_equals_the_first_named():
    """Two hundred that are picked on no other's days, the odd ones for two days and the even ones for one."""
    first = np.arange(200) * 3.0
    found = drawn([first], [first + np.arange(200) % 2])
    names = list(found.cultivars)
    cover = Cover(found, tuple(names), (0.0, 599.0))
    assert list(cover.losses.index) == names[1::2] + names[::2]
    assert cover.losses.iloc[[0, -1]].tolist() == [2.0, 1.0]


def test_a_stretch_is_crowded_from_twice_the_mean_day_and_more_than_two_at_once():
    found = drawn([[0, 0, 10]], [[19, 19, 11]])
    assert Cover(found, tuple(found.cultivars), SPAN).crowded == ()  # three at once, the mean day 2.1
    few = drawn([[0, 1]], [[1, 1]])
    assert Cover(few, tuple(few.cultivars), SPAN).crowded == ()  # two at once, the mean day 0.15
    assert Cover(drawn([[0, 0, 0]], [[1, 1, 1]]), ("C0", "C1", "C2"), SPAN).crowded == ((0.0, 1.0),)
    four = drawn([[0, 0, 0, 0]], [[19, 3, 3, 3]])  # four at once, 2.5 times the mean day's 1.6
    assert Cover(four, tuple(four.cultivars), SPAN).crowded == ((0.0, 3.0),)
