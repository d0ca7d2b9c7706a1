"""Steps back and on: any walk leads where it should."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from dashboard.visit.history import MOST, Steps
from dashboard.visit.state import State


@given(st.lists(st.sampled_from(["go", "back", "on"]), max_size=60))
def test_back_and_on_walk_through_what_was_chosen(acts):
    steps, trail, place, made = Steps("0"), ["0"], 0, 0
    for act in acts:
        if act == "go":
            made += 1
            trail[place + 1 :] = [str(made)]
            place += 1
            steps.went(str(made))
        elif act == "back":
            expected = None if place == 0 else trail[place - 1]
            place = max(0, place - 1)
            assert steps.back() == expected
        else:
            expected = None if place == len(trail) - 1 else trail[place + 1]
            place = min(len(trail) - 1, place + 1)
            assert steps.on() == expected
        assert steps.here == trail[place]
        assert (steps.behind, steps.ahead) == (place, len(trail) - 1 - place)


def test_the_same_again_is_no_step_and_the_oldest_are_forgotten():
    steps = Steps("a")
    steps.went("a")
    assert steps.behind == 0
    for number in range(MOST + 20):
        steps.went(str(number))
    assert steps.behind == MOST


def test_a_visitor_takes_choices_back_and_makes_them_again(catalogue):
    state = State(catalogue)
    assert not state.undo()
    state.choose(flesh_colour=("white",))
    state.choose(market="packer", tab="season")
    state.keep("Candover")
    whole = state.link
    assert state.undo()
    assert state.shortlist == ()
    assert (state.market, state.flesh_colour) == ("packer", ("white",))
    assert state.undo()
    assert state.undo()
    assert (state.market, state.flesh_colour) == ("", ())
    assert not state.undo()
    for _ in range(3):
        assert state.redo()
    assert state.link == whole
    assert not state.redo()
    state.undo()
    state.choose(seasons=2)
    assert not state.redo()  # another way was taken


def test_starting_afresh_is_a_step_that_can_be_taken_back(catalogue):
    state = State(catalogue, "?v=1&seasons=2&shortlist=Candover&units=si")
    before = state.link
    state.start_afresh()
    assert state.link == "?v=1"
    state.undo()
    assert state.link == before


def test_another_tab_is_no_step_and_is_not_left_by_a_step_back(catalogue):
    state = State(catalogue)
    state.choose(flesh_colour=("white",))
    state.undo()
    state.choose(tab="season")
    assert state.steps.behind == 0
    assert state.redo()  # looking elsewhere forgets nothing
    state.choose(tab="classes")
    state.choose(seasons=2)
    state.undo()
    assert (state.tab, state.seasons, state.flesh_colour) == ("classes", 1, ("white",))


def test_steps_stay_in_the_look_that_stands(catalogue):
    state = State(catalogue)
    state.choose(flesh_colour=("white",))
    state.choose(look="hall")
    state.choose(seasons=2)
    for act in (state.undo, state.undo, state.redo, state.start_afresh):
        act()
        assert state.look == "hall"
    assert state.link == "?v=1&look=hall"
    assert state.view == "?v=1"
