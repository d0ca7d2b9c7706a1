"""Sources of variation: shares that add up, words that follow the plan."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dashboard.estimates import worth
from dashboard.estimates.plan import BY_SEASON, BY_SITE, CULTIVAR, ENVIRONMENT, RESIDUAL, SAMPLE
from dashboard.estimates.variation import sources
from tests.estimates.trials import judged, trial


def test_shares_add_up_to_one_and_every_part_has_words(demo):
    for found in demo.worth.values():
        frame = sources(found)
        assert frame["share"].sum() == pytest.approx(1)
        assert set(frame.index) == set(found.variance)
        assert frame["source"].str.len().gt(10).all()
        assert frame["variance"].ge(0).all()


def test_the_sentence_names_the_two_largest(demo):
    frame = sources(demo.worth["size"])
    largest = frame["share"].sort_values(ascending=False)
    for part in largest.index[:2]:
        assert frame.loc[part, "source"] in frame.attrs["sentence"]
        assert f"{100 * largest[part]:.0f} %" in frame.attrs["sentence"]


def test_what_lies_within_the_cultivars_is_said():
    one = sources(worth(trial(12, 1, 1), "size"))
    assert one.loc[CULTIVAR, "source"] == "Cultivars, with what they owe to their site and season"
    assert BY_SITE not in one.index
    several = sources(worth(trial(12, 2, 3), "size"))
    assert several.loc[CULTIVAR, "source"].startswith("Cultivars: lasting")
    assert BY_SEASON in several.index


def test_a_rating_has_samples_and_no_fruit():
    frame = sources(worth(judged(trial(12, 2, 3)), "attractiveness"))
    assert frame.loc[RESIDUAL, "source"].startswith("Samples")
    assert "sample" not in frame.index


def test_a_variance_of_zero_is_an_answer(demo):
    frame = sources(demo.worth["cheek_difference"])
    assert frame["at_zero"].any()
    assert (frame.loc[frame["at_zero"], "share"] == 0).all()
    assert "Too little to see in these records" in frame.attrs["sentence"]


def test_without_a_model_there_are_no_rows_but_the_reason():
    none = worth(trial().iloc[:1], "size")
    frame = sources(none)
    assert frame.empty
    assert frame.attrs["sentence"] == none.plan.refused


def test_shares_and_sentence_by_hand():
    """Variances of 6, 0, 1, 0, 2 and 9: of 18 in all."""
    whole = worth(trial(12, 2, 3), "size")
    variance = {CULTIVAR: 6.0, BY_SITE: 0.0, BY_SEASON: 1.0, ENVIRONMENT: 0.0, SAMPLE: 2.0, RESIDUAL: 9.0}
    made = replace(whole, variance=variance, variance_se={CULTIVAR: 1.5}, at_zero=(BY_SITE, ENVIRONMENT))
    frame = sources(made)
    assert frame.index.tolist() == list(variance)
    assert frame["share"].tolist() == pytest.approx([6 / 18, 0, 1 / 18, 0, 2 / 18, 0.5])
    assert frame["sd"].tolist() == pytest.approx([6**0.5, 0, 1, 0, 2**0.5, 3])
    assert frame["se"].tolist() == pytest.approx([1.5] + 5 * [float("nan")], nan_ok=True)
    assert frame["at_zero"].tolist() == [False, True, False, True, False, False]
    assert frame.attrs["sentence"] == (
        "50 % of the variation lies in: Fruit within a sample; 33 % in: Cultivars: lasting differences. "
        "Too little to see in these records: cultivars at certain sites, site and season."
    )


def test_what_fruit_without_a_count_stand_for():
    frame = sources(worth(trial(12, 2, 3).drop(columns=["size_n", "size_ss"]), "size"))
    assert frame.loc[RESIDUAL, "source"] == "Samples and the fruit within them"
    assert frame.attrs["sentence"].endswith(".")
