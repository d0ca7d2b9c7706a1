"""The small buttons over the tabs: what can be pressed, what a press does, and the running order that a reload keeps."""

from __future__ import annotations

import pytest

from dashboard import prepared
from dashboard.prepared import View
from dashboard.views.steering import steering


def pressable(line) -> tuple[bool, bool, bool]:
    return line.behind, line.ahead, line.changed


def test_what_cannot_be_taken_back_cannot_be_pressed(state):
    line = steering(state)
    assert pressable(line) == (False, False, False)
    state.choose(flesh_colour=("white",))
    assert pressable(line) == (True, False, True)
    line._handle_msg({"act": "undo"})
    assert state.flesh_colour == ()
    assert pressable(line) == (False, True, False)
    line._handle_msg({"act": "redo"})
    assert state.flesh_colour == ("white",)
    assert pressable(line) == (True, False, True)
    line._handle_msg({"act": "afresh"})
    assert state.view == "?v=1"
    assert pressable(line) == (True, False, False)


def test_the_hall_is_a_press_away(state):
    steering(state)._handle_msg({"act": "hall"})
    assert state.look == "hall"


@pytest.mark.parametrize("message", [{}, {"act": "no such"}, {"act": "link"}, {"kept": "no toml ["}])
def test_a_message_that_means_nothing_does_nothing(state, message):
    before = state.link
    steering(state)._handle_msg(message)
    assert (state.link, state.prepared) == (before, ())


def test_the_running_order_goes_to_the_browser_and_comes_back_after_a_reload(state):
    views = (View("white <b>ones</b>", "?v=1&flesh_colour=white"), View("all", "?v=1"))
    line = steering(state)
    assert line.kept == ""
    state.prepared = views
    assert prepared.read(line.kept.encode())[0] == views
    state.prepared = ()
    line._handle_msg({"kept": prepared.written(views)})
    assert state.prepared == views
    line._handle_msg({"kept": prepared.written(views[:1])})  # what stands is not overwritten
    assert state.prepared == views
