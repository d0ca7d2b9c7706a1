"""One cultivar on the page: its card, which gap it covers, its stars, what is said without a market, and the folds."""

from __future__ import annotations

import re

from dashboard.answers import standing
from dashboard.answers.question import Question
from dashboard.page.parts.elements import RowTable
from dashboard.page.parts.pressable import Fold, Pressable
from dashboard.page.tabs.before_ordering import INSTEAD, before, compared, instead
from dashboard.page.tabs.cultivar_card import card, chips, covering
from dashboard.page.tabs.one_cultivar import NOBODY, cultivar
from dashboard.visit.state import State
from tests.pressing import press

SELLING = {"opens": "06-10", "closes": "08-31"}


def top(layout) -> Pressable:
    (element,) = layout.select(Pressable)
    return element


def test_the_card_says_the_verdict_its_class_and_three_figures(demo):
    asked = Question(demo, market="roadside_stand", cultivar="Sibbrel")
    said = str(card(asked))
    row = asked.spotlight.row
    assert asked.reason("Sibbrel").startswith("Qualifies. ")
    assert "Qualifies for Roadside stand</b>. Weakest point: " in said
    assert f"<dd>{100 * row['score']:.0f}</dd>" in said
    assert f"likely {100 * row['score_low']:.0f}–{100 * row['score_high']:.0f}" in said
    assert "chance to be among the first 5" in said
    assert chips(asked) == ["yellow peach", "low acid", "freestone", "released"]


def test_what_does_not_pass_the_filters_has_no_chance_to_lead_and_says_why(demo):
    asked = Question(demo, market="roadside_stand", cultivar="Sibbrel", flesh_colour=("white",))
    assert "told of what passes your filters</dt><dd>–</dd>" in str(card(asked))


def test_without_a_market_size_firmness_and_sugar_are_the_three(demo):
    said = str(card(Question(demo, cultivar="Sibbrel")))
    assert "qualif" not in said.lower()
    assert re.findall(r"<dt>(\w+), on average<br>likely ", said) == ["size", "firmness", "sugar"]


def test_a_second_buyer_has_a_verdict_of_its_own(demo):
    asked = Question(demo, market="roadside_stand", second="regional_wholesale", cultivar="Sibbrel")
    word = standing.fits(demo, asked.second_buyer, asked.basis)["verdict"]["Sibbrel"]
    assert f"{word.capitalize()} for {asked.second_buyer.name}</b>" in str(card(asked))


def a_gap_closer(demo) -> tuple[Question, str]:
    """A slate with a gap, and a cultivar that the closers say closes days of it."""
    asked = Question(demo, market="roadside_stand", shortlist=("Aldrum",), certainty=6, **SELLING)
    row = asked.strip.rows[0]
    taken = asked.fit.index[asked.fit["verdict"] == "qualifies"]
    name = next(str(one) for one in taken if one not in asked.shortlist and row.closed_by(str(one)))
    return Question(
        demo, market="roadside_stand", shortlist=("Aldrum",), certainty=6, cultivar=name, **SELLING
    ), name


def test_the_gap_it_covers_is_told_and_once_on_the_slate_what_rests_on_it(demo):
    asked, name = a_gap_closer(demo)
    (days,) = asked.strip.rows[0].closed_by(name)[:1]
    assert all(gap.last >= days[0] for gap in asked.strip.rows[0].gaps[-1:])
    (told,) = covering(asked)
    assert re.fullmatch(r"covers \w{3} \d+.*", told)
    before_it, after = (
        Question(demo, market="roadside_stand", shortlist=some, certainty=6, **SELLING).strip.rows[0].covered.sum()
        for some in (("Aldrum",), ("Aldrum", name))
    )  # fmt: skip
    closed = sum(last - first + 1 for first, last in asked.strip.rows[0].closed_by(name))
    assert after - before_it == closed > 0
    kept = Question(
        demo, market="roadside_stand", shortlist=("Aldrum", name), certainty=6, cultivar=name, **SELLING
    )
    (told,) = covering(kept)
    assert told.startswith("on my slate: without it, ")


def test_what_the_buyer_misses_covers_no_gap_and_an_empty_slate_has_none(demo):
    asked = Question(demo, market="roadside_stand", shortlist=("Aldrum",), **SELLING)
    missed = str(asked.fit.index[asked.fit["verdict"] == "misses"][0])
    (told,) = covering(
        Question(demo, market="roadside_stand", shortlist=("Aldrum",), cultivar=missed, **SELLING)
    )
    assert told == "covers no gap of my slate: the buyer does not take it"
    assert covering(Question(demo, market="roadside_stand", cultivar=missed, **SELLING)) == []


def test_stars_and_stand_ins_are_pressed(demo):
    state = State(demo, "?v=1&tab=cultivar&cultivar=Sibbrel&market=roadside_stand")
    element = top(cultivar(state))
    assert "Put on my slate: Sibbrel" in element.words
    press(element, {"keep": "Sibbrel"})
    assert state.question.shortlist == ("Sibbrel",)
    assert "Take off my slate: Sibbrel" in element.words
    other = state.question.stand_ins[0].name
    press(element, {"open": other})
    assert state.cultivar == other
    assert f"<h2>{other}</h2>" in element.words


def test_a_name_that_is_not_there_changes_nothing(demo):
    state = State(demo, "?v=1&tab=cultivar&cultivar=Sibbrel")
    element = top(cultivar(state))
    press(element, {"keep": "Nobody"})
    press(element, {"open": "<b>"})
    assert (state.question.shortlist, state.cultivar) == ((), "Sibbrel")


def test_at_most_three_stand_in_and_each_says_what_differs(demo):
    asked = Question(demo, cultivar="Sibbrel", market="roadside_stand")
    said = str(instead(asked))
    assert re.findall(r'data-open="([^"]+)"', said) == [one.name for one in asked.stand_ins[:INSTEAD]]
    assert said.count("day") >= min(INSTEAD, len(asked.stand_ins))


def test_before_ordering_says_what_a_tree_bears_under_its_own_label(demo):
    said = str(before(Question(demo, cultivar="Sibbrel")))
    assert re.search(r"<dt>Yield per tree</dt><dd>\d[^<:]* \(lb\)</dd>", said)


def test_before_ordering_says_what_is_not_recorded(catalogue):
    said = str(before(Question(catalogue, cultivar="Unpicked")))
    assert "<dt>Seen in</dt><dd>not sampled</dd>" in said
    assert "<dt>Nursery</dt><dd>" in said
    assert "Nothing of it was measured yet." in str(compared(Question(catalogue, cultivar="Unpicked")))


def test_nothing_is_lost_under_the_folds(demo):
    state = State(demo, "?v=1&tab=cultivar")
    layout = cultivar(state)
    folds = layout.select(Fold)
    assert NOBODY in top(layout).words
    assert not [one.heading for one in folds if one.visible]
    state.choose(cultivar="Sibbrel")
    assert [one.heading for one in folds if not one.visible] == ["Chances and what each wish costs it"]
    state.choose(market="roadside_stand")
    assert all(one.visible for one in folds)
    assert len([one for fold in folds for one in fold.inside.select(RowTable)]) == 7
