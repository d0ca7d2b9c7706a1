"""The small buttons over the tabs: what can be pressed, what a press does, and the running order that a reload keeps."""

from __future__ import annotations

import pytest

from dashboard.page.frame.steering import steering
from dashboard.visit import saved_views as prepared
from dashboard.visit.saved_views import View
from tests.pressing import press


def pressable(line) -> tuple[bool, bool, bool]:
    return line.behind, line.ahead, line.changed


def test_what_cannot_be_taken_back_cannot_be_pressed(state):
    line = steering(state)
    assert pressable(line) == (False, False, False)
    state.choose(flesh_colour=("white",))
    assert pressable(line) == (True, False, True)
    press(line, {"act": "undo"})
    assert state.flesh_colour == ()
    assert pressable(line) == (False, True, False)
    press(line, {"act": "redo"})
    assert state.flesh_colour == ("white",)
    assert pressable(line) == (True, False, True)
    press(line, {"act": "afresh"})
    assert state.view == "?v=1"
    assert pressable(line) == (True, False, False)


def test_the_hall_is_a_press_away(state):
    press(steering(state), {"act": "hall"})
    assert state.look == "hall"


@pytest.mark.parametrize("message", [{}, {"act": "no such"}, {"act": "link"}, {"kept": "no toml ["}])
def test_a_message_that_means_nothing_does_nothing(state, message):
    before = state.link
    press(steering(state), message)
    assert (state.link, state.prepared) == (before, ())


def test_a_view_is_kept_under_its_own_tab_and_stepped_to_from_any(state):
    line = steering(state)
    state.choose(flesh_colour=("white",), tab="season")
    press(line, {"name": "White  ones"})
    assert state.prepared == (View("White ones", "?v=1&flesh_colour=white&tab=season"),)
    state.choose(flesh_colour=(), tab="shortlist")
    press(line, {"name": "all"})
    assert (line.views, line.at) == (2, -1)
    press(line, {"act": "next"})
    assert (state.flesh_colour, state.tab, line.at) == (("white",), "season", 0)
    press(line, {"act": "next"})
    press(line, {"act": "before"})
    assert line.at == 0


def test_a_view_without_a_name_is_told_and_not_kept(state):
    press(steering(state), {"name": " "})
    assert state.prepared == ()
    assert len(state.notices) == 1


def test_the_running_order_goes_to_the_browser_and_comes_back_after_a_reload(state):
    views = (View("white <b>ones</b>", "?v=1&flesh_colour=white"), View("all", "?v=1"))
    line = steering(state)
    assert line.kept == ""
    state.prepared = views
    assert prepared.read(line.kept.encode())[0] == views
    state.prepared = ()
    press(line, {"kept": prepared.written(views)})
    assert state.prepared == views
    press(line, {"kept": prepared.written(views[:1])})  # what stands is not overwritten
    assert state.prepared == views
