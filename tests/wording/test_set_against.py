"""Two set against each other: which trait comes first, and how sure it is said to be."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from dashboard.answers.question import Question
from dashboard.answers.side_by_side import side_by_side
from dashboard.estimates.many import SURE
from dashboard.terms.traits import HEADLINE, TRAITS
from dashboard.wording import set_against

PAIR = ("Aldrum", "Sibbrel")


@pytest.fixture(scope="module")
def asked(demo) -> Question:
    return Question(demo, market="roadside_stand", beside=PAIR)


@pytest.fixture(scope="module")
def told(asked) -> dict:
    found = side_by_side(asked.catalogue, PAIR, asked.basis, asked.season_kind)
    return {one.trait: one for one in found.differences}


def test_the_market_s_first_wish_comes_first_then_what_is_asked_most_then_every_trait_once(asked):
    order = set_against.traits(asked)
    market = asked.profile
    first, *rest = (wish.key for wish in market.wishes)
    asked_most = [key for key in HEADLINE if key != first]
    assert order[: 1 + len(asked_most)] == (first, *asked_most)
    others = [key for key in rest if key not in HEADLINE]
    assert others
    assert list(order[1 + len(asked_most) :][: len(others)]) == others
    assert sorted(order) == sorted(TRAITS)
    assert set_against.traits(replace(asked, market=""))[:3] == HEADLINE
    limits = replace(asked, market="", own=("red at_least 5", "size at_least 57"))
    assert set_against.traits(limits)[:3] == ("red", "size", "firmness")


def test_the_trait_asked_for_is_told_first_and_the_next_after_it(asked, told):
    order = set_against.traits(asked)
    for at, trait in enumerate(order):
        head, *lines, looks = set_against.against(asked, PAIR, trait)
        assert head == "Aldrum and Sibbrel, over sites and seasons"
        following = [order[(at + by) % len(order)] for by in range(set_against.SHOWN)]
        assert lines == [set_against.sentence(told[key], "us") for key in following]
        assert looks == f"Sure is 95 in 100 or more, after a look at {len(told)} traits."
        assert max(len(line.split()) for line in lines) <= 25
    assert set_against.against(asked, PAIR) == set_against.against(asked, PAIR, order[0])


def test_what_is_sure_after_every_look_is_called_sure_and_nothing_is_certain(told):
    one = told["size"]
    by = (
        f"{one.by.first} is larger by {TRAITS['size'].difference(one.by.estimate, 'us').removeprefix('+')} in"
    )
    assert set_against.sentence(replace(one, chance=0.0), "us") == f"{by}; 99 in 100 sure."
    assert set_against.sentence(replace(one, chance=SURE), "us") == f"{by}; 95 in 100 sure."


def test_what_is_not_sure_is_never_told_with_a_figure_that_is_called_sure(told):
    """From 95 in 100 on a figure means sure; what looks so once, and not after every look, is told without one."""
    one = replace(told["size"], chance=SURE + 0.001)
    for above, said in (
        (0.719, "chance 71 in 100 – too close to call"),
        (0.9499, "chance 94 in 100 – too close to call"),
        (0.95, "likely, but not sure after a look at every trait"),
        (0.9999, "likely, but not sure after a look at every trait"),
    ):
        line = set_against.sentence(replace(one, by=replace(one.by, above=above)), "us")
        assert re.fullmatch(rf"Sibbrel seems larger by 0\.\d\d in; {said}\.", line)
        assert "in 100 sure" not in line


def test_the_chance_is_that_of_the_estimates(asked, told):
    """The same that beside the checks is called the chance of being truly higher."""
    unsure = [one for one in told.values() if not one.sure and 0.55 < one.by.above < 0.95]
    unsure = [
        one for one in unsure if re.search("[1-9]", set_against.figures(one, "us")[0].partition(" ")[0])
    ]
    assert unsure
    for one in unsure:
        assert f"chance {int(100 * one.by.above)} in 100" in set_against.sentence(one, "us")


@pytest.mark.parametrize("none", [{"above": float("nan")}, {"above": 0.5}, {"estimate": 1e-9, "above": 0.51}])
def test_what_does_not_differ_is_said_to_seem_alike(told, none):
    one = replace(told["size"], chance=1.0, by=replace(told["size"].by, **none))
    assert set_against.sentence(one, "us") == "Size: Sibbrel and Aldrum seem alike."


def test_a_trait_that_cannot_be_told_says_why(asked, demo):
    never = next(name for name in demo.cultivars.index if demo.windows["seasons"][name] == 0)
    lines = set_against.against(asked, ("Aldrum", str(never)))
    assert len(lines) == 1 + set_against.SHOWN
    assert all(": cannot be told. " in line for line in lines[1:])


def test_without_two_side_by_side_the_next_of_the_ranking_is_taken(demo, asked):
    assert set_against.pair(asked) == PAIR
    assert not set_against.walks(asked)
    asked = Question(demo, market="roadside_stand")
    first, second = (str(name) for name in asked.ranking.index[:2])
    assert set_against.pair(asked) == (first, second)
    assert set_against.walks(asked)
    last = str(asked.ranking.index[-1])
    assert set_against.pair(replace(asked, cultivar=last)) == (last, first)
    assert set_against.pair(asked, "Brovet", "Sibbrel") == ("Sibbrel", "Brovet")
    assert set_against.pair(asked, first, first) == (first, second)
    assert set_against.pair(Question(demo, seasons=99)) is None
