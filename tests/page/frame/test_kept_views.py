"""The browser's own storage keeps the prepared views; two pages of one browser lose nothing of each other."""

from __future__ import annotations

import pytest

from dashboard.page.frame.kept_views import KeptViews
from dashboard.visit import saved_views as prepared
from dashboard.visit.saved_views import View, merged
from dashboard.visit.state import State
from tests.pressing import press

A, B, C, D = (View(name, "?v=1") for name in "ABCD")
OVER = View("A", "?v=1&flesh_colour=white", "a note")


@pytest.mark.parametrize(
    ("mine", "base", "theirs", "both"),
    [
        ((), (), (A, B), (A, B)),  # a page that has just been opened
        ((C,), (), (A, B), (A, B, C)),  # something was kept before the storage was read
        ((A, B, C), (A, B), (A, B, D), (A, B, D, C)),  # each added one
        ((A, C), (A,), (), (C,)),  # the other took one off, this one added one
        ((OVER, B), (A, B), (A, B, C), (OVER, B, C)),  # written over here
        ((A, B), (A, B), (OVER, B), (OVER, B)),  # written over there
        ((OVER,), (A,), (), (OVER,)),  # taken off there, but changed here: not lost
        ((B,), (A, B), (A, B, C), (B, C)),  # taken off here
        ((B, A), (A, B), (A, B), (A, B)),
    ],
)
def test_two_lists_become_one(mine, base, theirs, both):
    assert merged(mine, base, theirs) == both


def test_there_are_never_more_than_there_may_be():
    many = tuple(View(str(at), "?v=1") for at in range(prepared.MOST))
    assert len(merged(many, (), (A, B))) == prepared.MOST


def test_what_the_browser_kept_comes_back_and_what_changes_is_told(catalogue):
    state = State(catalogue)
    kept = KeptViews(state)
    assert (kept.title, kept.text, kept.said) == (catalogue.records_title, "", 0)
    press(kept, {"theirs": prepared.written((OVER, B)), "base": ""})
    assert (state.prepared, kept.said) == ((OVER, B), 1)
    state.prepared_at = 1
    press(kept, {"theirs": prepared.written((C, OVER, B)), "base": kept.text})
    assert (state.prepared, state.prepared_at) == ((C, OVER, B), 2)
    state.prepare("new")
    assert prepared.read(kept.text.encode())[0] == state.prepared
    press(kept, {"theirs": "", "base": kept.text})
    assert state.prepared == ()


@pytest.mark.parametrize("theirs", ["[[view", "\x00", "[[view]]\nname = 3\n", "x" * 200_000, '{"a": 1}'])
def test_what_cannot_be_read_is_told_and_nothing_is_lost(catalogue, theirs):
    state = State(catalogue)
    kept = KeptViews(state)
    state.prepared = (A,)
    press(kept, {"theirs": theirs, "base": theirs})
    assert state.prepared == (A,)
    assert len(state.notices) == 1
    press(kept, {"theirs": 7, "base": None})
    assert state.prepared == (A,)
    assert kept.said == 2
