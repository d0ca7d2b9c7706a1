"""Three questions about a limit: what each adds, and when it is not answered."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from dashboard.estimates import worth
from dashboard.estimates.chances import FRUIT, LONG_RUN, NEXT_SEASON, chances
from dashboard.estimates.one_season import NEEDS_RATIO
from tests.estimates.trials import judged, trial


@pytest.fixture(scope="module")
def whole():
    return worth(trial(24, 2, 4, seed=3), "size")


def test_the_questions_are_labelled_apart(whole):
    asked = {key: answer.question for key, answer in chances(whole, 60.0).items()}
    assert "long-run mean" in asked[LONG_RUN]
    assert "next season's mean" in asked[NEXT_SEASON]
    assert asked[FRUIT].startswith("Share of future fruit")
    assert all("at least 60" in question for question in asked.values())
    at = chances(whole, 60.0, site="River", at_least=False)
    assert all("at River" in answer.question and "at most 60" in answer.question for answer in at.values())


def test_each_question_is_less_sure_than_the_one_before(whole):
    answers = chances(whole, 60.0)
    sure = [np.abs(answers[key].by_cultivar - 0.5) for key in (LONG_RUN, NEXT_SEASON, FRUIT)]
    assert (sure[0] >= sure[1] - 1e-9).all()
    assert (sure[1] >= sure[2] - 1e-9).all()
    assert (sure[0] > sure[2] + 0.05).any()


def test_at_least_and_at_most_add_up_to_one(whole):
    up, down = chances(whole, 61.0), chances(whole, 61.0, at_least=False)
    for key in up:
        assert (up[key].by_cultivar + down[key].by_cultivar).to_numpy() == pytest.approx(1)


def test_a_limit_at_the_value_itself_is_an_even_chance(whole):
    limit = float(whole.values.loc["C004", "estimate"])
    for answer in chances(whole, limit).values():
        assert answer.by_cultivar["C004"] == pytest.approx(0.5)


def test_the_share_of_fruit_is_the_share_in_seasons_to_come():
    """Fruit of a ninth to fortieth season that the model has not seen, of a trial drawn with the same spreads."""
    frame = trial(30, 2, 40, 1, seed=11)
    seen, later = frame[frame["season"] < 2028], frame[frame["season"] >= 2028]
    found = worth(seen.reset_index(drop=True), "size")
    for limit in (57.0, 60.0, 63.0):
        # The share of the fruit of a normal sample over the limit, from its mean and its spread.
        sd = np.sqrt(later["size_ss"].sum() / (later["size_n"] - 1).sum())
        share = stats.norm.cdf((later["size"] - limit) / sd).mean()
        assert chances(found, limit)[FRUIT].by_cultivar.mean() == pytest.approx(share, abs=0.04)


def test_one_season_answers_nothing_without_a_stated_ratio():
    found = worth(trial(12, 2, 1), "size")
    for answer in chances(found, 60.0).values():
        assert answer.refused == NEEDS_RATIO
        assert answer.by_cultivar.isna().all()


def test_one_season_at_two_sites_answers_with_the_ratio_shown():
    found = worth(trial(12, 2, 1), "size")
    for answer in chances(found, 60.0, ratio=0.3).values():
        assert answer.refused == ""
        assert "0.3" in answer.given
        assert answer.by_cultivar.between(0, 1).all()
    assert all(answer.refused for answer in chances(found, 60.0, ratio=0.3, site="Hill").values())


def test_one_site_season_says_nothing_of_the_level_of_the_next():
    answers = chances(worth(trial(12, 1, 1), "size"), 60.0, ratio=0.3)
    assert answers[LONG_RUN].by_cultivar.between(0, 1).all()
    for key in (NEXT_SEASON, FRUIT):
        assert "One site in one season" in answers[key].refused
        assert answers[key].by_cultivar.isna().all()


def test_each_cultivar_in_one_season_only_is_one_season_too():
    frame = trial(12, 1, 4)
    own = 2020 + frame["cultivar"].str[1:].astype(int) % 4
    found = worth(frame[frame["season"] == own].reset_index(drop=True), "size")
    assert all(answer.refused == NEEDS_RATIO for answer in chances(found, 60.0).values())


def test_no_model_refuses_with_its_reason():
    found = worth(trial().drop_duplicates("cultivar").reset_index(drop=True), "size")
    assert {answer.refused for answer in chances(found, 60.0).values()} == {found.plan.refused}


def test_a_rating_speaks_of_samples():
    found = worth(judged(trial(12, 2, 3)), "attractiveness")
    assert chances(found, 5.0)[FRUIT].question.startswith("Share of future samples")


@pytest.mark.parametrize("limit", [np.nan, np.inf])
def test_a_limit_that_is_no_number_is_refused(whole, limit):
    with pytest.raises(ValueError, match="not a number"):
        chances(whole, limit)


def test_a_site_that_is_not_there_is_refused(whole):
    with pytest.raises(ValueError, match="Nowhere"):
        chances(whole, 60.0, site="Nowhere")
