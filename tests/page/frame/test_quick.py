"""The line under the strip in a narrow window: who buys, how many filters are set, and what fills the slate."""

from __future__ import annotations

from dashboard.page.frame.quick import quick
from dashboard.wording.strip import BUILD, FILL
from tests.pressing import press, told


def test_it_names_the_buyer_and_counts_the_filters_that_are_set(state):
    line = quick(state)
    assert told(line) == {"buyer": "Who do you sell to? ▾", "filters": "Filters", "fill": BUILD, "first": "fruit_type", "open": True}  # fmt: skip
    state.choose(market="packer", flesh_colour=("white", "yellow"), seasons=2)
    assert told(line)["buyer"].startswith(state.question.profile.name)
    assert told(line)["filters"] == "Filters · 2"


def test_what_fills_the_slate_is_asked_for_by_a_press(state):
    line = quick(state)
    state.keep("Candover")
    assert told(line)["fill"] == FILL
    press(line, {"fill": True})
    assert state.filling == "proposed"
    state.choose(filling="")
    press(line, {"fill": "yes"})
    assert not state.filling
