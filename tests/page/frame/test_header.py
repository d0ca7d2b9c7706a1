"""The top line: whose records, undo and redo, the prepared view, units, and which sheet is open."""

from __future__ import annotations

import pytest

from dashboard.page.frame.header import INVENTED, header
from tests.pressing import press


def test_it_says_whose_records_these_are_and_that_they_are_made_up(state):
    line, known = header(state), state.question.catalogue
    assert known.records_title in line.whose
    assert line.invented == (INVENTED if known.invented else "")


def test_undo_and_redo_can_be_pressed_where_there_is_something_to_take_back(state):
    line = header(state)
    assert (line.behind, line.ahead) == (False, False)
    state.choose(flesh_colour=("white",))
    assert (line.behind, line.ahead) == (True, False)
    press(line, {"act": "undo"})
    assert state.flesh_colour == ()
    assert (line.behind, line.ahead) == (False, True)
    press(line, {"act": "redo"})
    assert state.flesh_colour == ("white",)


def test_prepared_views_are_walked_and_a_changed_one_is_marked(state):
    line = header(state)
    state.prepare("as it is")
    state.choose(flesh_colour=("white",))
    state.prepare("white")
    assert line.views == 2
    press(line, {"act": "before"})
    assert (line.at, line.strayed) == (0, False)
    press(line, {"act": "next"})
    assert (line.at, state.flesh_colour) == (1, ("white",))
    state.choose(units="si")
    assert line.strayed


def test_units_are_chosen_there(state):
    line = header(state)
    assert line.units == "us"
    press(line, {"units": "si"})
    assert (state.units, line.units) == ("si", "si")
    press(line, {"units": "furlongs"})
    assert state.units == "si"


def test_one_sheet_is_open_at_a_time(state):
    line = header(state)
    press(line, {"sheet": "share", "at": "http://here:5006/"})
    assert (line.sheet, state.opened_at) == ("share", "http://here:5006/")
    press(line, {"sheet": "present"})
    assert line.sheet == "present"
    press(line, {"sheet": ""})
    assert line.sheet == ""


@pytest.mark.parametrize("message", [{}, {"act": "quit"}, {"sheet": "other"}, {"sheet": None}, {"act": None}])
def test_a_message_that_means_nothing_does_nothing(state, message):
    line, before = header(state), state.view
    press(line, message)
    assert (state.view, state.sheet) == (before, "")
