"""Three questions about a limit: what each adds, and when it is not answered."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy import integrate, stats

from dashboard.estimates import worth
from dashboard.estimates.chances import FRUIT, LONG_RUN, NEXT_SEASON, chances, level_df, levels, spreads
from dashboard.estimates.one_season import NEEDS_RATIO
from dashboard.estimates.plan import BY_BOTH, BY_SEASON, BY_SITE, CULTIVAR, ENVIRONMENT, RESIDUAL, SAMPLE
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


# Variances in round figures, so that what is foretold can be worked out by hand; a pick later adds 2, four picks in 16 differ.
VARIANCE = {
    CULTIVAR: 8.0, BY_SITE: 2.0, BY_SEASON: 3.0, BY_BOTH: 1.0, ENVIRONMENT: 4.0, SAMPLE: 5.0, RESIDUAL: 6.0,
}  # fmt: skip


def made_up(
    whole, seasons=8, site_seasons=(4, 4), kept=(CULTIVAR, BY_SITE, BY_SEASON, BY_BOTH), df=np.inf, **other
):
    """All cultivars are worth 62 with a standard error of 1."""
    parts = {
        part: value
        for part, value in VARIANCE.items()
        if part in kept or part in (ENVIRONMENT, SAMPLE, RESIDUAL)
    }
    known = {
        "variance": parts,
        "level": 4.0,
        "site_level": 1.0,
        "seasons": seasons,
        "pick_step": 2.0,
        "pick_variance": 0.25,
        "site_seasons": dict(zip(("Hill", "River"), site_seasons, strict=True)),
        "values": whole.values.assign(estimate=62.0, se=1.0, df=df),
        "plan": replace(whole.plan, kept=kept),
    }
    return replace(whole, **known | other)


def test_over_sites_a_season_adds_what_it_and_a_site_not_named_do(whole):
    """3 + 1 of the season, 2 of the site; fruit 5 + 6 and 2² / 4 of picks more; the level 4 (1 + 1/8) and a site's 1 (1 + 1/2)."""
    assert spreads(made_up(whole), None, None) == {
        LONG_RUN: (0.0, 0.0),
        NEXT_SEASON: (6.0, pytest.approx(6.0)),
        FRUIT: (18.0, pytest.approx(6.0)),
    }


def test_at_a_site_its_own_seasons_count(whole):
    assert spreads(made_up(whole), "River", None) == {
        LONG_RUN: (0.0, 0.0),
        NEXT_SEASON: (4.0, pytest.approx(5.0)),
        FRUIT: (16.0, pytest.approx(5.0)),
    }


def test_below_six_seasons_an_assumption_counts_as_four_more(whole):
    """Five: 4 on 4 degrees of freedom and half of 8 + 2 on 4 others make 4.5; of the season to come 4.5 (1 + 1/5), and a site's
    1.5. How many sites they were seen at is no matter."""
    five, six = made_up(whole, 5, (3, 2)), made_up(whole, 6, (3, 3))
    assert spreads(five, None, None)[NEXT_SEASON] == (6.0, pytest.approx(5.4 + 1.5))
    assert spreads(made_up(whole, 5, (5, 5)), None, None) == spreads(five, None, None)
    assert spreads(five, "River", None)[NEXT_SEASON] == (4.0, pytest.approx(4.5 * 1.5))
    assert spreads(six, None, None)[NEXT_SEASON] == (6.0, pytest.approx(4 * 7 / 6 + 1.5))
    no_site = made_up(whole, 5, (3, 2), (CULTIVAR, BY_SEASON))
    assert spreads(no_site, None, None)[NEXT_SEASON] == (3.0, pytest.approx((16 + 16) / 8 * 1.2 + 1.5))
    one = made_up(whole, 1, (1, 1))
    assert spreads(one, "River", None)[NEXT_SEASON] == (4.0, pytest.approx(5 * 2))
    assert [level_df(found) for found in (five, six, made_up(whole), one)] == [8, 5, 7, 4]
    said = {key: answer.given for key, answer in chances(five, 60.0).items()}
    assert said[LONG_RUN] == ""
    assert said[NEXT_SEASON] == said[FRUIT] != ""
    assert "by 5 seasons" in said[FRUIT]
    assert not any(answer.given for answer in chances(six, 60.0).values())


def test_where_site_seasons_of_a_cultivar_lie_within_its_samples_they_come_again(whole):
    """3 + 5 + 2, and 5 + 6 + 1 more of the fruit; with one site there is no such part."""
    hidden = made_up(whole, kept=(CULTIVAR, BY_SITE, BY_SEASON))
    assert spreads(hidden, None, None)[NEXT_SEASON][0] == 10.0
    assert spreads(hidden, None, None)[FRUIT][0] == 22.0
    assert spreads(made_up(whole, kept=(CULTIVAR, BY_SEASON)), None, None)[FRUIT][0] == 15.0
    unsampled = {part: value for part, value in VARIANCE.items() if part not in (BY_BOTH, SAMPLE)}
    rated = made_up(whole, kept=(CULTIVAR, BY_SITE, BY_SEASON), variance=unsampled)
    assert spreads(rated, None, None) == {
        LONG_RUN: (0.0, 0.0),
        NEXT_SEASON: (5.0, pytest.approx(6.0)),
        FRUIT: (12.0, pytest.approx(6.0)),
    }


def test_one_season_takes_the_season_from_the_ratio(whole):
    """A quarter borrowed: a fifth of 8 is the season's, 2 the site's."""
    one = made_up(whole, kept=(CULTIVAR, BY_SITE))
    assert spreads(one, None, 0.25)[NEXT_SEASON][0] == pytest.approx(3.6)
    assert spreads(one, None, 0.25)[FRUIT][0] == pytest.approx(3.6 + 12)
    several = made_up(whole)
    assert spreads(several, None, 0.25) == spreads(several, None, None)  # a ratio not needed is not used


def test_the_long_run_is_the_tail_of_student_s_t(whole):
    """1.812 on 10 degrees of freedom is passed by 5 in 100 (any printed table)."""
    told = chances(made_up(whole, df=10.0), 62 - 1.812)
    assert told[LONG_RUN].by_cultivar.to_numpy() == pytest.approx(0.95, abs=1e-4)
    assert chances(made_up(whole, df=10.0), 62 - 1.812, at_least=False)[
        LONG_RUN
    ].by_cultivar.to_numpy() == pytest.approx(0.05, abs=1e-4)


def test_what_is_known_makes_the_degrees_of_freedom_more(whole):
    """Satterthwaite 1946: a variance of 1 on 3 degrees of freedom and one of 6 known are one of 7 on 3 · 7² = 147."""
    calm = made_up(whole, df=3.0, level=0.0, site_level=0.0)
    told = chances(calm, 60.0)
    assert told[NEXT_SEASON].by_cultivar.to_numpy() == pytest.approx(stats.t.cdf(2 / np.sqrt(7), 147))
    assert told[FRUIT].by_cultivar.to_numpy() == pytest.approx(stats.t.cdf(2 / np.sqrt(19), 3 * 19**2))


def test_the_level_of_a_season_to_come_is_student_s_t_beside_the_rest(whole):
    """The integral over the level, on 7 degrees of freedom after 8 seasons, by SciPy's quadrature."""
    for limit, at_least in ((60.0, True), (66.0, True), (60.0, False)):
        told = chances(made_up(whole), limit, at_least=at_least)
        for key, known in ((NEXT_SEASON, 6.0), (FRUIT, 18.0)):
            away = (62 - limit) * (1 if at_least else -1)
            expected, _ = integrate.quad(
                lambda t, away=away, known=known: (
                    stats.t.pdf(t, 7) * stats.norm.cdf((away + np.sqrt(6.0) * t) / np.sqrt(1 + known))
                ),
                -np.inf,
                np.inf,
            )
            assert told[key].by_cultivar.to_numpy() == pytest.approx(expected, abs=0.002)


def test_levels_lie_evenly_in_student_s_t():
    for df in (1, 4, 30):
        made = levels(df)
        assert np.diff(stats.t.cdf(made, df)) == pytest.approx(1 / len(made))
        assert made == pytest.approx(-made[::-1])
    assert levels(0).tolist() == levels(1).tolist()


def test_a_limit_is_told_in_six_digits_and_a_single_site_by_its_name():
    single = chances(worth(trial(12, 1, 3), "size"), 60.1234567)
    assert [single[key].question for key in (LONG_RUN, NEXT_SEASON, FRUIT)] == [
        "Chance that the cultivar's long-run mean of size at Hill, in seasons like those seen, is at least 60.1235",
        "Chance that next season's mean of size at Hill is at least 60.1235",
        "Share of future fruit at Hill with size at least 60.1235",
    ]
