"""Holm's method against published figures, its own definition and Tukey's comparison; and how often it errs at all."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from dashboard.estimates import worth
from dashboard.estimates.comparisons import Difference, difference
from dashboard.estimates.many import SURE, holm, mistaken
from tests.estimates.trials import trial

CHANCES = st.lists(st.floats(0, 1), min_size=1, max_size=30).map(np.array)


# Raw and adjusted figures of R multtest, mt.rawp2adjp, column "Holm", as kept in statsmodels/stats/tests/test_multi.py
# (res_multtest1 and res_multtest3).
PUBLISHED = (
    (
        [
            0.838541367553, 0.642193923795, 0.680845947633, 0.967833824309, 0.71626938238, 0.177096952723, 5.23656777208e-05,
            0.0202732688798, 0.00028140506198, 0.0149877310796,
        ],
        [1, 1, 1, 1, 1, 1, 5.23656777208e-04, 1.4191288215860001e-01, 2.5326455578199999e-03, 1.1990184863680001e-01],
    ),
    (
        [0.001, 0.002, 0.003, 0.004, 0.005, 0.05, 0.06, 0.07, 0.08, 0.09],
        [0.01, 0.018, 0.024, 0.028, 0.03, 0.25, 0.25, 0.25, 0.25, 0.25],
    ),
    # The example of the encyclopaedias (Wikipedia, "Holm–Bonferroni method"): the fourth and the first are called real at
    # 5 in 100, the other two are not. Adjusted figures by hand: 4 × 0.005, 3 × 0.01, 2 × 0.03, and no less for the last.
    ([0.01, 0.04, 0.03, 0.005], [0.03, 0.06, 0.06, 0.02]),
)  # fmt: skip


@pytest.mark.parametrize(("raw", "adjusted"), PUBLISHED)
def test_published_figures(raw, adjusted):
    assert holm(np.array(raw)) == pytest.approx(adjusted, rel=1e-9)


def stepped_down(raw: np.ndarray, level: float) -> np.ndarray:
    """Holm's own words: the smallest against level / m, the next against level / (m - 1), until one is not under it."""
    called = np.zeros(len(raw), dtype=bool)
    for step, place in enumerate(np.argsort(raw, kind="stable")):
        if raw[place] * (len(raw) - step) > level:
            break
        called[place] = True
    return called


@given(CHANCES, st.floats(0.001, 0.5))
def test_what_is_called_real_is_what_stepping_down_calls_real(raw, level):
    adjusted = holm(raw)
    clear = np.abs(adjusted - level) > 1e-9  # a tie with the level itself is a matter of the last digit
    assert (((adjusted <= level) == stepped_down(raw, level)) | ~clear).all()


@given(CHANCES)
def test_never_below_the_raw_chance_nor_above_bonferroni(raw):
    adjusted = holm(raw)
    assert (adjusted >= raw).all()
    assert (adjusted <= np.minimum(1, len(raw) * raw) * (1 + 1e-12)).all()


@given(CHANCES, st.randoms())
def test_order_does_not_matter_and_ranks_are_kept(raw, rng):
    adjusted = holm(raw)
    mixed = list(range(len(raw)))
    rng.shuffle(mixed)
    assert holm(raw[mixed]) == pytest.approx(adjusted[mixed])
    assert (np.diff(adjusted[np.argsort(raw, kind="stable")]) >= 0).all()


@given(CHANCES, st.integers(0, 5))
def test_what_could_not_be_told_does_not_count_as_looked_at(raw, unknown):
    adjusted = holm(np.concatenate([np.full(unknown, np.nan), raw]))
    assert np.isnan(adjusted[:unknown]).all()
    assert adjusted[unknown:] == pytest.approx(holm(raw))


def test_nothing_to_look_at():
    assert len(holm(np.array([]))) == 0


def test_a_refused_difference_has_no_chance():
    assert np.isnan(mistaken(Difference("a", "b", refused="They never met.")))


def test_where_no_cultivar_differs_at_all_calling_two_different_is_surely_mistaken():
    assert mistaken(Difference("a", "b", estimate=0.0, se=0.0, df=20.0)) == 1.0


def test_a_chance_is_that_of_both_tails():
    """Tables of Student's t, 10 degrees of freedom, both tails: 1.812 is 10 in 100, 2.228 is 5 in 100 (from memory)."""
    for estimate, chance in ((1.812, 0.10), (-1.812, 0.10), (2.228, 0.05), (0.0, 1.0)):
        assert mistaken(Difference("a", "b", estimate=estimate, se=1.0, df=10.0)) == pytest.approx(
            chance, abs=2e-4
        )


@pytest.mark.slow
@pytest.mark.parametrize("spread", [0.0, 4.0])
def test_on_simulated_trials_next_to_nothing_sure_is_false(spread):
    """200 trials of 24 cultivars at 2 sites over 3 seasons, all pairs of six: as docs/methods.md says.

    Without differences anything sure is false; with them, whatever is sure the wrong way round.
    """
    false = unadjusted = 0
    for seed in range(200):
        truth = np.random.default_rng(seed).normal(0, spread, 24)  # what ``trial`` draws first
        found = worth(trial(24, 2, 3, 1, spread=spread, seed=seed), "size")
        told = [difference(found, f"C{one:03d}", f"C{other:03d}") for one, other in combinations(range(6), 2)]
        raw = np.array([mistaken(by) for by in told])
        right = np.array(
            [by.estimate * (truth[int(by.first[1:])] - truth[int(by.second[1:])]) > 0 for by in told]
        )
        false += (~right & (holm(raw) <= SURE)).any()
        unadjusted += (~right & (raw <= SURE)).any()
    assert false <= 0.02 * 200
    assert unadjusted >= 2 * max(false, 1)


GROUPS, EACH = 8, 12


@pytest.fixture(scope="module")
def balanced():
    """One site, one season, twelve ratings of each of eight cultivars; some pairs alike, some far apart."""
    rng = np.random.default_rng(5)
    means = np.repeat([3.0, 3.0, 3.1, 4.5, 5.0, 5.1, 6.5, 6.6], EACH)
    frame = pd.DataFrame(
        {
            "sample": [f"S{number}" for number in range(GROUPS * EACH)],
            "cultivar": np.repeat([f"C{number}" for number in range(GROUPS)], EACH),
            "site": "Hill",
            "season": 2020,
            "pick": 1.0,
            "attractiveness": means + rng.normal(0, 0.6, GROUPS * EACH),
        }
    )
    return frame, worth(frame, "attractiveness")


def test_our_errors_are_those_of_a_balanced_trial_drawn_in_as_the_model_draws_in(balanced):
    """Textbook, by hand: with h = 1 - mean square within / mean square between, a difference is h times that of the means
    and its t is √h times theirs, but for what a small sample adds to the error."""
    frame, _ = balanced
    found = worth(frame, "attractiveness", off_zero=())
    groups = frame.groupby("cultivar")["attractiveness"]
    within, between = groups.var().mean(), EACH * groups.mean().var()
    h = 1 - within / between
    assert h > 0.95
    for one, other in combinations(groups.groups, 2):
        by = difference(found, one, other)
        apart = groups.mean()[one] - groups.mean()[other]
        assert by.estimate == pytest.approx(h * apart, rel=1e-3, abs=1e-3)
        plain = abs(apart) / np.sqrt(2 * within / EACH)
        assert abs(by.estimate) / by.se == pytest.approx(np.sqrt(h) * plain, rel=0.02, abs=1e-3)


def test_tukey_and_holm_agree_in_every_clear_case(balanced):
    """Tukey's comparison of all pairs (scipy.stats.tukey_hsd) is made for balanced trials and is exact there."""
    frame, found = balanced
    samples = [group.to_numpy() for _, group in frame.groupby("cultivar")["attractiveness"]]
    tukey = stats.tukey_hsd(*samples).pvalue
    pairs = list(combinations(range(GROUPS), 2))
    told = [difference(found, f"C{one}", f"C{other}") for one, other in pairs]
    sure = holm(np.array([mistaken(by) for by in told])) <= SURE
    chances = np.array([tukey[pair] for pair in pairs])
    assert sure[chances < 0.02].all()
    assert not sure[chances > 0.2].any()
    assert 10 < sure.sum() < len(pairs) - 2  # both kinds are there

    # The same from the studentized range itself, so that it is clear what is compared with what.
    within = np.mean([sample.var(ddof=1) for sample in samples])
    for (one, other), chance in zip(pairs, chances, strict=True):
        q = abs(samples[one].mean() - samples[other].mean()) / np.sqrt(within / EACH)
        assert stats.studentized_range.sf(q, GROUPS, GROUPS * (EACH - 1)) == pytest.approx(chance, abs=1e-6)


def test_holm_errs_at_all_in_no_more_than_the_level():
    """Two thousand balanced trials in which nothing differs, all fifteen pairs of six looked at: they depend on each other."""
    rng = np.random.default_rng(11)
    trials, groups, each = 2000, 6, 5
    draws = rng.normal(size=(trials, groups, each))
    error = np.sqrt(2 * draws.var(axis=2, ddof=1).mean(axis=1) / each)
    means = draws.mean(axis=2)
    one, other = np.array(list(combinations(range(groups), 2))).T
    raw = 2 * stats.t.sf(np.abs(means[:, one] - means[:, other]) / error[:, None], groups * (each - 1))
    erred = np.mean([holm(chances).min() <= SURE for chances in raw])
    unadjusted = np.mean(raw.min(axis=1) <= SURE)
    assert erred <= SURE + 3 * np.sqrt(SURE * (1 - SURE) / trials)
    assert unadjusted > 5 * erred  # what looking at all pairs without it would have called real
