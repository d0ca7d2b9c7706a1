"""Sentences about how sure a ranking is: true to the answer, plain, and there when nobody clears the market."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dashboard.answers import catalogue as catalogues
from dashboard.answers.question import Question
from dashboard.market.statements import statements
from dashboard.page.tabs.how_sure import about_not_beaten, about_ranking
from dashboard.wording.figures import chance
from tests.browser import sets


@pytest.mark.parametrize(
    ("part", "told"),
    [(0.0, "under 1 %"), (0.004, "under 1 %"), (0.01, "1 %"), (0.5, "50 %"), (0.99, "99 %"), (1.0, "over 99 %"), (float("nan"), "–")],
)  # fmt: skip
def test_a_chance_is_never_a_plain_nothing_or_all(part, told):
    assert chance(part) == told


def test_how_the_order_hangs_on_the_weights_is_told_of_the_first_places(demo):
    asked = Question(demo, market="regional_wholesale", top=5)
    inside = asked.ranking[asked.ranking["verdict"] == "qualifies"]
    said = str(about_ranking(asked))
    leader, lowest = inside.index[0], int(inside["hindmost"].iloc[0])
    assert f"{leader} stays first" in said if lowest == 1 else f"{leader}, now first" in said
    stays = int((inside["hindmost"].iloc[:5] <= 5).sum())
    assert f"{stays} of the first 5" in said or "the first 5 stay the same" in said
    assert "30 %" in said


def test_the_limit_that_keeps_most_out_is_named_with_what_it_would_let_in(demo):
    asked = Question(demo, market="long_distance_shipper")
    first = asked.openings[0]
    said = str(about_ranking(asked))
    assert f"{first.lets_in} more cultivar" in said
    assert f"lets in {first.first}." in said


def test_easing_a_limit_as_the_sentence_says_lets_the_cultivar_in(demo):
    """The bound as it is written for the reader, not the exact one."""
    asked = Question(demo, market="long_distance_shipper", units="us")
    first = asked.openings[0]
    share = int(str(about_ranking(asked)).split("Asking it of ")[1].split(" %")[0]) / 100
    lines = [line.replace("share 0.8", f"share {share}") for line in statements(asked.profile)]
    eased = replace(asked, own=tuple(lines))
    assert eased.fit.loc[first.first, "by_averages"]
    assert not asked.fit.loc[first.first, "by_averages"]


def test_when_nobody_clears_the_market_the_nearest_are_named(demo):
    asked = Question(
        demo,
        market="",
        own=("size at_least 90", "sugar at_least 12", "want sugar larger from 8 to 14 weight 1"),
    )
    assert not asked.ranking["taken"].any()
    said = str(about_ranking(asked))
    assert said.startswith("<p>No cultivar that passes your filters qualifies, and none may. Nearest")
    assert asked.nearest[0] in said


def test_without_a_market_there_is_nothing_to_say(demo):
    assert about_ranking(Question(demo)) == ""


def test_who_is_not_beaten_is_told_in_one_sentence_with_chances(demo):
    asked = Question(demo, market="long_distance_shipper")
    said = str(about_not_beaten(asked))
    assert "the fuller the surer" in said
    best = asked.catalogue.cultivars.index[asked.sure_not_beaten.argmax()]
    assert f"{best} ({chance(float(asked.sure_not_beaten.max()))})" in said
    assert (
        about_not_beaten(replace(asked, stone=("cling",), fruit_type=("nectarine",), flesh_colour=("red",)))
        == ""
    )


def test_names_are_escaped(tmp_path):
    hostile = catalogues.load(sets.hostile(tmp_path / "hostile"))
    for market in ("", *hostile.markets):
        asked = Question(hostile, market=market)
        assert "<script" not in str(about_ranking(asked)) + str(about_not_beaten(asked))


def test_what_beats_follows_what_the_market_wishes(demo):
    """Roadside stands wish an ideal firmness, not the firmest."""
    assert "none is larger, firmer and sweeter than it" in str(
        about_not_beaten(replace(Question(demo), market=""))
    )
    stand = demo.markets["roadside_stand"]
    ideal = [wish.key for wish in stand.wishes if wish.shape == "target"]
    said = str(about_not_beaten(replace(Question(demo), market="roadside_stand")))
    assert ideal
    assert all(f"nearer to the ideal {key}" in said for key in ideal if key in ("size", "sugar", "firmness"))
