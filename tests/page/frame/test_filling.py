"""Who closes a gap, and a proposal for the slate: shown, taken whole or one by one, and never put on unasked."""

from __future__ import annotations

import json
import re

import pytest

from dashboard.answers.planning import plan
from dashboard.page.frame.filling import filling, looked_at
from dashboard.page.parts import live
from dashboard.page.parts.buttons import Button
from dashboard.page.parts.elements import RowTable
from dashboard.visit.state import State
from dashboard.wording import filling as words
from tests.page.conftest import said
from tests.pressing import press

ASKED = "?v=1&year=any&opens=06-20&closes=07-20&market=roadside_stand&flesh_colour=yellow,white&bought=any"


@pytest.fixture
def state(demo) -> State:
    return State(demo, ASKED)


def shown(panel) -> list[str]:
    (table,) = panel.select(RowTable)
    return [row["name"] for row in json.loads(table.told)["rows"]]


def button(panel, part: str) -> Button:
    (found,) = [one for one in panel.select(Button) if part in one.label]
    return found


def test_it_is_away_until_something_is_asked(state):
    panel = filling(state)
    assert not panel.visible
    state.choose(filling="proposed")
    assert panel.visible
    press(button(panel, "Close"))
    assert not panel.visible


def test_a_proposal_covers_what_it_says_and_is_taken_whole(state):
    panel = filling(state)
    state.choose(filling="proposed")
    names = shown(panel)
    assert (
        f"{len(names)} cultivars, some yellow and some white. Each of the 31 days has fruit in at least 8"
        in said(panel)
    )
    assert state.shortlist == ()  # nothing unasked
    press(button(panel, "on my slate"))
    assert set(state.shortlist) == set(names)
    (row,) = state.question.strip.rows
    assert row.covered.all()
    assert not panel.visible


def test_what_is_on_the_slate_is_kept_and_only_the_rest_proposed(state):
    state.choose(shortlist=("Narvelo", "Sibbrel"))
    panel = filling(state)
    state.choose(filling="proposed")
    names = shown(panel)
    assert names
    assert not {"Narvelo", "Sibbrel"} & set(names)
    press(button(panel, "on my slate"))
    assert {"Narvelo", "Sibbrel"} <= set(state.shortlist)
    assert state.question.strip.rows[0].covered.all()


def test_one_of_a_proposal_can_be_taken_alone(state):
    panel = filling(state)
    state.choose(filling="proposed")
    first = shown(panel)[0]
    (table,) = panel.select(RowTable)
    press(table, {"keep": first})
    assert state.shortlist == (first,)
    assert first not in shown(panel)


def test_a_share_and_at_most_so_many_are_kept(state, demo):
    panel = filling(state)
    state.choose(filling="proposed", share="flesh_colour white 2", most=6)
    names = shown(panel)
    white = (demo.cultivars.loc[names, "flesh_colour"] == "white").sum()
    assert len(names) <= 6
    assert 2 * white >= len(names)
    assert "6 cultivars, at least half white. " in said(panel)
    assert "fruit in 8 years in 10, any year, at least half white." in said(panel)


def test_what_cannot_be_covered_is_said_and_what_would_help_is_asked_for(state):
    panel = filling(state)
    state.choose(filling="proposed", most=5, opens="05-20", closes="09-20")
    assert "Not covered: " in said(panel)
    press(button(panel, "What would help"))
    assert "With " in said(panel)


@pytest.fixture
def waiting(monkeypatch) -> list:
    """What would be done beside the loop, as (work, then); done only when a test calls ``finish``."""
    left: list = []
    monkeypatch.setattr(live, "aside", lambda work, then, _hands: left.append((work, then)))
    return left


def finish(waiting: list) -> None:
    work, then = waiting.pop(0)
    then(work())


def helped_at_most_five(state, waiting):
    panel = filling(state)
    state.choose(filling="proposed", most=5, opens="05-20", closes="09-20")
    finish(waiting)
    press(button(panel, "What would help"))
    return panel


def test_what_was_asked_while_help_was_looked_for_is_answered_anew(state, waiting):
    panel = helped_at_most_five(state, waiting)
    state.choose(most=6)
    finish(waiting)
    assert "With " not in said(panel), "help for another question is told"
    finish(waiting)
    assert set(shown(panel)) == set(plan(state.question.proposal_wanted).names)
    assert len(shown(panel)) == 6
    press(button(panel, "What would help"))
    finish(waiting)
    assert "With " in said(panel)
    assert not waiting


def test_help_that_is_stopped_leaves_the_proposal_and_may_be_asked_for_again(state, waiting):
    panel = helped_at_most_five(state, waiting)
    assert words.LOOKING_FOR_MORE in said(panel)
    press(button(panel, "Stop"))
    assert words.LOOKING_FOR_MORE not in said(panel)
    finish(waiting)
    assert "With " not in said(panel)
    assert len(shown(panel)) == 5
    press(button(panel, "What would help"))
    finish(waiting)
    assert "With " in said(panel)
    press(button(panel, "Close"))
    assert not panel.visible
    assert not waiting


def test_a_proposal_that_is_stopped_does_not_come(state, waiting):
    panel = filling(state)
    state.choose(filling="proposed")
    assert words.LOOKING in said(panel)
    press(button(panel, "Stop"))
    assert not panel.visible
    state.choose(filling="proposed")  # again, while the first is still being put away
    finish(waiting)
    assert words.LOOKING not in said(panel)
    assert shown(panel)
    assert button(panel, "Close")
    assert not waiting


def test_a_pressed_gap_tells_who_closes_it(state):
    state.choose(shortlist=("Narvelo",), gap="06-20")
    panel = filling(state)
    row, gap = looked_at(state.question)
    assert gap.first == state.question.selling[0]
    names = shown(panel)
    assert 0 < len(names) <= 10
    assert re.search(
        r"without enough fruit: fruit in \d+ to \d+ years of 100(, most on \w+ \d+)?\.<", said(panel)
    )
    before = int(row.covered.sum())
    state.keep(names[0])
    assert int(state.question.strip.rows[0].covered.sum()) >= before


def test_a_gap_that_was_closed_says_so(state):
    state.choose(filling="proposed")
    panel = filling(state)
    press(button(panel, "on my slate"))
    state.choose(gap="07-01")
    assert "No gap is left there" in said(panel)


def test_nobody_qualifies_is_one_sentence(demo):
    state = State(demo, ASKED + "&own=size+at_least+120")
    panel = filling(state)
    state.choose(filling="proposed")
    assert "nothing to plan with" in said(panel)
    assert shown(panel) == []


def test_one_that_is_never_wanted_is_not_proposed_again_until_it_is_allowed(state):
    panel = filling(state)
    state.choose(filling="proposed")
    (table,) = panel.select(RowTable)
    first, allow = shown(panel)[0], button(panel, words.ALLOW)
    assert not allow.visible
    press(table, {"bar": first})
    assert state.barred == (first,)
    assert first not in shown(panel)
    assert f"Never proposed: {first}." in said(panel)
    press(allow)
    assert state.barred == ()
    assert first in shown(panel)
    press(table, {"bar": first})
    state.keep(first)  # put on the slate it is wanted after all
    pool = state.question.proposal_wanted.pool
    assert (pool.kept, pool.barred) == ((first,), ())
