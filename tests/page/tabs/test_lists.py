"""My slate and lists beside it: names brought join it, another list stands in the link, and both are told apart."""

from __future__ import annotations

import json

import pytest

from dashboard.page.parts.buttons import Button
from dashboard.page.parts.elements import Prose, RowTable
from dashboard.page.parts.name_lists import NameLists
from dashboard.page.tabs.lists import PAGE, bring, compare, compared_view
from dashboard.page.tabs.my_slate import my_slate, told
from dashboard.visit.state import State
from dashboard.wording.lists import OFFERED
from tests.pressing import press


@pytest.fixture
def state(demo) -> State:
    return State(demo, "?v=1&tab=shortlist&market=roadside_stand&opens=06-10&closes=08-31")


def paste(view, text: str) -> dict:
    (element,) = view.select(NameLists)
    press(element, {"act": "paste", "text": text, "size": len(text)})
    return json.loads(element.told)


def test_names_brought_join_the_slate_after_those_that_stand_there(state, demo):
    a, b, c = demo.cultivars.index[:3]
    state.choose(shortlist=(b,))
    view = bring(state)
    assert paste(view, f"{a.upper()}\n{b}\n{c}")["said"] == [
        "3 names found: 2 put on my slate, 1 stood there already."
    ]
    assert state.shortlist == (b, a, c)
    assert state.undo()
    assert state.shortlist == (b,)


def test_another_list_stands_in_the_link_and_is_taken_off(state, demo):
    a, b, c = demo.cultivars.index[:3]
    state.choose(shortlist=(a, b))
    view = compare(state)
    words, table = view.select(Prose)[0], view.select(RowTable)[0]
    assert not words.visible
    paste(view, f"{b}\n{c}")
    assert state.question.other == (b, c)
    assert State(demo, state.link).other == (b, c)
    assert "1 on both, 1 only on my slate, 1 only on the other list." in words.object
    rows = json.loads(table.told)["rows"]
    assert [row["name"] for row in rows] == [b, a, c]
    assert [row["cells"][3] for row in rows] == ["both", "only my slate", "only the other"]
    press(table, {"keep": c})
    assert state.shortlist == (a, b, c)
    assert "2 on both, 1 only on my slate, 0 only on the other list." in words.object
    paste(view, a)
    assert state.other == (a,), "a new list takes the place of the one before"
    state.choose(other=())
    assert not words.visible
    assert not table.visible


def test_what_no_nursery_offers_is_one_press_and_told_by_page(state):
    view = compare(state)
    (element,) = view.select(NameLists)
    offered, unoffered = json.loads(element.told)["ready"]
    assert offered.startswith(OFFERED[True])
    assert unoffered.startswith(OFFERED[False])
    press(element, {"act": "ready", "at": 1})
    assert f"({len(state.other)})" in unoffered
    last = compared_view(state.question, 99)
    assert (last["page"], last["total"]) == (last["pages"], len(state.other))
    assert len(last["rows"]) == len(state.other) - PAGE * (last["pages"] - 1)
    (table,) = view.select(RowTable)
    press(table, {"page": 2})
    assert json.loads(table.told)["page"] == 2


def test_a_slate_that_was_emptied_can_be_put_back(state, demo):
    view = my_slate(state)
    empty, back = (
        next(one for one in view.select(Button) if one.label.startswith(word)) for word in ("Empty", "Put")
    )
    names = tuple(demo.cultivars.index[:3])
    state.choose(shortlist=names)
    assert (empty.visible, back.visible) == (True, False)
    press(empty)
    assert state.shortlist == ()
    assert (empty.visible, back.visible, back.label) == (False, True, "Put the 3 back")
    press(back)
    assert state.shortlist == names
    assert not back.visible


def test_the_tab_says_who_could_be_dropped(state):
    assert "Could be dropped" not in told(state)
    state.choose(shortlist=state.question.wanted.candidates[:30])
    assert (
        "Could be dropped without a new gap, of the 30 on my slate (Jun 10 to Aug 31, fruit in 8 ordinary years in 10)"
        in told(state)
    )
    assert "At once: " in told(state)
