"""What a ticked nursery offers goes on the slate with one press beside the filters."""

from __future__ import annotations

import panel as pn

from dashboard.answers.planting import nurseries
from dashboard.page.frame.filters import filters
from dashboard.page.parts.buttons import Button
from dashboard.page.parts.name_lists import TOO_MANY
from dashboard.visit.state import State


def offering(state: State) -> Button:
    return pn.Column(*filters(state)).select(Button)[0]


def test_the_offers_that_pass_join_the_slate_and_the_press_goes(demo):
    offered = nurseries(demo)
    house = next(who[0] for who in offered if who)
    state = State(demo, "?v=1&shortlist=Aldrum")
    button = offering(state)
    assert not button.visible
    state.choose(nursery=(house,), flesh_colour=("white",))
    white = demo.cultivars["flesh_colour"] == "white"
    theirs = [str(name) for name, who in offered.items() if house in who and white[name]]
    assert button.visible
    assert button.label == f"Put these offers on my slate ({len(set(theirs) - {'Aldrum'})})"
    button.heard(None)
    assert state.shortlist[0] == "Aldrum"
    assert set(state.shortlist) == {"Aldrum", *theirs}
    assert not button.visible
    assert state.undo()
    assert state.shortlist == ("Aldrum",)


def test_offers_that_the_address_cannot_carry_are_refused_with_a_word(demo, monkeypatch):
    state = State(demo, "?v=1&nursery=any")
    button = offering(state)
    monkeypatch.setattr(State, "fits", lambda _state, **_choices: False)
    button.heard(None)
    assert state.shortlist == ()
    assert state.notices == (TOO_MANY.format("my slate"),)
